using System.Globalization;
using System.Text;
using Nest.Core.Costing;
using Nest.Core.Jobs;

namespace Nest.Cli.Commands;

/// <summary>One layout that was timed, or one kerf that was measured.</summary>
/// <param name="Rates">The saw's rates by which the planned minutes were reckoned: rows with others tell nothing of the present ones.</param>
/// <param name="Layout">Number of the layout; 0: a kerf.</param>
/// <param name="Took">Minutes by the clock; of a kerf millimetres.</param>
/// <param name="Planned">The same as planned.</param>
internal sealed record TookRow(DateOnly Day, string Plan, string Job, string Saw, string Rates, int Layout, decimal Took, decimal Planned);

/// <summary>What was measured at the saw, job after job, in one text file that a person can read and correct.</summary>
/// <remarks>A row for each layout or kerf; the same plan and layout entered again takes the place of what was there. Written beside itself and put in place whole.</remarks>
internal static class TookBook
{
    public const string Usual = "took.csv";

    private const string Head = "day,plan,job,saw,rates,layout,took,planned";

    /// <summary>Rows of the file; none where it is not there. Null after a row that is none, which is said.</summary>
    public static List<TookRow>? Read(World world, string path)
    {
        var rows = new List<TookRow>();
        if (!File.Exists(path))
        {
            return rows;
        }

        string[] lines;
        try
        {
            lines = File.ReadAllLines(path);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            world.Error.WriteLine($"error: {path}: {fault.Message} — name another file with --book");
            return null;
        }

        for (var at = 0; at < lines.Length; at++)
        {
            if (lines[at].Length == 0 || lines[at][0] == '#' || lines[at] == Head)
            {
                continue;
            }

            if (Row(lines[at]) is not { } row)
            {
                world.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"error: {path}:{at + 1}: this is no row of measured times ({Head}) — correct or delete it, or name another file with --book"));
                return null;
            }

            rows.Add(row);
        }

        return rows;
    }

    private static TookRow? Row(string line) =>
        line.Split(',') is [var day, var plan, var job, var saw, var rates, var layout, var took, var planned]
        && DateOnly.TryParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date)
        && int.TryParse(layout, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
        && Number(took) is { } clock && Number(planned) is { } reckoned
            ? new(date, plan, job, saw, rates, number, clock, reckoned) : null;

    private static decimal? Number(string text) =>
        decimal.TryParse(text, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value) && value is > 0m and < 1_000_000m ? value : null;

    /// <summary>Adds what was measured now.</summary>
    /// <returns>All rows; null where the file could not be read or written, which is said.</returns>
    public static List<TookRow>? Add(World world, string path, IReadOnlyList<TookRow> now)
    {
        if (Read(world, path) is not { } rows)
        {
            return null;
        }

        rows = [.. rows.Where(row => !now.Any(one => (one.Plan, one.Layout, one.Saw) == (row.Plan, row.Layout, row.Saw))), .. now];
        var text = new StringBuilder("# What was measured at the saw, written by 'nest took': minutes of layouts, or with layout 0 a kerf in mm.\n").Append(Head).Append('\n');
        foreach (var row in rows)
        {
            text.Append(CultureInfo.InvariantCulture, $"{row.Day:yyyy-MM-dd},{row.Plan},{row.Job},{row.Saw},{row.Rates},{row.Layout},{row.Took:0.######},{row.Planned:0.######}\n");
        }

        try
        {
            File.WriteAllText(path + ".new", text.ToString());
            File.Move(path + ".new", path, overwrite: true);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            world.Error.WriteLine($"error: {path}: {fault.Message} — nothing was kept; make room, or name another file with --book");
            return null;
        }

        return rows;
    }

    /// <summary>A name without what parts the cells.</summary>
    public static string Cell(string text) => string.Concat(Core.Texts.SafeCell.Guard(text).Select(c => c is ',' or '\n' or '\r' or '"' ? ' ' : c));

    /// <summary>The saw's times in a few letters: equal where they are the same.</summary>
    public static string RatesOf(Saw saw) => string.Create(
        CultureInfo.InvariantCulture,
        $"h{saw.HandlingMinutes:0.####} s{saw.SettingMinutes:0.####} l{saw.LoadMinutes:0.####} c{saw.DefaultCutRate:0.####}{string.Concat(saw.CutRates.Select(rate => string.Create(CultureInfo.InvariantCulture, $" {Cell(rate.Family)}{rate.SquareCentimetresPerMinute:0.####}")))}");

    /// <summary>Over all jobs with a saw's present rates: how many, and what they took against the plans.</summary>
    public static (int Jobs, Measured All)? Over(IEnumerable<TookRow> rows, Saw saw)
    {
        var own = rows.Where(row => row.Layout > 0 && row.Saw == Cell(saw.Id) && row.Rates == RatesOf(saw)).ToList();
        return own.Count == 0 ? null : (own.Select(row => row.Plan).Distinct(StringComparer.Ordinal).Count(), new(saw, own.Count, own.Sum(row => row.Planned), own.Sum(row => row.Took)));
    }

    /// <summary>Kerfs that were measured of a saw, in millimetres.</summary>
    public static List<decimal> Kerfs(IEnumerable<TookRow> rows, Saw saw) => [.. rows.Where(row => row.Layout == 0 && row.Saw == Cell(saw.Id)).Select(row => row.Took)];
}
