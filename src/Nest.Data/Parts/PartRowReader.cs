using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Models;
using Nest.Data.Stocks;
using Nest.Data.Tables;

namespace Nest.Data.Parts;

/// <summary>Reads one row of a parts list.</summary>
/// <param name="order">Order of the numbers in a size that is one text.</param>
/// <param name="batch">Sets that are made.</param>
/// <param name="unit">Unit of bare numbers.</param>
internal sealed class PartRowReader(SizeOrder order, int batch, MaterialBook book, LengthUnit unit)
{
    /// <summary>More of one part than any small shop cuts in a batch; a larger number is a typing mistake.</summary>
    public const int MostPieces = 1_000_000;

    /// <summary>A week and more at the mill for one piece or one set-up: no such part.</summary>
    private const decimal MostMinutes = 10_000m;

    private const int MostSetUps = 1000;

    private static readonly AllowanceOverrides NoOverrides = new();

    private readonly Dictionary<string, (Material, SourcePosition)> names = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Materials by the words that the rows have for them.</summary>
    public Dictionary<string, (Material, SourcePosition)> Names => names;

    /// <summary>Of a part that is milled several from a blank none are planned: the number in a blank would be another question.</summary>
    public static int? FreeSpares(CsvRow row, Part part)
    {
        var spares = row.Has("free spares") ? row.Whole("free spares", 0, MostPieces) : null;
        if (spares > 0 && part.PerBlank is not null)
        {
            row.Error("free spares", "free-spares-per-blank", $"'{part.Id}' is milled several from one blank, and free spares are laid singly", "leave 'free spares' empty and ask for 'extra' pieces, or leave 'per blank' empty");
        }

        return spares;
    }

    /// <summary>The row's part; of a row that names a model, each part of the model.</summary>
    public List<Part> PartsOf(CsvRow row, ModelShelf models)
    {
        if (!row.Has(ModelRows.Model))
        {
            return ReadPart(row, row.Required("part").Length > 0 ? row.Name("part") : "", null, 1) is { } one ? [one] : [];
        }

        var list = new List<Part>();
        var measured = ModelRows.Read(row, models, unit);
        foreach (var model in measured)
        {
            var name = models.NameFor(row.Has("part") ? row.Name("part") : "", model, measured.Count);
            var size = model.Size!;
            if (ReadPart(row, name, new(size.Round, size.Length, size.Width, size.Thickness), model.Part.Count) is { } part)
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
    private Part? ReadPart(CsvRow row, string id, PartSize? model, int each)
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

        var size = model ?? (section is { } cells ? new(false, cells.Length, cells.Width, cells.Thickness) : asksSection ? null : PartSizeCells.Read(row, order, forms));
        var (extra, extraPercent) = row.Failed ? (0, null) : Extra(row, (quantity ?? 0) * each);
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

    /// <summary>A count, or a percentage of the batch's pieces, rounded up.</summary>
    private (int Count, decimal? Percent) Extra(CsvRow row, int quantity)
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
}
