using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;

namespace Nest.Data.Stocks;

/// <summary>Whose price list a table is, and how its amounts become the job's.</summary>
/// <param name="Supplier">Terms of the supplier; null: a catalogue, whose rows name theirs.</param>
/// <param name="Rate">What one unit of the list's currency is in the job's.</param>
internal readonly record struct PriceSource(Supplier? Supplier, decimal Rate)
{
    public static PriceSource Catalogue { get; } = new(null, 1m);
}

/// <summary>Reads a stock catalogue or a supplier's price list: one row for each size that can be bought.</summary>
internal static class CatalogueReader
{
    // Money times area must fit 128 bits in the sharing of a stock's worth; no piece of stock costs this much.
    private const decimal DearestPiece = 10_000_000m;

    private static readonly Column[] Columns =
    [
        new("id", true, "stock"),
        .. StockColumns.Kind,
        new("min thickness", false),
        new("thickness minus", false),
        new("min width", false),
        new("width minus", false),
        new("min length", false),
        new("length minus", false),
        new("price", true, "unit price"),
        new("per", false, "price per", "price basis"),
        new("available", false, "in stock", "pieces"),
        new("supplier", false, "seller"),
        StockColumns.GoodFaces,
        new("source", false, "standard"),
        .. TermCells.Columns,
    ];

    public static void Read(string text, string file, Reads reads, MaterialBook book, StockList stocks, FindingList findings) =>
        Read(new(text, null), file, reads, book, stocks, PriceSource.Catalogue, findings);

    public static void Read(
        TableText text, string file, Reads reads, MaterialBook book, StockList stocks, PriceSource source, FindingList findings)
    {
        var steps = TermCells.Steps(text.Head());
        if (text.Table(file, [.. Columns, .. steps.Select(step => step.Column)], findings) is not { } table)
        {
            return;
        }

        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, reads, findings);
            var id = row.Required("id");
            var form = row.Required("form").Length == 0 ? null : row.Word("form", Words.FormOf, "plate, flat bar, square bar or round bar");
            var material = MaterialsReader.Find(row, book);
            var price = row.Required("price").Length == 0 ? null : row.Number("price", 0m, DearestPiece);
            var basis = row.Has("per") ? row.Word("per", Words.BasisOf, "piece, m, m2, kg, ft, ft2 or lb") : PriceBasis.Piece;
            var available = row.Whole("available", 0, 1_000_000);
            var goodFaces = row.YesNo("good faces") ?? false;
            var sizes = form is { } known ? SizeCells.Read(row, known) : null;
            if (form is { } bar && bar.IsBar() && basis is PriceBasis.SquareMetre or PriceBasis.SquareFoot)
            {
                row.Error("per", "price-basis-of-form", "a bar has no price per area", "write piece, m, kg, ft or lb");
            }

            var terms = TermCells.Read(row, steps, price);
            if (source.Supplier is { } seller && row.Has("supplier") && !string.Equals(row.Text("supplier"), seller.Name, StringComparison.OrdinalIgnoreCase))
            {
                row.Error("supplier", "supplier-other", $"this is the price list of '{seller.Name}'", "leave the cell empty");
            }

            if (row.Failed || sizes is not { } size || form is not { } is1 || material is null || price is not { } amount || basis is not { } per)
            {
                continue;
            }

            var stock = new Stock
            {
                Id = id,
                Form = is1,
                MaterialId = material.Id,
                Length = size.Length,
                Width = size.Width,
                Thickness = size.Thickness,
                MinLength = Smallest(row, "length", size.Length),
                MinWidth = is1 is Form.RoundBar or Form.SquareBar ? SmallestSection(row, is1, size.Width) : Smallest(row, "width", size.Width),
                MinThickness = is1 is Form.RoundBar or Form.SquareBar ? SmallestSection(row, is1, size.Width) : Smallest(row, "thickness", size.Thickness),
                PiecePrice = Money.Zero,
                PriceBasis = per,
                UnitPrice = amount * source.Rate,
                Available = available,
                Supplier = source.Supplier?.Name ?? (row.Text("supplier") is { Length: > 0 } supplier ? supplier : null),
                GoodFaces = goodFaces,
                Source = row.Text("source"),
            };
            if (row.Failed)
            {
                continue;
            }

            if (amount * source.Rate * StockPrice.Amount(per, stock, material) > DearestPiece)
            {
                row.Error("price", "price-too-high", "one piece costs more than ten million", "check the price and what it is for");
                continue;
            }

            stock = stock with
            {
                PiecePrice = StockPrice.PerPiece(per, stock.UnitPrice, stock, material),
                Terms = new()
                {
                    Rule = terms.Rule,
                    Breaks = terms.Cut == CutWord.Only
                        ? []
                        : [.. terms.Breaks.Select(step => new PriceBreak(step.From, StockPrice.PerPiece(per, step.Price * source.Rate, stock, material)))],
                    LineMinimum = Money.FromAmount(terms.LineMinimum * source.Rate),
                },
            };
            if (terms.Cut != CutWord.No)
            {
                stocks.Offer(new(
                    stock with { Terms = stock.Terms with { Breaks = [] } },
                    terms.PerPiece is { } own ? Money.FromAmount(own * source.Rate) : source.Supplier?.CutPieceCharge ?? Money.Zero,
                    Money.FromAmount(terms.PerCut * source.Rate),
                    terms.Cut == CutWord.Only ? [.. terms.Breaks.Select(step => (step.From, step.Price * source.Rate))] : []));
            }

            stocks.Add(stock, row, "id", offeredWhole: terms.Cut != CutWord.Only);
        }
    }

    // A round bar's diameter may be limited in either column.
    private static Length SmallestSection(CsvRow row, Form form, Length nominal) => Length.Min(
        Smallest(row, "width", nominal), Smallest(row, "thickness", nominal));

    /// <summary>From "min x" or nominal less "x minus".</summary>
    private static Length Smallest(CsvRow row, string size, Length nominal)
    {
        var (min, minus) = ($"min {size}", $"{size} minus");
        if (row.Has(min) && row.Has(minus))
        {
            row.Error(minus, "tolerance-twice", $"both '{min}' and '{minus}' are given", "leave one of them empty");
            return nominal;
        }

        var smallest = row.Has(min) ? row.Size(min) ?? nominal : nominal - (row.Distance(minus) ?? Length.Zero);
        if (smallest <= Length.Zero || smallest > nominal)
        {
            row.Error(
                row.Has(min) ? min : minus, "tolerance-out-of-range", $"the smallest {size} is not between zero and the nominal one",
                $"write a smallest {size} that is at most nominal");
        }

        return smallest;
    }
}
