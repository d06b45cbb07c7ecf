using System.CommandLine;
using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Cli.Commands;

/// <summary><c>nest took</c>: minutes by the clock and a measured kerf against the plan; proposals, nothing is changed.</summary>
internal static class TookCommand
{
    private const decimal MostMinutes = 10_000m;

    public static Command Create(World world)
    {
        var input = new Argument<string>("plan") { Description = PlanPlace.Described };
        var minutes = new Argument<string[]>("minutes") { Description = "Minutes of each layout that was timed, all its stock pieces together: 1=14 2=22.5.", Arity = ArgumentArity.ZeroOrMore };
        var kerf = new Option<string[]>("--kerf") { Description = "Measured kerf of a saw: \"bar saw=1.3\".", HelpName = "SAW=LENGTH", DefaultValueFactory = _ => [] };
        var command = new Command("took", "What the layouts took at the saw against what was planned: proposes rates and kerf, changes nothing.") { input, minutes, kerf };
        command.SetAction(parsed =>
        {
            var (loaded, refused) = PlanLoader.Load(world, parsed.GetRequiredValue(input));
            if (loaded is not { } plan)
            {
                return refused;
            }

            if (Minutes(world, plan, parsed.GetValue(minutes) ?? []) is not { } timed || Kerfs(world, plan, parsed.GetValue(kerf) ?? []) is not { } kerfs)
            {
                return ExitCode.InputRefused;
            }

            if (timed.Count + kerfs.Count == 0)
            {
                world.Error.WriteLine("error: nothing was measured — name minutes of layouts, as 1=14, or --kerf \"bar saw=1.3\"");
                return ExitCode.InputRefused;
            }

            Show(world.Out, plan, timed, kerfs);
            return ExitCode.Done;
        });
        return command;
    }

    private static Dictionary<int, decimal>? Minutes(World world, Plan plan, string[] texts)
    {
        var timed = new Dictionary<int, decimal>();
        foreach (var text in texts)
        {
            if (text.Split('=') is not [var layout, var minutes]
                || !int.TryParse(layout, NumberStyles.None, CultureInfo.InvariantCulture, out var number) || !plan.Layouts.Any(one => one.Number == number && one.SawId != Saw.SupplierId)
                || NumberText.Read(minutes).Value is not (> 0m and <= MostMinutes and var value))
            {
                world.Error.WriteLine($"error: '{text}' is no layout of this plan with its minutes — write the layout's number and its minutes, as 1=14");
                return null;
            }

            if (!timed.TryAdd(number, value))
            {
                world.Error.WriteLine($"error: layout {number} is there twice — give all its minutes in one");
                return null;
            }
        }

        return timed;
    }

    private static List<(Saw Saw, Length Kerf)>? Kerfs(World world, Plan plan, string[] texts)
    {
        var kerfs = new List<(Saw, Length)>();
        foreach (var text in texts)
        {
            var at = text.LastIndexOf('=');
            var saw = at < 0 ? null : plan.Job.Saws.FirstOrDefault(one => string.Equals(one.Id, text[..at].Trim(), StringComparison.OrdinalIgnoreCase));
            if (saw is null || LengthText.Read(text[(at + 1)..], plan.Job.Unit, '.').Value is not { } kerf || kerf <= Length.Zero)
            {
                world.Error.WriteLine($"error: --kerf '{text}' is no kerf of a saw of this plan — write \"{plan.Job.Saws[0].Id}=1.3\"; its saws are {string.Join(", ", plan.Job.Saws.Select(one => one.Id))}");
                return null;
            }

            kerfs.Add((saw, kerf));
        }

        return kerfs;
    }

    private static void Show(TextWriter writer, Plan plan, Dictionary<int, decimal> timed, List<(Saw Saw, Length Kerf)> kerfs)
    {
        foreach (var one in Measured.Of(plan, timed))
        {
            var cost = (one.Took - one.Planned) * one.Saw.HourlyRate / 60m;
            writer.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{one.Saw.Id}: {one.Layouts} layout{(one.Layouts == 1 ? "" : "s")} took {one.Took:0.#} min, {one.Planned:0.#} were planned: {one.Factor * 100m:0} % ({(cost < 0m ? "−" : "+")}{Math.Abs(cost):0.00} {plan.Job.Currency})."));
            var (was, next) = (one.Saw, one.Proposed);
            writer.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"  Would have been right, all times alike: handling_minutes = {next.HandlingMinutes:0.##} (was {was.HandlingMinutes:0.##}), "
                + $"setting_minutes = {next.SettingMinutes:0.##} ({was.SettingMinutes:0.##}), load_minutes = {next.LoadMinutes:0.##} ({was.LoadMinutes:0.##}), "
                + $"default_cut_rate = {next.DefaultCutRate:0.#} ({was.DefaultCutRate:0.#}){string.Concat(next.CutRates.Zip(was.CutRates, (to, from) => string.Create(CultureInfo.InvariantCulture, $", {to.Family} = {to.SquareCentimetresPerMinute:0.#} ({from.SquareCentimetresPerMinute:0.#})")))}."));
        }

        var format = LengthFormat.For(plan.Job.Unit, 0);
        foreach (var (saw, kerf) in kerfs)
        {
            writer.WriteLine($"{saw.Id}: kerf {format.Text(kerf)} measured, {format.Text(saw.Kerf)} planned{(kerf == saw.Kerf ? ": as planned." : $": set kerf = \"{format.Text(kerf)}\" and plan again what is not cut yet.")}");
            foreach (var (layout, missing) in Measured.TooShort(plan, saw, kerf))
            {
                writer.WriteLine($"  layout {layout} does not fit with this kerf: {format.Text(missing)} are missing at the end of the bar.");
            }
        }

        writer.WriteLine("These are proposals; nothing was changed. A time counts from fetching the stock to the last cut; one layout alone tells little.");
    }
}
