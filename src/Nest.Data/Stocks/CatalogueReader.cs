using System.Collections.Concurrent;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Tables;

namespace Nest.Data.Stocks;

/// <summary>Whose price list a table is, and how its amounts become the job's.</summary>
/// <param name="Supplier">Terms of the supplier; null: a catalogue, whose rows name theirs.</param>
/// <param name="Rate">What one unit of the list's currency is in the job's.</param>
/// <param name="Currency">Three letters of the list's currency.</param>
internal readonly record struct PriceSource(Supplier? Supplier, decimal Rate, string Currency)
{
    /// <summary>A catalogue in the job's currency.</summary>
    public static PriceSource Catalogue(string currency) => new(null, 1m, currency);
}

/// <summary>Reads a stock catalogue or a supplier's price list: one row for each size that can be bought.</summary>
internal static class CatalogueReader
{
    // Money times area must fit 128 bits in the sharing of a stock's worth; no piece of stock costs this much.
    private const decimal DearestPiece = 10_000_000m;

    private static readonly Column[] Columns =
    [
        new("id", false, "stock", "item", "item no", "item number", "item #", "article", "article no", "part number", "part no", "sku", "code", "product code", "artikel", "artikelnummer", "artikel-nr", "art-nr", "référence", "referencia", "código") { Ranked = true },
        .. StockColumns.Kind,
        new("min thickness", false) { Kind = ColumnKind.Length },
        new("thickness minus", false) { Kind = ColumnKind.Length },
        new("min width", false) { Kind = ColumnKind.Length },
        new("width minus", false) { Kind = ColumnKind.Length },
        new("min length", false) { Kind = ColumnKind.Length },
        new("length minus", false) { Kind = ColumnKind.Length },
        new(Price, false, "net price", "your price", "unit price", "net", "preis", "nettopreis", "einzelpreis", "prix", "prix unitaire", "precio", "precio unitario", "list price", "listenpreis") { Kind = ColumnKind.Number, Key = true, Ranked = true },
        new("per", false, "price per", "price basis", "uom", "unit of measure", "price unit", "unit", "preiseinheit", "me", "pro", "unité", "unidad"),
        new("available", false, "in stock", "pieces", "qty available", "on hand", "bestand", "verfügbar", "disponible") { Kind = ColumnKind.Whole },
        new("supplier", false, "seller", "vendor", "lieferant", "fournisseur", "proveedor"),
        StockColumns.GoodFaces,
        new("source", false, "standard"),
        .. TermCells.Columns,
    ];

    private const string Price = "price";

    public static IReadOnlyList<Column> AllColumns => Columns;

    /// <summary>Files of the starter, split and with their heads found: they are the same for every job and list of a run, and that is most of the work of reading them.</summary>
    private static readonly ConcurrentDictionary<string, Lazy<(OpenList? List, FindingList Findings)>> OpenStarter = new(StringComparer.Ordinal);

    /// <summary>One of the files of the starter.</summary>
    public static void ReadStarter(string file, Reads reads, MaterialBook book, StockList stocks, FindingList findings)
    {
        var (list, found) = OpenStarter.GetOrAdd(file, name => new(() =>
        {
            var own = new FindingList();
            return (Open(TableSource.Read(Starter.Text(name), Starter.NameOf(name), Score(TableChoices.None), own), TableChoices.None with { DecimalMark = '.' }, own), own);
        })).Value;
        findings.Take(found);
        ReadRows(list, reads, book, stocks, new(null, 1m, ""), findings);
    }

    /// <summary>A file of the shop or of a supplier, in any form that tables have.</summary>
    public static void ReadFile(string path, string what, TableChoices choices, Reads reads, MaterialBook book, StockList stocks, PriceSource source, FindingList findings) =>
        Read(TableSource.ReadFile(path, what, choices, Score(choices), findings), choices, reads, book, stocks, source, findings);

    /// <summary>The bytes of such a file.</summary>
    public static void Read(byte[] bytes, string name, TableChoices choices, Reads reads, MaterialBook book, StockList stocks, PriceSource source, FindingList findings) =>
        Read(TableSource.Read(bytes, name, "a price list", choices, Score(choices), findings), choices, reads, book, stocks, source, findings);

    private static Func<RawRow, int> Score(TableChoices choices) => row => HeadFinder.Score(row, Columns, choices);

    private static void Read(RawTable? raw, TableChoices choices, Reads reads, MaterialBook book, StockList stocks, PriceSource source, FindingList findings) =>
        ReadRows(Open(raw, choices, findings), reads, book, stocks, source, findings);

    /// <summary>Finds the head and what its prices are for; null after findings that leave nothing to go on with.</summary>
    private static OpenList? Open(RawTable? raw, TableChoices choices, FindingList findings)
    {
        if (raw is null)
        {
            return null;
        }

        // Columns of prices are as many as the list has: per foot, per pound, from 5, from 10.
        var head = HeadFinder.Find(raw, Columns, choices) is >= 0 and var at ? raw.Rows[at].Cells : [];
        var prices = head.Select(cell => (ColumnNames.Find(cell.Text, Columns, choices), Price: PriceHead.Of(cell.Text))).Where(cell => cell.Price is not null && IsPrice(cell.Item1, cell.Price))
            .Select(cell => cell.Price!).DistinctBy(price => Words.Fold(price.Head)).ToList();
        Column[] all = [.. Columns, .. prices.Select(price => new Column(price.Head, false) { Kind = ColumnKind.Number, Key = true })];
        if (CsvTable.Of(raw, all, choices, findings) is not { } table)
        {
            return null;
        }

        if (!table.Has(Price) && prices.Count == 0)
        {
            findings.Error("column-missing", new(table.File, table.HeadLine), "the column 'price' is missing", "add it to the head, or name the column that it is: --columns \"YOUR HEAD = price\" for a table on the command line, [columns] in the job file");
            return null;
        }

        var steps = prices.Where(price => price.Unit is null && price.From > 1).Select(price => (price.From, price.Head)).ToList();
        var firsts = prices.Where(price => price.From == 1).OrderBy(price => price.Unit is { Basis: PriceBasis.Piece } or null ? 0 : 1).ToList();
        if (firsts.Count > 1 || (firsts.Count > 0 && table.Has(Price)))
        {
            var first = table.Has(Price) ? table.HeadOf(Price) : firsts[0].Head;
            findings.Doubt(
                "price-columns", new(table.File, table.HeadLine), $"of several columns of prices '{first}' counts, where it is empty {string.Join(", then ", firsts.Where(price => price.Head != first).Select(price => $"'{price.Head}'"))}",
                "leave out the columns that do not count");
        }

        return new(table, new(steps, firsts));
    }

    private static void ReadRows(OpenList? list, Reads reads, MaterialBook book, StockList stocks, PriceSource source, FindingList findings)
    {
        if (list is not { Table: var table })
        {
            return;
        }

        var unit = FoundUnit.Of(table, StockColumns.Sizes, reads.Unit);
        var onRequest = new List<int>();
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, reads with { Unit = unit.Unit }, findings);
            ReadRow(row, list.Prices, book, stocks, source, onRequest);
        }

        if (onRequest.Count > 0)
        {
            findings.Note("price-on-request", new(table.File, onRequest[0]), $"not read: {Counted.Rows(onRequest)} ({(onRequest.Count == 1 ? "its price is" : "their prices are")} on request)", "write the price when it is known");
        }
    }

    /// <summary>Whether a head is a price of its own. "Price (USD/cwt)" is, though without its brackets it would be the plain price.</summary>
    private static bool IsPrice(ColumnNames.Found found, PriceHead price) =>
        found.Column is null || (found.Column.Name == Price && found.Chosen is null && price.Unit is not null && !found.Column.Answers(Words.Fold(found.Name)));

    private sealed record OpenList(CsvTable Table, PriceCells Prices);

    /// <param name="Steps">Prices from a number of pieces on.</param>
    /// <param name="Firsts">Prices that say what they are for.</param>
    private sealed record PriceCells(IReadOnlyList<(int From, string Column)> Steps, IReadOnlyList<PriceHead> Firsts)
    {
        /// <summary>The price that counts for a row, what it is for, and its column.</summary>
        public (AmountCell Amount, PriceUnit? Unit, string Column) Of(CsvRow row, string currency)
        {
            foreach (var (column, unit) in Firsts.Select(price => (price.Head, price.Unit)).Prepend((Price, null)))
            {
                if (row.Has(column))
                {
                    var amount = AmountCell.Read(row, column, DearestPiece, currency.Length == 0 ? null : currency);
                    return (amount, amount.Unit ?? unit, column);
                }
            }

            return (default, null, Firsts.Count > 0 ? Firsts[0].Head : Price);
        }
    }

    private static void ReadRow(CsvRow row, PriceCells prices, MaterialBook book, StockList stocks, PriceSource source, List<int> onRequest)
    {
        var (price, said, column) = prices.Of(row, source.Currency);
        if (price.OnRequest)
        {
            onRequest.Add(row.Where.Row);
            return;
        }

        if (price.Value is null && !row.Has(column))
        {
            row.Error(Price, "cell-missing", "price is missing", "fill in the price, or write call where it is on request");
        }

        var form = row.Required("form").Length == 0 ? null : row.Word("form", Words.FormOf, Words.FormList);
        var material = MaterialsReader.Find(row, book);
        var per = said ?? (row.Has("per") ? row.Word("per", PriceUnit.Of, PriceUnit.Words) : new PriceUnit(PriceBasis.Piece));
        var available = row.Whole("available", 0, 1_000_000);
        var goodFaces = row.YesNo("good faces") ?? false;
        var sizes = form is { } known ? SizeCells.ReadAny(row, known, material) : null;
        if (form is { } bar && bar.IsBar() && per?.Basis is PriceBasis.SquareMetre or PriceBasis.SquareFoot)
        {
            row.Error(row.Has("per") ? "per" : column, "price-basis-of-form", "a bar has no price per area", "write piece, m, kg, ft or lb");
        }

        var factor = per?.Factor ?? 1m;
        var terms = TermCells.Read(row, prices.Steps, price.Value * factor, factor, source.Currency.Length == 0 ? null : source.Currency);
        if (source.Supplier is { } seller && row.Has("supplier") && !string.Equals(row.Text("supplier"), seller.Name, StringComparison.OrdinalIgnoreCase))
        {
            row.Error("supplier", "supplier-other", $"this is the price list of '{seller.Name}'", "leave the cell empty");
        }

        if (row.Failed || sizes is not { } size || form is not { } is1 || material is null || price.Value is not { } given || per is not { Basis: var basis })
        {
            return;
        }

        var amount = given * factor;
        is1 = size.Form;
        var id = row.Has("id") ? row.Name("id") : NameOf(is1, material, size, row.UnitOf("length"));
        var stock = new Stock
        {
            Id = id,
            Form = is1,
            MaterialId = material.Id,
            Length = size.Length,
            Width = size.Width,
            Thickness = size.Thickness,
            Detail = size.Detail,
            ListedSection = size.Listed,
            MinLength = Smallest(row, "length", size.Length),
            MinWidth = is1.HasOneSize() ? SmallestSection(row, is1, size.Width) : Smallest(row, "width", size.Width),
            MinThickness = is1.HasOneSize() ? SmallestSection(row, is1, size.Width) : Smallest(row, "thickness", size.Thickness),
            PiecePrice = Money.Zero,
            PriceBasis = basis,
            UnitPrice = amount * source.Rate,
            Available = available,
            Supplier = source.Supplier?.Name ?? (row.Name("supplier") is { Length: > 0 } supplier ? supplier : null),
            GoodFaces = goodFaces,
            Source = row.Remark("source"),
        };
        if (row.Failed)
        {
            return;
        }

        if (amount * source.Rate * StockPrice.Amount(basis, stock, material) > DearestPiece)
        {
            row.Error(column, "price-too-high", "one piece costs more than ten million", "check the price and what it is for");
            return;
        }

        stock = stock with
        {
            PiecePrice = StockPrice.PerPiece(basis, stock.UnitPrice, stock, material),
            Terms = new()
            {
                Rule = terms.Rule,
                Breaks = terms.Cut == CutWord.Only
                    ? []
                    : [.. terms.Breaks.Select(step => new PriceBreak(step.From, StockPrice.PerPiece(basis, step.Price * source.Rate, stock, material)))],
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

    /// <summary>A name for a row that has none: what it is.</summary>
    private static string NameOf(Form form, Material material, SizeCells size, LengthUnit unit)
    {
        var format = LengthFormat.For(unit, 0);
        if (form.IsSection())
        {
            var section = SectionText.Of(form, size.Width, size.Thickness, size.Detail, length => format.Text(length, withUnit: false)).Replace(" × ", "x", StringComparison.Ordinal);
            return $"{material.Id} {form.Word()} {section}x{format.Text(size.Length, withUnit: false)}";
        }

        Length[] sizes = form == Form.RoundBar || form == Form.SquareBar ? [size.Thickness, size.Length] : [size.Thickness, size.Width, size.Length];
        return $"{material.Id} {form.Word()} {string.Join("x", sizes.Select(length => format.Text(length, withUnit: false)))}";
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
