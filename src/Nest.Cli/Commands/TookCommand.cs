using System.CommandLine;
using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Cli.Commands;

/// <summary><c>nest took</c>: minutes by the clock and a measured kerf against the plan; proposals, no rate is changed. What was entered is kept, so that several jobs can tell.</summary>
internal static class TookCommand
{
    private const decimal MostMinutes = 10_000m;

    public static void Fill(Command command, World world)
    {
        var input = new Argument<string>("plan") { Description = PlanPlace.Described };
        var minutes = new Argument<string[]>("minutes") { Description = "Minutes of each layout that was timed, all its stock pieces together: 1=14 2=22.5.", Arity = ArgumentArity.ZeroOrMore };
        var kerf = new Option<string[]>("--kerf") { Description = "Measured kerf of a saw: \"bar saw=1.3\".", HelpName = "SAW=LENGTH", DefaultValueFactory = _ => [] };
        var book = new Option<string?>("--book") { Description = $"File that keeps what was entered, job after job. Default: {TookBook.Usual} beside the plan's folder.", HelpName = "FILE" };
        var notKept = new Option<bool>("--not-kept") { Description = "Look at what was entered without keeping it." };
        command.With(input, minutes, kerf, book, notKept);
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

            var path = parsed.GetValue(book) ?? Beside(parsed.GetRequiredValue(input));
            var now = Rows(world, plan, timed, kerfs);
            var rows = parsed.GetValue(notKept) ? TookBook.Read(world, path) is { } before ? [.. before, .. now] : null : TookBook.Add(world, path, now);
            Show(world.Out, plan, timed, kerfs);
            if (rows is null)
            {
                return ExitCode.InputRefused;
            }

            ShowAll(world.Out, plan, rows);
            world.Out.WriteLine(parsed.GetValue(notKept) ? "Not kept." : $"Kept in {path}.");
            return ExitCode.Done;
        });
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

    /// <summary>The plan's folder lies in the folder of the job or of all plans: there the book is the same for all of them.</summary>
    private static string Beside(string plan)
    {
        var full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(plan));
        var folder = Directory.Exists(full) ? full : Path.GetDirectoryName(full) ?? full;
        folder = Path.GetFileName(folder) == "data" && !Directory.Exists(full) ? Path.GetDirectoryName(folder) ?? folder : folder;
        return Path.Combine(Path.GetDirectoryName(folder) ?? folder, TookBook.Usual);
    }

    private static List<TookRow> Rows(World world, Plan plan, Dictionary<int, decimal> timed, List<(Saw Saw, Length Kerf)> kerfs)
    {
        var day = DateOnly.FromDateTime(world.Time.GetLocalNow().DateTime);
        var (print, job) = (Fingerprint.Of(plan), TookBook.Cell(plan.Job.Name));
        return
        [
            .. timed.OrderBy(one => one.Key).SelectMany(one => Measured.Of(plan, new Dictionary<int, decimal> { [one.Key] = one.Value })
                .Select(measured => new TookRow(day, print, job, TookBook.Cell(measured.Saw.Id), TookBook.RatesOf(measured.Saw), one.Key, one.Value, measured.Planned))),
            .. kerfs.Select(one => new TookRow(day, print, job, TookBook.Cell(one.Saw.Id), TookBook.RatesOf(one.Saw), 0, one.Kerf.ToMillimetres(), one.Saw.Kerf.ToMillimetres())),
        ];
    }

    /// <summary>What all jobs that were kept say of the saws of this plan, as far as their rates are still the same.</summary>
    private static void ShowAll(TextWriter writer, Plan plan, List<TookRow> rows)
    {
        foreach (var saw in plan.Job.Saws)
        {
            if (TookBook.Over(rows, saw) is var (jobs, all) && jobs > 1)
            {
                writer.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{saw.Id}, {jobs} plans so far at these rates: {all.Layouts} layouts took {all.Took:0.#} min, {all.Planned:0.#} were planned: {all.Factor * 100m:0} %."));
                writer.WriteLine(Rates("  Over all of them would have been right", saw, all.Proposed));
            }

            if (TookBook.Kerfs(rows, saw) is { Count: > 1 } measured)
            {
                var format = LengthFormat.For(plan.Job.Unit, 0);
                writer.WriteLine($"{saw.Id}: kerf measured {measured.Count} times, {Text(measured.Min())} to {Text(measured.Max())}, {Text(measured.Average())} on average; {format.Text(saw.Kerf)} in this plan.");

                string Text(decimal millimetres) => format.Text(Length.FromMillimetres(decimal.Round(millimetres, 3)));
            }
        }
    }

    private static string Rates(string words, Saw was, Saw next) => string.Create(
        CultureInfo.InvariantCulture,
        $"{words}, all times alike: handling_minutes = {next.HandlingMinutes:0.##} (was {was.HandlingMinutes:0.##}), "
        + $"setting_minutes = {next.SettingMinutes:0.##} ({was.SettingMinutes:0.##}), load_minutes = {next.LoadMinutes:0.##} ({was.LoadMinutes:0.##}), "
        + $"default_cut_rate = {next.DefaultCutRate:0.#} ({was.DefaultCutRate:0.#}){string.Concat(next.CutRates.Zip(was.CutRates, (to, from) => string.Create(CultureInfo.InvariantCulture, $", {to.Family} = {to.SquareCentimetresPerMinute:0.#} ({from.SquareCentimetresPerMinute:0.#})")))}.");

    private static void Show(TextWriter writer, Plan plan, Dictionary<int, decimal> timed, List<(Saw Saw, Length Kerf)> kerfs)
    {
        foreach (var one in Measured.Of(plan, timed))
        {
            var cost = (one.Took - one.Planned) * one.Saw.HourlyRate / 60m;
            writer.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{one.Saw.Id}: {one.Layouts} layout{(one.Layouts == 1 ? "" : "s")} took {one.Took:0.#} min, {one.Planned:0.#} were planned: {one.Factor * 100m:0} % ({(cost < 0m ? "−" : "+")}{Math.Abs(cost):0.00} {plan.Job.Currency})."));
            writer.WriteLine(Rates("  Would have been right", one.Saw, one.Proposed));
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

        writer.WriteLine("These are proposals; no rate was changed. A time counts from fetching the stock to the last cut; one layout alone tells little.");
    }
}
