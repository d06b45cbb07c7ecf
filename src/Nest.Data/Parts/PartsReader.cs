using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Stocks;

namespace Nest.Data.Parts;

/// <summary>A part with the place it was read from.</summary>
internal sealed record PartRow(Part Part, SourcePosition Where);

/// <summary>Reads a parts list: one row a part.</summary>
internal static class PartsReader
{
    /// <summary>More of one part than any small shop cuts in a batch; a larger number is a typing mistake.</summary>
    private const int MostPieces = 1_000_000;

    /// <summary>A week and more at the mill for one piece or one set-up: no such part.</summary>
    private const decimal MostMinutes = 10_000m;

    private const int MostSetUps = 1000;

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
        new("forms", false, "form", "stock form", "from"),
        new("turn", false, "may turn", "rotate", "rolling direction"),
        new("holding", false, "hold", "held by"),
        new("faces stay", false) { Was = ["mill faces", "stock faces"] },
        new("sides stay", false) { Was = ["mill sides", "stock sides"] },
        new("side clean-up", false, "side cleanup", "side allowance"),
        new("end clean-up", false, "end cleanup", "end allowance"),
        new("face top", false, "top facing"),
        new("face bottom", false, "bottom facing"),
        new("grip", false, "vise grip"),
        new(AngleCells.Start, false, "start angle", "mitre start", "miter start", "left angle"),
        new(AngleCells.End, false, "end angle", "mitre end", "miter end", "right angle"),
        new(AngleCells.Across, false, "mitre across", "miter across"),
        new("mill minutes", false, "machining minutes", "minutes each"),
        new("set-up minutes", false, "setup minutes"),
        new("set-ups", false, "setups", "set-ups at the mill"),
        new("note", false, "notes", "remark"),
    ];

    private static readonly string[] SizeColumns = ["length", "width", "thickness", "diameter"];

    /// <summary>Whether the head names inches, so that a list without a job file is one in inches.</summary>
    public static bool IsInInches(CsvTable table) => SizeColumns.Any(column => table.UnitOf(column) == LengthUnit.Inch);

    public static IReadOnlyList<PartRow> Read(CsvTable table, Reads reads, int batch, MaterialBook book, FindingList findings)
    {
        var parts = new List<PartRow>();
        var seen = new Dictionary<string, PartRow>(StringComparer.OrdinalIgnoreCase);
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, reads, findings);
            if (ReadPart(row, batch, book) is not { } part)
            {
                continue;
            }

            if (seen.TryGetValue(part.Id, out var first))
            {
                ReportTwice(row, part, first);
                continue;
            }

            var read = new PartRow(part, row.Where);
            seen[part.Id] = read;
            parts.Add(read);
        }

        if (parts.Count == 0 && table.Rows.Count == 0)
        {
            findings.Error("parts-none", new(table.File, table.HeadLine), "the list has a head but no parts", "add a row for each part");
        }

        return parts;
    }

    private static Part? ReadPart(CsvRow row, int batch, MaterialBook book)
    {
        var id = row.Required("part");
        var material = MaterialsReader.Find(row, book);
        var round = row.Has("diameter");
        var length = row.RequiredSize("length");
        var (width, thickness) = round ? Round(row) : (row.RequiredSize("width"), row.RequiredSize("thickness"));
        var quantity = row.Required("quantity").Length == 0 ? null : row.Whole("quantity", 1, MostPieces);
        if (quantity is { } pieces && (long)pieces * batch > MostPieces)
        {
            row.Error("quantity", "quantity-too-large", $"{pieces} pieces × {batch} sets are more than a million", "check quantity and batch");
        }

        var (extra, extraPercent) = row.Failed ? (0, null) : Extra(row, quantity ?? 0, batch);
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
        var millFaces = row.YesNo("faces stay") ?? false;
        var millSides = row.YesNo("sides stay") ?? false;
        var ends = AngleCells.Read(row);
        if (!row.Failed)
        {
            AngleCells.CheckLength(row, ends, length, width, thickness);
        }

        var millMinutes = row.Number("mill minutes", 0m, MostMinutes);
        var setUpMinutes = row.Number("set-up minutes", 0m, MostMinutes);
        var setUps = row.Has("set-ups") ? row.Whole("set-ups", 0, MostSetUps) : null;
        if (setUps is not null && !row.Has("set-up minutes"))
        {
            row.Error("set-ups", "set-up-untimed", "the part has set-ups, but no minutes of one", "fill in 'set-up minutes', or leave 'set-ups' empty");
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
            Quantity = wanted,
            Extra = extra,
            ExtraPercent = extraPercent,
            Forms = forms,
            MayTurn = mayTurn,
            Holding = holding,
            MillFaces = millFaces,
            MillSides = millSides,
            Allowances = own == new AllowanceOverrides() ? null : own,
            Ends = ends,
            MillMinutes = millMinutes,
            SetUpMinutes = setUpMinutes,
            SetUps = setUps,
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
