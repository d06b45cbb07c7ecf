using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.History;
using Nest.Rack.Pieces;
using Nest.Rack.Values;

namespace Nest.Rack.Plans;

/// <summary>Books one stock piece that was cut.</summary>
/// <remarks>The metal of the piece = good blanks + leftovers + kerf + waste, to the microgram. Blanks, leftovers and kerf are computed
/// each from its own geometry; the waste is what remains, and where the cut went as planned it must agree with the geometry of trims
/// and scrapped offcuts to a milligram (the roundings), else the layout is refused.</remarks>
internal sealed class CutBooking
{
    private const long Milligram = 1000;

    private readonly ChangeSet change;
    private readonly StoredLayout layout;
    private readonly StoredPiece stock;
    private readonly string batch;
    private readonly string place;
    private readonly string note;
    private readonly decimal density;

    public CutBooking(ChangeSet change, StoredLayout layout, StoredPiece stock, string batch, string? place, string note)
    {
        this.change = change;
        this.layout = layout;
        this.stock = stock;
        this.batch = batch.Length == 0 ? PlanNumber.Format(PlanRows.First(change.Db, layout.PlanId)) : batch;
        this.place = place ?? stock.Piece.Place;
        this.note = note.Trim();
        density = Materials.Find(change.Db, stock.Piece.MaterialId).Density;
    }

    /// <summary>Cut as planned, but for spoiled blanks and, where given, other leftovers.</summary>
    public List<RackPiece> AsPlanned(ImmutableArray<PartCount> good, ImmutableArray<ActualLeftover>? actual)
    {
        var cutId = Consume(CutKind.AsPlanned);
        var blueprint = layout.Blueprint;
        var parts = Made(cutId, good);
        var kerf = MassOf(blueprint.Kerf);
        var leftovers = actual is { } other ? Enter(other) : EnterPlanned();
        var leftMass = leftovers.Sum(piece => piece.Micrograms);
        var waste = stock.Piece.Micrograms - parts - kerf - leftMass;

        // Independent of the sum above: scrap inside the sheet, what the piece is larger than the sheet, spoiled blanks.
        var beyond = stock.Piece.Micrograms - MassOf(blueprint.Sheet.Area);
        var spoiled = MassOf(Blanks()) - parts;
        var plannedLeft = MassOf(blueprint.Offcuts.Where(offcut => offcut.Keep).Aggregate(Area.Zero, (sum, offcut) => sum + offcut.Area.Area));
        var expected = MassOf(blueprint.Scrap) + beyond + spoiled + (plannedLeft - leftMass);
        if (Math.Abs(waste - expected) > Milligram)
        {
            throw RackException.Refused(
                $"the areas of layout {layout.Number} don't add up: {Grams(waste)} of waste by the sum, {Grams(expected)} by its trims and scrap",
                "check the plan with 'nest check'");
        }

        Close(cutId, parts, kerf, waste);
        return leftovers;
    }

    /// <summary>Cut otherwise: what was not saved is waste, chips among it.</summary>
    public List<RackPiece> AsMiscut(ImmutableArray<PartCount> good, ImmutableArray<ActualLeftover> actual)
    {
        var cutId = Consume(CutKind.Miscut);
        var parts = Made(cutId, good);
        var leftovers = Enter(actual);
        Close(cutId, parts, 0, stock.Piece.Micrograms - parts - leftovers.Sum(piece => piece.Micrograms));
        return leftovers;
    }

    private long Consume(CutKind kind)
    {
        PieceRows.Update(change, stock with { Piece = stock.Piece with { State = PieceState.Cut, ReservedFor = null } });
        return change.Insert(
            "cut", ("layout_id", layout.Id), ("piece_id", stock.Id), ("kind", (long)kind), ("at", change.At), ("note", note));
    }

    private long Made(long cutId, ImmutableArray<PartCount> good)
    {
        var area = Area.Zero;
        foreach (var part in good.Where(part => part.Count > 0))
        {
            change.Insert("made", ("cut_id", cutId), ("part", part.PartId), ("count", (long)part.Count), ("batch", batch));
            area += layout.Blueprint.Pieces
                .Where(piece => string.Equals(piece.PartId, part.PartId, StringComparison.OrdinalIgnoreCase))
                .Take(part.Count)
                .Aggregate(Area.Zero, (sum, piece) => sum + piece.Area.Area);
        }

        return MassOf(area);
    }

    private List<RackPiece> EnterPlanned()
    {
        var parent = stock.Piece;

        // A plan of a rest counts almost nothing for what is paid for; its leftovers are worth what they were when it was bought.
        Money? paid = layout.PieceId is not null && PaidStock.Worths(change.Db, layout.PlanId).TryGetValue(stock.Id, out var worth) ? worth : null;
        var entered = new List<RackPiece>();
        foreach (var offcut in layout.Blueprint.Offcuts.Where(offcut => offcut.Keep))
        {
            entered.Add(Child(
                parent.Form.IsBar() ? new(offcut.Area.SizeX, parent.Width) : new(offcut.Area.SizeX, offcut.Area.SizeY),
                offcut.Clean, KeepOutsWithin(parent.KeepOuts, offcut.Area), parent.Condition,
                paid is { } whole ? Core.Costing.StockWorth.Share(whole, offcut.Area.Area, layout.Blueprint.Sheet.Area) : Carried(offcut.Value, parent.Condition)));
        }

        return entered;
    }

    /// <summary>What a piece carries that is worth so much in its condition: its condition is counted each time that its value is asked for, so a value
    /// that has it already would lose by it again from cut to cut.</summary>
    private Money Carried(Money worth, PieceCondition condition) =>
        condition != PieceCondition.Good && ValueRules.Of(change.Db).Condition(condition) is > 0m and < 1m and var factor
            ? Money.FromUnits((long)decimal.Ceiling(worth.Units / factor))
            : worth;

    private List<RackPiece> Enter(ImmutableArray<ActualLeftover> actual)
    {
        var parent = stock.Piece;
        var entered = new List<RackPiece>();
        foreach (var left in actual)
        {
            var width = parent.Form.IsBar() ? parent.Width : left.Width;
            Believe(left, width);
            var share = parent.Form.IsBar()
                ? (decimal)left.Length.Nanometres / parent.Length.Nanometres
                : (left.Length * width).ShareOf(parent.Length * parent.Width);
            var value = left.Value ?? Money.FromAmountDown(parent.Value.Amount * share * (parent.Bought ? 0.6m : 0.9m));
            entered.Add(Child(new(left.Length, width), left.CleanEdges, left.KeepOuts, left.Condition ?? parent.Condition, value));
        }

        return entered;
    }

    /// <summary>Refuses a leftover that cannot have come out of the piece, or of which nobody said whether the damage is on it.</summary>
    private void Believe(ActualLeftover left, Length width)
    {
        var parent = stock.Piece;
        if (left.Length > parent.Length || width > parent.Width)
        {
            const string advice = "give the length along that of the piece, then the width";
            throw parent.Form.IsBar()
                ? RackException.RefusedSize($"a leftover of {left.Length} cannot come out of {parent.Mark}, which is {parent.Length} long", advice)
                : RackException.RefusedSize($"a leftover of {left.Length} × {width} cannot come out of {parent.Mark} of {parent.Length} × {parent.Width}", advice);
        }

        if (!parent.KeepOuts.IsEmpty && left.KeepOuts.IsEmpty && !left.Sound)
        {
            throw RackException.RefusedSize(
                $"{parent.Mark} has keep-outs, and it is not said whether the leftover of {left.Length} × {width} has them too",
                "say --sound where no damage is left on it, else --keep-out x,y,width,height on the leftover");
        }
    }

    private RackPiece Child((Length Length, Length Width) size, CleanEdges clean, ImmutableArray<Rect> keepOuts, PieceCondition condition, Money value)
    {
        var parent = stock.Piece;
        var bar = parent.Form.IsBar();
        return PieceRows.Insert(change, new RackPiece
        {
            Form = parent.Form,
            MaterialId = parent.MaterialId,
            Length = size.Length,
            Width = size.Width,
            Thickness = parent.Thickness,
            Detail = parent.Detail,
            ListedSection = parent.ListedSection,
            MinWidth = bar ? parent.MinWidth : null,
            MinThickness = parent.MinThickness,
            Rolling = parent.Rolling,
            CleanEdges = clean,
            KeepOuts = keepOuts,
            GoodFaces = parent.GoodFaces,
            Heat = parent.Heat,
            Certificate = parent.Certificate,
            Place = place,
            Supplier = parent.Supplier,
            Origin = $"{PlanNumber.Format(layout.PlanId)} layout {layout.Number}, from {parent.Mark}",
            ParentMark = parent.Mark,
            Value = value,
            Condition = condition,
        }, stock.Id).Piece;
    }

    private void Close(long cutId, long parts, long kerf, long waste)
    {
        if (waste < -Milligram)
        {
            throw RackException.Refused(
                $"blanks and leftovers weigh {Grams(-waste)} more than {stock.Piece.Mark} did", "measure the leftovers again");
        }

        Ledger.Add(change, LedgerKind.Parts, stock.Id, cutId, parts);
        Ledger.Add(change, LedgerKind.Kerf, stock.Id, cutId, kerf);
        Ledger.Add(change, LedgerKind.Waste, stock.Id, cutId, waste);
    }

    private Area Blanks() => layout.Blueprint.Pieces.Aggregate(Area.Zero, (sum, piece) => sum + piece.Area.Area);

    private long MassOf(Area area) => PieceMass.OfArea(stock.Piece.ToStock(Money.Zero), layout.Blueprint.Sheet, area, density);

    private static ImmutableArray<Rect> KeepOutsWithin(ImmutableArray<Rect> keepOuts, Rect area) =>
        [.. keepOuts.Where(area.Overlaps).Select(keepOut =>
        {
            var left = Length.Max(keepOut.X, area.X);
            var bottom = Length.Max(keepOut.Y, area.Y);
            var right = Length.Min(keepOut.Right, area.Right);
            var top = Length.Min(keepOut.Top, area.Top);
            return new Rect(left - area.X, bottom - area.Y, right - left, top - bottom);
        })];

    private static string Grams(long micrograms) =>
        (micrograms / 1_000_000m).ToString("0.###", System.Globalization.CultureInfo.InvariantCulture) + " g";
}
