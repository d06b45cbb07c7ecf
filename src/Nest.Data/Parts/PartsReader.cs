using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Models;
using Nest.Data.Stocks;
using Nest.Data.Tables;

namespace Nest.Data.Parts;

/// <summary>Reads a parts list: one row a part; rows of one part are added up.</summary>
internal static class PartsReader
{
    /// <summary>A part of which no side reaches this was hardly meant in millimetres: an inch.</summary>
    private static readonly Length Tiny = Length.FromMillimetres(25.4m);

    public static IReadOnlyList<Column> Columns => PartColumns.All;

    /// <param name="unit">Unit of bare numbers, from <see cref="FoundUnit"/>.</param>
    /// <param name="models">Models that rows name; null: they lie beside the list.</param>
    public static PartRows Read(CsvTable table, FoundUnit unit, int batch, MaterialBook book, FindingList findings, ModelShelf? models = null)
    {
        var parts = new List<PartRow>();
        if (!table.Has("length") && !table.Has(PartColumns.Size) && !table.Has(ModelRows.Model))
        {
            findings.Error(
                "column-missing", new(table.File, table.HeadLine), "there is neither a column 'length' nor a column 'size'",
                "add length, width and thickness (of round parts length and diameter), or one column 'size' with texts such as 3/8 x 4 x 7-1/4");
            return new(parts, table.Understanding(unit.Unit, unit.Reason));
        }

        var order = SizeOrder.Of(table, (line, cells) => new CsvRow(table, line, cells, new(unit.Unit, null), new()) is var row && Words.FormsOf(row.Text("forms"), out _)?.Section() is null
            ? PartSizeCells.TextOf(row, unit.Unit) : new([], "", "")); // the numbers of a section have an order of their own
        var reader = new PartRowReader(order, batch, book, unit.Unit);
        var (bare, unnamed) = (false, PartColumns.Sizes.Where(column => table.Has(column) && table.UnitOf(column) is null).ToArray());
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, new(unit.Unit, null), findings);
            foreach (var part in reader.PartsOf(row, models ??= ModelShelf.Beside(table, findings)))
            {
                parts.Add(new(part, row.Where, row.Text(PartColumns.Size)) { Limits = LimitCells.Read(row), FreeSpares = PartRowReader.FreeSpares(row, part) });
                bare = bare || Array.Exists(unnamed, column => row.Has(column) && !SizeText.NamesUnit(row.Text(column)));
            }
        }

        if (table.Rows.Count == 0 && findings.Errors == 0)
        {
            findings.Error("parts-none", new(table.File, table.HeadLine), "the list has a head but no parts", "add a row for each part");
        }

        MaterialsReader.TellNames(reader.Names, findings);
        TellUnit(table, unit, parts, bare, findings);
        if (order.Reason.Length > 0)
        {
            findings.Doubt("size-order", new(table.File, table.HeadLine, table.Place(PartColumns.Size)), $"sizes are read as {order.Words}: {order.Reason}", "name the order in the head if it is another, as Size (L x W x T)");
        }

        CheckTotals(table, parts, findings);
        return new(parts, table.Understanding(unit.Unit, unit.Reason));
    }

    /// <summary>A unit that nothing says is told once.</summary>
    private static void TellUnit(CsvTable table, FoundUnit unit, List<PartRow> parts, bool bare, FindingList findings)
    {
        if (!bare || (!unit.Assumed && !unit.Reason.StartsWith("there are fractions", StringComparison.Ordinal)))
        {
            return;
        }

        var name = unit.Unit == LengthUnit.Inch ? "inches" : "millimetres";
        var tiny = unit.Assumed && parts.TrueForAll(row => Length.Max(row.Part.Length, Length.Max(row.Part.Width, row.Part.Thickness)) <= Tiny);
        findings.Doubt(
            "unit-assumed", new(table.File, table.HeadLine),
            unit.Assumed
                ? $"numbers without a unit were read as {name}, as nothing says which unit{(tiny ? "; no part is longer than 25.4 mm: meant in inches?" : "")}"
                : $"numbers without a unit were read as {name}, as {unit.Reason}",
            "write it in a head, as Length (mm) or Length (in), or say --unit mm or --unit in");
    }

    /// <summary>A total under the list that its rows don't add up to is a doubt.</summary>
    private static void CheckTotals(CsvTable table, List<PartRow> parts, FindingList findings)
    {
        if (parts.Count < table.Rows.Count || table.Totals.Where(total => total.Column == "quantity").ToList() is not [var (row, _, text)])
        {
            return;
        }

        var sum = parts.Sum(part => (long)part.Part.Quantity);
        if (NumberText.Read(DecimalMarks.WithoutGroups(text, '.')).Value is { } total && total != sum)
        {
            findings.Doubt("total-differs", new(table.File, row, table.Place("quantity")), $"the total says {text}, but the rows add up to {sum}", "look whether a row is missing or counted twice");
        }
    }
}
