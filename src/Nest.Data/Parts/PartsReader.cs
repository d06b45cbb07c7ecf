using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Data.Csv;
using Nest.Data.Models;
using Nest.Data.Stocks;

namespace Nest.Data.Parts;

/// <summary>A part with the place it was read from.</summary>
internal sealed record PartRow(Part Part, SourcePosition Where);

/// <summary>Reads a parts list: one row a part.</summary>
internal static class PartsReader
{
    /// <summary>More of one part than any small shop cuts in a batch; a larger number is a typing mistake.</summary>
    private const int MostPieces = 1_000_000;

    public static readonly Column[] Columns =
    [
        new("part", true, "name", "part name", "part no", "id"),
        new("material", true, "alloy", "grade"),
        new("length", true, "l", "len"),
        new("width", false, "w", "wid"),
        new("thickness", false, "t", "thk", "height", "h"),
        new("diameter", false, "dia", "d"),
        new("quantity", true, "qty", "count", "pieces", "pcs"),
        new("extra", false, "spare", "spares", "set-up pieces"),
        new(ModelRows.Model, false, "file", "model file", "cad", "cad file"),
        new(ModelRows.LieColumn, false, "lies", "lying"),
        new("forms", false, "form", "stock form", "from"),
        new("turn", false, "may turn", "rotate", "rolling direction"),
        new("holding", false, "hold", "held by"),
        new("mill faces", false, "stock faces"),
        new("mill sides", false, "stock sides"),
        new("side clean-up", false, "side cleanup", "side allowance"),
        new("end clean-up", false, "end cleanup", "end allowance"),
        new("face top", false, "top facing"),
        new("face bottom", false, "bottom facing"),
        new("grip", false, "vise grip"),
        new(AngleCells.Start, false, "start angle", "mitre start", "miter start", "left angle"),
        new(AngleCells.End, false, "end angle", "mitre end", "miter end", "right angle"),
        new(AngleCells.Across, false, "mitre across", "miter across"),
        new("note", false, "notes", "remark"),
    ];

    private static readonly string[] SizeColumns = ["length", "width", "thickness", "diameter"];

    /// <summary>Whether the head names inches, so that a list without a job file is one in inches.</summary>
    public static bool IsInInches(CsvTable table) => SizeColumns.Any(column => table.UnitOf(column) == LengthUnit.Inch);

    /// <summary>Columns of a list whose rows name models: sizes and names come from them.</summary>
    public static IReadOnlyList<Column> ModelColumns(bool material) =>
        [.. Columns.Select(column => column.Name is "length" or "part" || (material && column.Name is "material") ? column with { Required = false } : column)];

    /// <summary>The table of a parts list; of one whose rows name models, sizes need not be there.</summary>
    /// <param name="material">A material is given apart.</param>
    public static CsvTable? Table(string text, string file, bool material, FindingList findings)
    {
        var named = CsvTable.Read(text, file, ModelColumns(material: true), new())?.Has(ModelRows.Model) == true;
        return CsvTable.Read(text, file, named ? ModelColumns(material) : Columns, findings);
    }

    /// <param name="shelf">Models that rows name.</param>
    public static IReadOnlyList<PartRow> Read(CsvTable table, Reads reads, int batch, MaterialBook book, FindingList findings, ModelShelf? shelf = null)
    {
        var parts = new List<PartRow>();
        var seen = new Dictionary<string, PartRow>(StringComparer.OrdinalIgnoreCase);
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, reads, findings);
            foreach (var part in PartsOf(row, batch, book, reads.Unit, shelf ??= ModelShelf.Beside(table.File, findings)))
            {
                if (seen.TryGetValue(part.Id, out var first))
                {
                    ReportTwice(row, part, first);
                    continue;
                }

                var read = new PartRow(part, row.Where);
                seen[part.Id] = read;
                parts.Add(read);
            }
        }

        if (parts.Count == 0 && table.Rows.Count == 0)
        {
            findings.Error("parts-none", new(table.File, table.HeadLine), "the list has a head but no parts", "add a row for each part");
        }

        return parts;
    }

    /// <summary>The row's part; of a row that names a model, each part of the model.</summary>
    private static IEnumerable<Part> PartsOf(CsvRow row, int batch, MaterialBook book, LengthUnit unit, ModelShelf shelf)
    {
        if (!row.Has(ModelRows.Model))
        {
            return ReadPart(row, batch, book, null, 1, row.Required("part"), shelf.Material) is { } one ? [one] : [];
        }

        var sizes = ModelRows.Read(row, shelf, unit);
        var list = new List<Part>();
        foreach (var (measured, size) in sizes)
        {
            var own = row.Text("part");
            var name = own.Length == 0 ? measured.Part.Name : sizes.Count == 1 ? own : $"{own} {measured.Part.Name}";
            if (ReadPart(row, batch, book, size, measured.Part.Count, name, shelf.Material) is { } part)
            {
                // An outline is cut from plate unless the list says otherwise.
                list.Add(measured.Plate && !row.Has("forms") ? part with { Forms = Forms.Plate } : part);
                shelf.Used[name] = measured;
            }
        }

        return list;
    }

    /// <param name="model">Size from a model; null: from the row.</param>
    /// <param name="pieces">Pieces of it in the model.</param>
    /// <param name="otherwise">Material where the row names none.</param>
    private static Part? ReadPart(CsvRow row, int batch, MaterialBook book, ModelSize? model, int pieces, string id, string? otherwise)
    {
        var material = MaterialsReader.Find(row, book, otherwise);
        var round = model?.Round ?? row.Has("diameter");
        var length = model?.Length ?? row.RequiredSize("length");
        var (width, thickness) = model is not null ? (model.Width, model.Thickness) : round ? Round(row) : (row.RequiredSize("width"), row.RequiredSize("thickness"));
        var lie = ModelRows.LieOf(row);
        var quantity = row.Required("quantity").Length == 0 ? null : row.Whole("quantity", 1, MostPieces);
        if (quantity is { } asked && (long)asked * pieces * batch > MostPieces)
        {
            row.Error("quantity", "quantity-too-large", $"{(long)asked * pieces} pieces × {batch} sets are more than a million", "check quantity and batch");
        }

        var (extra, extraPercent) = row.Failed ? (0, null) : Extra(row, (quantity ?? 0) * pieces, batch);
        var forms = Forms.Any;
        if (row.Has("forms"))
        {
            var read = Words.FormsOf(row.Text("forms"), out var unknown);
            if (read is null)
            {
                row.Error("forms", "word-unknown", $"there is no form '{unknown}'", "write plate, flat bar, square bar, round bar, bar or any; several apart by + or /");
            }

            forms = read ?? Forms.Any;
        }

        var holding = row.Word("holding", Words.HoldingOf, "vise, fixture plate, soft jaws or chuck") ?? (round ? Holding.Chuck : Holding.Vise);
        var mayTurn = row.YesNo("turn") ?? true;
        var millFaces = row.YesNo("mill faces") ?? false;
        var millSides = row.YesNo("mill sides") ?? false;
        var ends = AngleCells.Read(row);
        if (!row.Failed)
        {
            AngleCells.CheckLength(row, ends, length, width, thickness);
        }

        var own = new AllowanceOverrides
        {
            SideCleanUp = row.Distance("side clean-up"),
            EndCleanUp = row.Distance("end clean-up"),
            FaceTop = row.Distance("face top"),
            FaceBottom = row.Distance("face bottom"),
            Grip = row.Distance("grip"),
        };
        if (row.Failed || material is null || quantity is not { } wanted)
        {
            return null;
        }

        NoteDoubts(row, round, length, width, thickness);
        return new()
        {
            Id = id,
            MaterialId = material.Id,
            Round = round,
            Length = length,
            Width = width,
            Thickness = thickness,
            Quantity = wanted * pieces,
            Extra = extra,
            ExtraPercent = extraPercent,
            Forms = forms,
            MayTurn = mayTurn,
            Lie = lie,
            Holding = holding,
            MillFaces = millFaces,
            MillSides = millSides,
            Allowances = own == new AllowanceOverrides() ? null : own,
            Ends = ends,
            Note = row.Text("note"),
        };
    }

    private static (Length Width, Length Thickness) Round(CsvRow row)
    {
        foreach (var column in (string[])["width", "thickness"])
        {
            if (row.Has(column))
            {
                row.Error(column, "size-not-of-form", $"the part has a diameter and a {column}", $"leave '{column}' empty, or 'diameter' if it is flat");
            }
        }

        var diameter = row.RequiredSize("diameter");
        return (diameter, diameter);
    }

    /// <summary>A count, or a percentage of the batch's pieces, rounded up.</summary>
    private static (int Count, decimal? Percent) Extra(CsvRow row, int quantity, int batch)
    {
        var text = row.Text("extra");
        if (!text.EndsWith('%'))
        {
            return (row.Whole("extra", 0, MostPieces) ?? 0, null);
        }

        var reading = NumberText.Read(text[..^1], row.DecimalMark);
        if (reading.Value is not { } percent)
        {
            row.Error("extra", "number-unreadable", $"extra: {reading.Error}", reading.Hint);
            return (0, null);
        }

        if (percent is < 0m or > 100m)
        {
            row.Error("extra", "number-out-of-range", $"extra is {text}", "write a count, or a percentage from 0 to 100");
            return (0, null);
        }

        return (Part.Spares(quantity, batch, percent), percent);
    }

    private static void ReportTwice(CsvRow row, Part part, PartRow first)
    {
        var same = (part.Length, part.Width, part.Thickness, part.Round, part.MaterialId)
            == (first.Part.Length, first.Part.Width, first.Part.Thickness, first.Part.Round, first.Part.MaterialId);
        row.Error(
            "part", "part-twice",
            $"the part '{part.Id}' is already in row {first.Where.Row}, {(same ? "with the same size" : "with another size")}",
            same ? "add up the quantities in one row, or give the rows names of their own" : "give the rows names of their own");
    }

    private static void NoteDoubts(CsvRow row, bool round, Length length, Length width, Length thickness)
    {
        if (!round && thickness > Length.Max(width, length))
        {
            row.Note("thickness", "part-thick", "the part is thicker than it is long and wide", "check whether the columns are swapped");
        }
    }
}
