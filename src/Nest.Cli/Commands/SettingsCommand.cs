using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Tables;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary><c>nest settings</c>: what counts for a job, and where each setting comes from.</summary>
internal static class SettingsCommand
{
    private const string JobFile = "job file";
    private const string BuiltIn = "default shop";
    private const string Usual = "default";

    public static void Fill(Command command, World world)
    {
        var input = new Argument<string>("job") { Description = "The job file, or a parts list." };
        command.With(input);
        command.SetAction(parsed => Run(world, parsed.GetRequiredValue(input)));
    }

    private static int Run(World world, string input)
    {
        if (JobLoader.Load(world, input) is not { } read)
        {
            return ExitCode.InputRefused;
        }

        world.Out.WriteLine($"""
            What counts for {input}. A setting is taken from the first of these that has it:
              1. the command line    2. the environment (NEST_RACK)    3. the job file, and the files that it names
              4. shop.toml beside it or in the folder above, of which [columns] and [material_names] count here
              5. the default shop, built in (stock/shop-*.toml, saws-*.toml)    6. the program's default
            A section that stands in the job file replaces that of the default shop whole.

            """);
        var rows = Rows(read).ToList();
        var (name, value) = (rows.Max(row => row.Name.Length), rows.Max(row => row.From.Length));
        foreach (var row in rows)
        {
            world.Out.WriteLine($"{row.Name.PadRight(name)}  {row.From.PadRight(value)}  {row.Value}");
        }

        return ExitCode.Done;
    }

    private static IEnumerable<(string Name, string From, string Value)> Rows(JobInput input)
    {
        var job = input.Job;
        var format = LengthFormat.For(job.Unit, job.InchFraction);
        yield return Row("unit", job.Unit == LengthUnit.Inch ? "in" : "mm", Usual);
        yield return Row("currency", job.Currency, Usual);
        yield return Row("batch", Text(job.Batch), Usual);
        yield return Row("paper", input.Paper ?? (job.Unit == LengthUnit.Inch ? "letter" : "a4"), Usual, "--paper");
        yield return ("limits.seconds", $"{(input.Seconds is null ? Usual : JobFile)} (or --seconds)", Text((decimal)(input.Seconds ?? PlanOptions.DefaultSeconds)));
        yield return ("limits.seed", $"{(input.Seed is null ? Usual : JobFile)} (or --seed)", Text(input.Seed ?? 1));
        yield return ("rack", RackFrom(input), RackOf(input));
        foreach (var (rule, at) in job.AllowanceRules.Select((rule, at) => (rule, at)))
        {
            var condition = string.Join(", ", new[] { rule.MaterialId, rule.Family, rule.Holding is { } held ? WordOf(held) : null }.OfType<string>());
            yield return (at == 0 ? "allowances" : "", at == 0 ? From("allowances", BuiltIn) : "",
                $"{(condition.Length == 0 ? "all parts" : condition)}: {Allowances(rule.Allowances, format)}");
        }

        foreach (var (rule, at) in job.OffcutRules.Select((rule, at) => (rule, at)))
        {
            var condition = string.Join(", ", new[] { rule.Form is { } form ? WordOf(form) : null, rule.MaterialId }.OfType<string>());
            yield return (at == 0 ? "offcuts" : "", at == 0 ? From("offcuts", BuiltIn) : "",
                $"{(condition.Length == 0 ? "all stock" : condition)}: kept from {format.Text(rule.KeepLength)}"
                + $"{(rule.KeepWidth > Length.Zero ? $" × {format.Text(rule.KeepWidth)}" : "")}, worth {Text(rule.Fraction)} of the price, of leftovers {Text(rule.LeftoverFraction)}");
        }

        yield return Row(
            "mill", $"{Text(job.Mill.HourlyRate)} {job.Currency} an hour, {Text(job.Mill.DefaultRemovalRate)} cm³ a minute unless the family has its own", BuiltIn);
        var fuss = job.Fuss;
        yield return Row(
            "fuss", !fuss.IsCounted ? "not counted" : $"{Text(fuss.HourlyRate)} {job.Currency} an hour; minutes: {Text(fuss.OrderLineMinutes)} a line, "
            + $"{Text(fuss.SupplierMinutes)} a supplier, {Text(fuss.FurtherSizeMinutes)} a further size", BuiltIn);
        yield return Row("lift_limit", $"{Text(job.LiftLimit.Kilograms)} kg", BuiltIn);
        yield return Row("long_bar", format.Text(job.LongBar), BuiltIn);
        foreach (var (saw, at) in job.Saws.Select((saw, at) => (saw, at)))
        {
            yield return (at == 0 ? "saws" : "", at == 0 ? input.Said.Contains("saw") || input.Said.Contains("saws") ? JobFile : BuiltIn : "",
                $"{saw.Id}: {WordOf(saw.Kind)}, kerf {format.TextWithError(saw.Kerf)}, {Text(saw.HourlyRate)} {job.Currency} an hour, "
                + $"{Text(saw.SettingMinutes)} {(saw.SettingMinutes == 1m ? "minute" : "minutes")} a setting"
                + (saw.LoadMinutes == 0m ? "" : $", {Text(saw.LoadMinutes)} to load"));
        }

        foreach (var (rows, name) in ((IReadOnlyList<(string, string, string)>, string)[])[(Names(input, choices => choices.Columns, shop => shop.Columns), "columns"), (Names(input, choices => choices.Materials, shop => shop.Materials), "material_names")])
        {
            foreach (var ((head, meaning, from), at) in rows.Select((row, at) => (row, at)))
            {
                yield return (at == 0 ? name : "", from, $"{head} = {meaning}");
            }
        }

        yield return Row("most_suppliers", job.MostSuppliers is { } most ? Text(most) : "any number", Usual);
        yield return Row("wanted_in_days", job.WantedInDays is { } days ? Text(days) : "no date", Usual);

        (string, string, string) Row(string name, string value, string otherwise, string? option = null) =>
            (name, From(name, otherwise) + (option is null ? "" : $" (or {option})"), value);

        string From(string name, string otherwise) => input.Said.Contains(name) ? JobFile : otherwise;
    }

    /// <summary>What lists call a column or material: the job file's words, then the shop's that it leaves.</summary>
    private static List<(string Name, string Meaning, string From)> Names(
        JobInput input, Func<TableChoices, ImmutableDictionary<string, string>> ofJob, Func<ShopNames, ImmutableDictionary<string, string>> ofShop)
    {
        if (input.PartsLists is not [{ Choices: var choices }, ..])
        {
            return [];
        }

        var own = ofJob(choices);
        var below = choices.Shop is { } shop ? ofShop(shop).Where(pair => !own.ContainsKey(pair.Key)).Select(pair => (pair.Key, pair.Value, shop.File)) : [];
        return [.. own.Select(pair => (pair.Key, pair.Value, JobFile)).OrderBy(row => row.Key, StringComparer.Ordinal), .. below.OrderBy(row => row.Key, StringComparer.Ordinal)];
    }

    private static string RackFrom(JobInput input) => input.Said.Contains("rack") ? $"{JobFile} (or --rack)" : $"{Usual} (or --rack)";

    private static string RackOf(JobInput input) => input.Job.Stocks.Count(stock => stock.IsLeftover) switch
    {
        0 => "no leftovers",
        1 => "1 leftover",
        var count => $"{count} leftovers",
    };

    private static string Allowances(AllowanceOverrides given, LengthFormat format) => string.Join(", ", new (string Name, Length? Size)[]
    {
        ("side clean-up", given.SideCleanUp), ("end clean-up", given.EndCleanUp), ("face top", given.FaceTop), ("face bottom", given.FaceBottom), ("grip", given.Grip),
    }.Where(one => one.Size is not null).Select(one => $"{one.Name} {format.Text(one.Size!.Value)}"));

    /// <summary>FlatBar as "flat bar".</summary>
    private static string WordOf<T>(T value) where T : struct, Enum => string.Concat(
        value.ToString().Select((letter, at) => $"{(at > 0 && char.IsUpper(letter) ? " " : "")}{char.ToLowerInvariant(letter)}"));

    private static string Text(decimal number) => number.ToString("0.######", CultureInfo.InvariantCulture);
}
