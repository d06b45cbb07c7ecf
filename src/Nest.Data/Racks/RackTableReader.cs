using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Csv;
using Nest.Data.Stocks;
using Nest.Data.Tables;

namespace Nest.Data.Racks;

/// <summary>Reads pieces for the rack from a table: what export wrote, or a list of the shop's own.</summary>
public static class RackTableReader
{
    /// <summary>Area of a section's metal, where it is not that from its sizes; export writes it.</summary>
    private const string Metal = "metal mm2";

    private static readonly Column[] Columns =
    [
        new("mark", false, "rack mark", "id", "tag", "markierung", "repère", "marca") { Key = true },
        new("state", false),
        new("count", false, "quantity", "qty", "pieces", "pcs", "anzahl", "stück", "quantité", "cantidad") { Kind = ColumnKind.Whole },
        .. StockColumns.Kind,
        new(Metal, false) { Kind = ColumnKind.Number },
        new("min length", false) { Kind = ColumnKind.Length },
        new("min width", false) { Kind = ColumnKind.Length },
        new("min thickness", false) { Kind = ColumnKind.Length },
        new("rolling", false, "rolling direction", "grain"),
        .. StockColumns.OfPiece,
        new("heat", false, "heat number", "lot"),
        new("certificate", false, "cert"),
        new("bought", false),
        new("supplier", false),
        new("origin", false),
        new("entered", false, "date"),
        new("condition", false),
        new("reserved for", false),
        new("mass (kg)", false, "mass"),
    ];

    /// <summary>Reads a table in any form: text with separators, XLSX, ODS.</summary>
    /// <param name="unit">Unit of sizes whose column names none.</param>
    public static ReadResult<RackRows> ReadFile(string path, ShopMaterials materials, LengthUnit unit, TableChoices? choices = null)
    {
        var findings = new FindingList();
        return Read(CsvTable.ReadFile(path, "a table of the rack", Columns, ShopNames.For(path, choices ?? TableChoices.None, findings), findings), materials, unit, findings);
    }

    /// <summary>The bytes of such a file.</summary>
    internal static ReadResult<RackRows> Read(byte[] bytes, string name, ShopMaterials materials, LengthUnit unit, TableChoices choices)
    {
        var findings = new FindingList();
        return Read(CsvTable.Read(bytes, name, "a table of the rack", Columns, choices, findings), materials, unit, findings);
    }

    /// <summary>Reads a table from text in our own format.</summary>
    public static ReadResult<RackRows> Read(string text, string file, ShopMaterials materials, LengthUnit unit)
    {
        var findings = new FindingList();
        return Read(CsvTable.Read(text, file, Columns, findings), materials, unit, findings);
    }

    private static ReadResult<RackRows> Read(CsvTable? given, ShopMaterials materials, LengthUnit unit, FindingList findings)
    {
        if (given is not { } table)
        {
            return findings.Result<RackRows>(null);
        }

        var reads = new Reads(FoundUnit.Of(table, StockColumns.Sizes, unit).Unit, null);
        var names = new Dictionary<string, (Material, SourcePosition)>(StringComparer.OrdinalIgnoreCase);
        var rows = ImmutableArray.CreateBuilder<RackRow>();
        var marks = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, reads, findings);
            // Before the rest is read: a row that is wrong has its mark all the same.
            if (row.Text("mark") is { Length: > 0 } mark && !marks.TryAdd(mark, line))
            {
                row.Error("mark", "mark-twice", $"the mark {mark} is there twice, also in row {marks[mark]}", "leave the mark empty, and the rack gives one");
            }

            if (ReadRow(row, materials, names) is not { } read)
            {
                continue;
            }

            var count = row.Whole("count", 1, 1000) ?? 1;
            if (count > 1 && read.Piece.Mark.Length > 0)
            {
                row.Error("count", "count-with-mark", $"the mark {read.Piece.Mark} is on one piece, not on {count}", "leave the mark empty, and each piece gets one");
                continue;
            }

            rows.AddRange(Enumerable.Repeat(read, count));
        }

        MaterialsReader.TellNames(names, findings);
        return findings.Result(findings.Errors > 0 ? null : new RackRows(rows.ToImmutable()));
    }

    private static RackRow? ReadRow(CsvRow row, ShopMaterials materials, Dictionary<string, (Material, SourcePosition)> names)
    {
        var formText = row.Required("form");
        var form = formText.Length == 0 ? null : row.Word("form", Words.FormOf, Words.FormList);
        var material = MaterialsReader.Find(row, materials.Book, names);
        var state = row.Text("state");
        if (state.Length > 0 && Words.Fold(state) is not ("onrack" or "reserved"))
        {
            row.Error("state", "state-gone", $"the piece is '{state}', so it is not on the rack", "import only pieces that are there");
        }

        var clean = row.Word("clean edges", Words.EdgesOf, "all, none, or any of left, right, bottom, top") ?? default;
        var value = AmountCell.Read(row, "value", 10_000_000m, null).Value;
        var goodFaces = row.YesNo("good faces") ?? false;
        var bought = row.YesNo("bought") ?? false;
        var rolling = row.Text("rolling");
        if (Words.Fold(rolling) is not ("" or "alonglength" or "unknown"))
        {
            row.Error("rolling", "word-unknown", $"rolling is '{rolling}'", "write along length or unknown");
        }

        var condition = row.Text("condition").ToLowerInvariant();
        if (condition is not ("" or "good" or "fair" or "poor"))
        {
            row.Error("condition", "word-unknown", $"condition is '{condition}'", "write good, fair or poor");
        }

        var entered = Day(row);
        var size = form is { } known ? Sizes(row, known, material) : null;
        var minLength = row.Size("min length");
        var minWidth = row.Size("min width");
        var minThickness = row.Size("min thickness");
        if (row.Failed || form is not { } isForm || material is null || size is not { } sized)
        {
            return null;
        }

        Smallest("min length", minLength, sized.Length);
        Smallest("min width", minWidth, sized.Width);
        Smallest("min thickness", minThickness, sized.Thickness);
        var keepOuts = RackReader.KeepOuts(row, isForm, sized);
        return row.Failed ? null : new RackRow(row.Where, material, new RackPiece
        {
            Mark = row.Name("mark"),
            Form = sized.Form,
            MaterialId = material.Id,
            Length = sized.Length,
            Width = sized.Width,
            Thickness = sized.Thickness,
            Detail = sized.Detail,
            ListedSection = sized.Listed ?? MetalOf(row, sized),
            MinLength = minLength,
            MinWidth = minWidth,
            MinThickness = minThickness,
            Rolling = Words.Fold(rolling) == "unknown" ? RollingDirection.Unknown : RollingDirection.AlongLength,
            CleanEdges = clean,
            KeepOuts = keepOuts,
            GoodFaces = goodFaces,
            Heat = row.Name("heat"),
            Certificate = row.Name("certificate"),
            Place = row.Name("place"),
            Bought = bought,
            Supplier = row.Name("supplier"),
            Origin = row.Name("origin"),
            Value = Money.FromAmount(value ?? 0m),
            Entered = entered ?? default,
            Condition = condition switch { "poor" => PieceCondition.Poor, "fair" => PieceCondition.Fair, _ => PieceCondition.Good },
            Note = row.Remark("note"),
        }, value is not null);

        void Smallest(string column, Length? min, Length nominal)
        {
            if (min > nominal)
            {
                row.Error(column, "min-above-nominal", $"{column} is larger than the size itself", "measure again, or leave it empty");
            }
        }
    }

    /// <summary>As a catalogue's sizes, but a round bar may name its diameter as width and thickness, as export does.</summary>
    private static SizeCells? Sizes(CsvRow row, Form form, Material? material)
    {
        if (form != Form.RoundBar || row.Has("diameter") || row.Has(StockColumns.Size))
        {
            return SizeCells.ReadAny(row, form, material, row.Has(Metal));
        }

        var length = row.RequiredSize("length");
        var diameter = row.Has("thickness") ? row.RequiredSize("thickness") : row.RequiredSize("width");
        if (!row.Failed && row.Size("width") is { } width && width != diameter)
        {
            row.Error("width", "bar-not-round", "width and thickness of a round bar differ", "give the diameter in both, or in the column 'diameter'");
        }

        return row.Failed ? null : new(length, diameter, diameter) { Form = form };
    }

    private static Area? MetalOf(CsvRow row, SizeCells size)
    {
        if (size.Detail is null || row.Number(Metal, 0m, 1_000_000m) is not { } square)
        {
            return null;
        }

        var listed = Area.FromSquareNanometres((Int128)decimal.Round(square * 1_000_000m) * 1_000_000);
        if (listed <= Area.Zero || listed > size.Width * size.Thickness)
        {
            row.Error(Metal, "section-mass", "the metal is more than a solid bar of these outer sizes has", "check it, or leave it empty");
        }

        return listed;
    }

    private static DateOnly? Day(CsvRow row)
    {
        var text = row.Text("entered");
        if (text.Length == 0)
        {
            return null;
        }

        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
        {
            return day;
        }

        // A spreadsheet that took the text for a date stores the days since 1899-12-30 (ECMA-376 part 1, 18.17.4.1).
        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var serial) && serial is > 20_000 and < 100_000)
        {
            return new DateOnly(1899, 12, 30).AddDays(serial);
        }

        row.Error("entered", "date-unreadable", $"entered is '{text}'", "write the date as 2026-03-02");
        return null;
    }
}
