using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Tables;

namespace Nest.Data.Stocks;

/// <summary>Reads the rack: one row for each leftover, measured sizes.</summary>
internal static class RackReader
{
    private static readonly Column[] Columns =
    [
        new("mark", true, "id", "rack mark", "tag", "markierung", "repère", "marca") { Key = true },
        .. StockColumns.Kind,
        .. StockColumns.OfPiece,
        new("heat", false, "heat no", "heat number", "lot", "charge", "coulée", "colada"),
    ];

    /// <param name="priced">Given the leftover, the value it is carried at when the row gives none.</param>
    public static void Read(
        string path, TableChoices choices, Reads reads, MaterialBook book, StockList stocks, Func<Stock, Material, Money> priced, FindingList findings)
    {
        if (CsvTable.ReadFile(path, "a rack file", Columns, choices, findings) is not { } table)
        {
            return;
        }

        var unit = FoundUnit.Of(table, StockColumns.Sizes, reads.Unit);

        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, reads with { Unit = unit.Unit }, findings);
            var mark = row.Required("mark").Length > 0 ? row.Name("mark") : "";
            if (mark.Length > 0)
            {
                stocks.Claim("rack-" + mark, row, "mark");
            }

            var form = row.Required("form").Length == 0 ? null : row.Word("form", Words.FormOf, Words.FormList);
            var material = MaterialsReader.Find(row, book);
            var value = AmountCell.Read(row, "value", 10_000_000m, null).Value;
            var clean = row.Word("clean edges", Words.EdgesOf, "all, none, or any of left, right, bottom, top") ?? default;
            var goodFaces = row.YesNo("good faces") ?? false;
            var sizes = form is { } known ? SizeCells.ReadAny(row, known, material) : null;
            if (row.Failed || sizes is not { } size || form is not { } is1 || material is null)
            {
                continue;
            }

            var keepOuts = KeepOuts(row, is1, size);
            if (row.Failed)
            {
                continue;
            }

            var stock = new Stock
            {
                Id = "rack-" + mark,
                Form = size.Form,
                MaterialId = material.Id,
                Length = size.Length,
                Width = size.Width,
                Thickness = size.Thickness,
                Detail = size.Detail,
                ListedSection = size.Listed,
                MinLength = size.Length,
                MinWidth = size.Width,
                MinThickness = size.Thickness,
                PiecePrice = Money.Zero,
                PriceBasis = PriceBasis.Piece,
                Available = 1,
                RackMark = mark,
                Place = row.Name("place") is { Length: > 0 } place ? place : null,
                Heat = row.Name("heat") is { Length: > 0 } heat ? heat : null,
                CleanEdges = clean,
                KeepOuts = keepOuts,
                GoodFaces = goodFaces,
                Source = "measured",
            };
            var worth = value is { } given ? Money.FromAmount(given) : priced(stock, material);
            stocks.Add(stock with { PiecePrice = worth, UnitPrice = worth.Amount }, row, "mark");
        }
    }

    /// <summary>Damaged areas: <c>x,y,w,h; x,y,w,h</c>, or with blanks in place of commas.</summary>
    internal static ImmutableArray<Rect> KeepOuts(CsvRow row, Form form, SizeCells size)
    {
        var text = row.Text("keep outs");
        if (text.Length == 0)
        {
            return [];
        }

        if (form != Form.Plate)
        {
            row.Error("keep outs", "keep-out-on-bar", "only plates have keep-outs", "enter the sound length of the bar instead");
            return [];
        }

        var sheet = new Rect(Length.Zero, Length.Zero, size.Length, size.Width);
        var areas = ImmutableArray.CreateBuilder<Rect>();
        foreach (var item in Areas(text))
        {
            // Commas part the numbers, unless there are blanks to do it: 10,8,2,2 or 10,5 8 2 2.
            var numbers = item.Split((char[])[' ', '\t', '/'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
            numbers = numbers.Length == 4 && item.Count(c => c == ',') != 3 ? numbers
                : numbers.Length == 4 && !numbers.Any(number => number.EndsWith(',')) ? numbers
                : item.Split(',', StringSplitOptions.TrimEntries);
            var lengths = numbers.Select(number => row.Read(number, "length")).ToArray();
            if (lengths.Length != 4 || lengths.Any(length => length.Value is null))
            {
                var hint = lengths.FirstOrDefault(length => length.Value is null).Error;
                row.Error(
                    "keep outs", "keep-out-unreadable", $"'{item}' is not a keep-out{(string.IsNullOrEmpty(hint) || lengths.Length != 4 ? "" : $": {hint}")}",
                    row.MarkOf("length") == ',' ? "write x y width height apart by blanks, as 10,5 8 2 2; several areas apart by ;" : "write x,y,width,height, in quotes where commas part the cells; several areas apart by ;");
                continue;
            }

            var area = new Rect(lengths[0].Value!.Value, lengths[1].Value!.Value, lengths[2].Value!.Value, lengths[3].Value!.Value);
            if (area.SizeX <= Length.Zero || area.SizeY <= Length.Zero || !sheet.Contains(area))
            {
                row.Error("keep outs", "keep-out-outside", $"the keep-out '{item}' is not inside the piece", "measure x along the length and y across, from the lower left corner");
                continue;
            }

            areas.Add(area);
        }

        return areas.ToImmutable();
    }

    /// <summary>Areas apart by ; – or one whose four numbers are.</summary>
    private static string[] Areas(string text)
    {
        var items = text.Split(';', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return items.Length == 4 && Array.TrueForAll(items, item => !item.Contains(' ') && item.Count(c => c == ',') <= 1) ? [string.Join(' ', items)] : items;
    }
}
