using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>Whether a row is also, or only, sold in pieces cut to size.</summary>
internal enum CutWord
{
    No,
    Yes,
    Only,
}

/// <summary>The purchase terms of a catalogue row, in the list's own currency.</summary>
/// <param name="Breaks">In rising order; price per the row's basis.</param>
/// <param name="PerPiece">Charge per piece cut to size; null: the supplier's.</param>
internal sealed record TermCells(
    BreakRule Rule, ImmutableArray<(int From, decimal Price)> Breaks, decimal LineMinimum, CutWord Cut, decimal? PerPiece, decimal PerCut)
{
    private const decimal Dearest = 10_000_000m;

    public static IReadOnlyList<Column> Columns { get; } =
    [
        new("breaks", false, "price breaks"),
        new("break rule", false, "breaks count"),
        new("line minimum", false, "minimum line") { Kind = ColumnKind.Number },
        new("cut to size", false, "cut pieces"),
        new("charge per cut piece", false, "cut piece charge") { Kind = ColumnKind.Number },
        new("charge per cut", false, "cut charge") { Kind = ColumnKind.Number },
    ];

    /// <param name="steps">Columns of prices that hold from a number of pieces on.</param>
    /// <param name="factor">What such a price is per one of the row's basis.</param>
    public static TermCells Read(CsvRow row, IEnumerable<(int From, string Column)> steps, decimal? price, decimal factor, string? currency)
    {
        var rule = row.Word<BreakRule>("break rule", word => Words.Fold(word) switch
        {
            "allunits" or "all" => BreakRule.AllUnits,
            "incremental" or "step" => BreakRule.Incremental,
            _ => null,
        }, "all units or incremental") ?? BreakRule.AllUnits;
        var breaks = new List<(int From, decimal Price, string Column)>();
        foreach (var (from, column) in steps)
        {
            if (AmountCell.Read(row, column, Dearest, currency).Value is { } lower)
            {
                breaks.Add((from, lower * factor, column));
            }
        }

        if (row.Has("breaks"))
        {
            ReadText(row, breaks, factor);
        }

        breaks.Sort((a, b) => a.From.CompareTo(b.From));
        var above = price;
        foreach (var ((from, lower, column), at) in breaks.Select((step, at) => (step, at)))
        {
            if (at > 0 && breaks[at - 1].From == from)
            {
                row.Error(column, "break-twice", $"there are two prices from {from} pieces", "leave one of them out");
            }
            else if (lower > above)
            {
                row.Error(
                    column, "break-rises", $"the price from {from} pieces is above the one for fewer",
                    "give a price that does not rise with the quantity");
            }

            above = lower;
        }

        var cut = row.Word<CutWord>("cut to size", word => Words.Fold(word) switch
        {
            "no" or "n" or "false" or "0" => CutWord.No,
            "yes" or "y" or "true" or "1" or "x" => CutWord.Yes,
            "only" => CutWord.Only,
            _ => null,
        }, "yes, no, or only (when whole pieces are not sold)") ?? CutWord.No;
        var perPiece = row.Number("charge per cut piece", 0m, Dearest);
        var perCut = row.Number("charge per cut", 0m, Dearest);
        if (cut == CutWord.No && (perPiece ?? perCut) is not null)
        {
            row.Error(
                perPiece is null ? "charge per cut" : "charge per cut piece", "cut-charge-unused", "there is a charge for cutting, but the row is not cut to size",
                "write yes or only in the column 'cut to size', or leave the charge empty");
        }

        return new(rule, [.. breaks.Select(step => (step.From, step.Price))], row.Number("line minimum", 0m, Dearest) ?? 0m, cut, perPiece, perCut ?? 0m);
    }

    /// <summary>As in <c>5: 38.50; 10: 35</c>.</summary>
    private static void ReadText(CsvRow row, List<(int From, decimal Price, string Column)> breaks, decimal factor)
    {
        foreach (var entry in row.Text("breaks").Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            var halves = entry.Split(':', StringSplitOptions.TrimEntries);
            if (halves.Length != 2
                || !int.TryParse(halves[0], NumberStyles.None, CultureInfo.InvariantCulture, out var from) || from is < 2 or > 1_000_000
                || NumberText.Read(halves[1], row.MarkOf("price") ?? '.').Value is not { } price || price is < 0m or > Dearest)
            {
                row.Error("breaks", "break-unreadable", $"'{entry}' is not a price break", "write pieces: price, as 5: 38.50; 10: 35");
                continue;
            }

            breaks.Add((from, price * factor, "breaks"));
        }
    }
}
