using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Models;
using Nest.Data.Stocks;
using Nest.Data.Tables;

namespace Nest.Data.Parts;

/// <summary>A part with the place it was read from.</summary>
/// <param name="SizeText">Its size as written, where it stood in one text; else empty.</param>
internal sealed record PartRow(Part Part, SourcePosition Where, string SizeText = "")
{
    /// <summary>How much its dimensions may change; null: the list does not say.</summary>
    public DesignLimits? Limits { get; init; }

    /// <summary>Spares that are wanted where they are free; null: the list does not say.</summary>
    public int? FreeSpares { get; init; }

    /// <summary>All rows that were added up.</summary>
    public ImmutableArray<SourcePosition> Rows { get; init; } = [Where];
}

/// <summary>A parts list as it was read.</summary>
internal sealed record PartRows(IReadOnlyList<PartRow> Rows, TableUnderstanding Understanding);

/// <summary>Reads a parts list: one row a part; rows of one part are added up.</summary>
internal static class PartsReader
{
    /// <summary>More of one part than any small shop cuts in a batch; a larger number is a typing mistake.</summary>
    private const int MostPieces = 1_000_000;

    /// <summary>A week and more at the mill for one piece or one set-up: no such part.</summary>
    private const decimal MostMinutes = 10_000m;

    private const int MostSetUps = 1000;

    private static readonly AllowanceOverrides NoOverrides = new();

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

        var names = new Dictionary<string, (Material, SourcePosition)>(StringComparer.OrdinalIgnoreCase);
        var order = SizeOrder.Of(table, (line, cells) => new CsvRow(table, line, cells, new(unit.Unit, null), new()) is var row && Words.FormsOf(row.Text("forms"), out _)?.Section() is null
            ? Size(row, unit.Unit) : new([], "", "")); // the numbers of a section have an order of their own
        var (bare, unnamed) = (false, PartColumns.Sizes.Where(column => table.Has(column) && table.UnitOf(column) is null).ToArray());
        foreach (var (line, cells) in table.Rows)
        {
            var row = new CsvRow(table, line, cells, new(unit.Unit, null), findings);
            foreach (var part in PartsOf(row, order, batch, book, names, unit.Unit, models ??= ModelShelf.Beside(table, findings)))
            {
                parts.Add(new(part, row.Where, row.Text(PartColumns.Size)) { Limits = LimitCells.Read(row), FreeSpares = FreeSpares(row, part) });
                bare = bare || Array.Exists(unnamed, column => row.Has(column) && !SizeText.NamesUnit(row.Text(column)));
            }
        }

        if (table.Rows.Count == 0 && findings.Errors == 0)
        {
            findings.Error("parts-none", new(table.File, table.HeadLine), "the list has a head but no parts", "add a row for each part");
        }

        MaterialsReader.TellNames(names, findings);
        TellUnit(table, unit, parts, bare, findings);
        if (order.Reason.Length > 0)
        {
            findings.Doubt("size-order", new(table.File, table.HeadLine, table.Place(PartColumns.Size)), $"sizes are read as {order.Words}: {order.Reason}", "name the order in the head if it is another, as Size (L x W x T)");
        }

        CheckTotals(table, parts, findings);
        return new(parts, table.Understanding(unit.Unit, unit.Reason));
    }

    /// <summary>Adds up rows of one part, over all lists of a job; the same name with another size is an error.</summary>
    public static List<PartRow> AddUp(IEnumerable<PartRow> rows, int batch, FindingList findings)
    {
        var sums = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        var parts = new List<PartRow>();
        foreach (var row in rows)
        {
            if (!sums.TryGetValue(row.Part.Id, out var at))
            {
                sums[row.Part.Id] = parts.Count;
                parts.Add(row);
                continue;
            }

            var first = parts[at];
            if (Difference(first.Part, row.Part) is { } difference)
            {
                findings.Error(
                    "part-twice", row.Where, $"the part '{row.Part.Id}' is already in row {first.Where.Row}, with {difference}",
                    "give the rows names of their own, or make them equal and their quantities are added up");
                continue;
            }

            parts[at] = Sum(first, row, batch, findings);
        }

        foreach (var part in parts.Where(part => part.Rows.Length > 1))
        {
            findings.Doubt(
                "part-added-up", part.Where, $"'{part.Part.Id}' is in {Counted.Rows([.. part.Rows.Select(row => row.Row)])}: {part.Part.Quantity} a set in all",
                "give the rows names of their own if they are different parts");
        }

        return parts;
    }

    private static PartRow Sum(PartRow first, PartRow second, int batch, FindingList findings)
    {
        var (a, b) = (first.Part, second.Part);
        var quantity = (long)a.Quantity + b.Quantity;
        if (quantity * batch > MostPieces)
        {
            findings.Error("quantity-too-large", second.Where, $"the rows of '{a.Id}' add up to more than a million pieces", "check quantity and batch");
            return first;
        }

        var note = b.Note.Length == 0 || string.Equals(a.Note, b.Note, StringComparison.OrdinalIgnoreCase) ? a.Note : a.Note.Length == 0 ? b.Note : $"{a.Note}; {b.Note}";
        return first with
        {
            Part = a with
            {
                Quantity = (int)quantity,
                Extra = a.ExtraPercent is { } percent ? Part.Spares((int)quantity, batch, percent) : (int)Math.Min(MostPieces, (long)a.Extra + b.Extra),
                Note = note.Length > TableLimits.Note ? a.Note : note,
            },
            FreeSpares = first.FreeSpares is null && second.FreeSpares is null ? null : Math.Min(MostPieces, (first.FreeSpares ?? 0) + (second.FreeSpares ?? 0)),
            Rows = [.. first.Rows, second.Where],
        };
    }

    /// <summary>Of a part that is milled several from a blank none are planned: the number in a blank would be another question.</summary>
    private static int? FreeSpares(CsvRow row, Part part)
    {
        var spares = row.Has("free spares") ? row.Whole("free spares", 0, MostPieces) : null;
        if (spares > 0 && part.PerBlank is not null)
        {
            row.Error("free spares", "free-spares-per-blank", $"'{part.Id}' is milled several from one blank, and free spares are laid singly", "leave 'free spares' empty and ask for 'extra' pieces, or leave 'per blank' empty");
        }

        return spares;
    }

    /// <summary>In what two rows of one name differ; null: their pieces may be added up.</summary>
    private static string? Difference(Part a, Part b) =>
        (a.Length, a.Width, a.Thickness, a.Round) != (b.Length, b.Width, b.Thickness, b.Round) ? "another size"
        : a.Detail?.Key != b.Detail?.Key ? "another section"
        : a.MaterialId != b.MaterialId ? "another material"
        : a.Forms != b.Forms || a.MayTurn != b.MayTurn || a.Lie != b.Lie || a.Holding != b.Holding || a.MillFaces != b.MillFaces || a.MillSides != b.MillSides ? "other forms, holding or faces"
        : a.Allowances != b.Allowances ? "other allowances"
        : a.Ends != b.Ends ? "other angles"
        : (a.MillMinutes, a.SetUpMinutes, a.SetUps) != (b.MillMinutes, b.SetUpMinutes, b.SetUps) ? "other minutes at the mill"
        : (a.OneStock, a.OneSize, a.Certificate) != (b.OneStock, b.OneSize, b.Certificate) ? "other rules for its stock"
        : a.PerBlank?.Key != b.PerBlank?.Key ? "another number per blank"
        : a.ExtraPercent != b.ExtraPercent ? "another percentage of spares"
        : null;

    private static SizeReading Size(CsvRow row, LengthUnit unit)
    {
        const string column = PartColumns.Size;
        return row.Has(column) && row.MarkOf(column) is { } mark ? SizeText.Read(row.InUnitOf(row.Text(column), column), row.UnitOf(column), mark) : new([], "", "");
    }

    /// <summary>The row's part; of a row that names a model, each part of the model.</summary>
    private static List<Part> PartsOf(
        CsvRow row, SizeOrder order, int batch, MaterialBook book, Dictionary<string, (Material, SourcePosition)> names, LengthUnit unit, ModelShelf models)
    {
        if (!row.Has(ModelRows.Model))
        {
            return ReadPart(row, order, batch, book, names, row.Required("part").Length > 0 ? row.Name("part") : "", null, 1) is { } one ? [one] : [];
        }

        var list = new List<Part>();
        var measured = ModelRows.Read(row, models, unit);
        foreach (var model in measured)
        {
            var name = models.NameFor(row.Has("part") ? row.Name("part") : "", model, measured.Count);
            var size = model.Size!;
            if (ReadPart(row, order, batch, book, names, name, new(size.Round, size.Length, size.Width, size.Thickness), model.Part.Count) is { } part)
            {
                // An outline is cut from plate unless the list says otherwise.
                list.Add(model.Plate && !row.Has("forms") ? part with { Forms = Forms.Plate } : part);
                models.Used[name] = model;
            }
        }

        return list;
    }

    /// <param name="model">Size from a model; null: from the row.</param>
    /// <param name="each">Pieces of the part in one model.</param>
    private static Part? ReadPart(
        CsvRow row, SizeOrder order, int batch, MaterialBook book, Dictionary<string, (Material, SourcePosition)> names, string id, PartSize? model, int each)
    {
        var material = MaterialsReader.Find(row, book, names);
        var forms = FormsOf(row);
        var quantity = row.Required("quantity").Length == 0 ? null : row.Whole("quantity", 1, MostPieces);
        if (quantity is { } pieces && (long)pieces * each * batch > MostPieces)
        {
            row.Error("quantity", "quantity-too-large", $"{(long)pieces * each} pieces × {batch} sets are more than a million", "check quantity and batch");
        }

        var asksSection = model is null && PartSections.Asks(row, forms);
        var section = asksSection ? PartSections.Read(row, forms) : null;
        if (section is { } asked)
        {
            forms = (Forms)(1 << (int)asked.Form);
        }

        var size = model ?? (section is { } cells ? new(false, cells.Length, cells.Width, cells.Thickness) : asksSection ? null : SizeOf(row, order, forms));
        var (extra, extraPercent) = row.Failed ? (0, null) : Extra(row, (quantity ?? 0) * each, batch);
        var round = size?.Round ?? false;
        var holding = row.Word("holding", Words.HoldingOf, "vise, fixture plate, soft jaws or chuck") ?? (round ? Holding.Chuck : Holding.Vise);
        var mayTurn = row.YesNo("turn") ?? true;
        var millFaces = row.YesNo("faces stay") ?? false;
        var millSides = row.YesNo("sides stay") ?? false;
        var (oneStock, oneSize, certificate) = (row.YesNo("one stock") ?? false, row.YesNo("one size") ?? false, row.YesNo("certificate") ?? false);
        var ends = AngleCells.Read(row);
        if (section is { } sawn)
        {
            PartSections.CheckEnds(row, ends, sawn);
        }

        var lie = ModelRows.LieOf(row);
        var perBlank = GangCells.Read(row);
        var note = row.Remark("note");
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
        if (row.Failed || material is null || quantity is not { } wanted || size is not { Length: var length, Width: { } width, Thickness: { } thickness })
        {
            return null;
        }

        AngleCells.CheckLength(row, ends, length, width, thickness);
        if (row.Failed)
        {
            return null;
        }

        if (section is null && !round && thickness > Length.Max(width, length))
        {
            row.Doubt(row.Has("thickness") ? "thickness" : PartColumns.Size, "part-thick", "the part is thicker than it is long and wide", "check whether the sizes are swapped");
        }

        var part = new Part
        {
            Id = id,
            MaterialId = material.Id,
            Round = round,
            Length = length,
            Width = width,
            Thickness = thickness,
            Quantity = wanted * each,
            Extra = extra,
            ExtraPercent = extraPercent,
            Forms = forms,
            MayTurn = mayTurn,
            Lie = lie,
            Holding = holding,
            MillFaces = millFaces,
            MillSides = millSides,
            Allowances = own == NoOverrides ? null : own,
            Ends = ends,
            MillMinutes = millMinutes,
            SetUpMinutes = setUpMinutes,
            SetUps = setUps,
            OneStock = oneStock,
            OneSize = oneSize,
            Certificate = certificate,
            PerBlank = perBlank,
            Note = note,
            Detail = section?.Detail,
        };
        if (section is null && JobSections.Fault(part) is { } fault)
        {
            row.Error("forms", fault.Rule, fault.Message, fault.Advice);
            return null;
        }

        return part;
    }

    private static Forms FormsOf(CsvRow row)
    {
        if (!row.Has("forms"))
        {
            return Forms.Any;
        }

        var read = Words.FormsOf(row.Text("forms"), out var unknown);
        if (read is null)
        {
            row.Error("forms", "word-unknown", $"there is no form '{unknown}'", $"write {Words.FormList}, bar or any; several solid forms apart by + or /");
        }

        return read ?? Forms.Any;
    }

    /// <summary>From the columns of single sizes, or from one text; null after a finding.</summary>
    private static PartSize? SizeOf(CsvRow row, SizeOrder order, Forms forms)
    {
        if (!row.Has(PartColumns.Size))
        {
            var round = row.Has("diameter");
            var length = row.RequiredSize("length");
            var (width, thickness) = round ? Round(row) : (row.RequiredSize("width"), row.RequiredSize("thickness"));
            return row.Failed ? null : new(round, length, width, thickness);
        }

        if (row.MarkOf(PartColumns.Size) is null)
        {
            row.Fail(); // which mark it is was asked for the whole column
            return null;
        }

        var reading = Size(row, row.UnitOf(PartColumns.Size));
        if (reading.Error.Length > 0)
        {
            row.Unreadable(PartColumns.Size, "size-unreadable", reading.Error, reading.Hint);
            return null;
        }

        var sides = reading.Items.All(item => row.Sound(PartColumns.Size, item.Length));
        if (!sides || order.Read(row, reading.Items, forms == Forms.RoundBar ? true : null) is not { } size)
        {
            return null;
        }

        foreach (var (column, here) in new (string, Length?)[] { ("length", size.Length), ("width", size.Round ? null : size.Width), ("thickness", size.Round ? null : size.Thickness), ("diameter", size.Round ? size.Width : null) })
        {
            if (row.Has(column) && here is { } known && row.Size(column) is { } other && other != known)
            {
                row.Error(column, "size-twice", $"{column} is {row.Text(column)}, but the size {row.Text(PartColumns.Size)} says otherwise", "correct one of them, or leave one empty");
            }
        }

        return size with { Thickness = size.Thickness ?? row.Size("thickness") };
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

        var reading = NumberText.Read(text[..^1], row.MarkOf("extra") ?? '.');
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
