using Nest.Core.Quantities;
using Nest.Output.Draw;
using Nest.Output.Files;

namespace Nest.Output.Batch;

/// <summary>A row of a batch curve.</summary>
/// <param name="PlannedFor">Sets that its plan cuts.</param>
/// <param name="Stock">What is bought, as text.</param>
/// <param name="FreeSets">Sets more that cost no more.</param>
/// <param name="PriceBreaks">Breaks that it reaches and the number before does not, as text.</param>
/// <param name="PerBlank">Blanks from which several parts are milled, as text.</param>
/// <param name="NotCut">What cannot be cut, and why, as text; empty: everything can. If there is any, nothing is said per set or about the gap.</param>
public sealed record BatchRow(int Sets, int PlannedFor, Money Cost, Money? LowerBound, decimal? GapPercent, bool Step, bool Best, string NotCut, string Stock, int FreeSets = 0, string PriceBreaks = "", string PerBlank = "")
{
    /// <summary>Whether all of it can be cut.</summary>
    public bool Complete => NotCut.Length == 0;
}

/// <summary>The files of a batch curve: a table and a chart.</summary>
public static class BatchFiles
{
    /// <summary>Writes <c>batch.csv</c> and <c>batch.png</c>, both or none; returns their names.</summary>
    public static IReadOnlyList<string> Write(string folder, string title, string currency, IReadOnlyList<BatchRow> rows)
    {
        Directory.CreateDirectory(folder);
        var table = new Sheet(
            "batch",
            ["sets", "planned_for", "cost_batch", "lower_bound", "gap_percent", "cost_per_set", "currency", "step", "best", "complete", "not_cut", "bought", "free_sets", "price_breaks", "per_blank"],
            [.. rows.Select(row => new object?[]
            {
                row.Sets, row.PlannedFor, row.Cost.Amount, row.Complete ? row.LowerBound?.Amount : null, row is { Complete: true, GapPercent: { } gap } ? decimal.Round(gap, 4) : null,
                row.Complete ? decimal.Round(row.Cost.Amount / row.Sets, 4) : null, currency, Word(row.Step), Word(row.Best), Word(row.Complete), row.NotCut, row.Stock, row.FreeSets, row.PriceBreaks, row.PerBlank,
            })]);
        return WholeFile.WriteAll(
            folder, [("batch.csv", CsvFile.Bytes(table)), ("batch.png", PngFile.Bytes(BatchChart.Draw(title, currency, rows)))]);
    }

    private static string Word(bool value) => value ? "yes" : "no";
}
