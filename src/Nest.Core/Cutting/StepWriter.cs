using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>Writes a given order of cuts as steps: what is on the saw, what comes off and where it goes.</summary>
internal sealed class StepWriter(Saw saw)
{
    private readonly List<CutStep> steps = [];
    private Setting? inForce;
    private int settings;

    /// <summary>The steps for a bar.</summary>
    public static ImmutableArray<CutStep> Bar(Saw saw, bool fromRight, IReadOnlyList<BarMove> moves)
    {
        var writer = new StepWriter(saw);
        foreach (var move in moves)
        {
            var against = fromRight ? Edge.Right : Edge.Left;
            writer.Add(move.Purpose, move.Metal with { To = Destination.Saw }, move.Setting, against, move.Kerf, move.Yields);
        }

        return [.. writer.steps];
    }

    /// <summary>The steps for a plate.</summary>
    public static ImmutableArray<CutStep> Plate(Saw saw, SplitGraph graph, IReadOnlyList<TrimCut> trims, IReadOnlyList<Move> moves)
    {
        var writer = new StepWriter(saw);
        foreach (var trim in trims)
        {
            writer.Write(trim, trim == trims[^1] ? graph.Whole : null);
        }

        var state = new CutState(graph);
        foreach (var move in moves)
        {
            writer.Write(graph.Splits[move.Split], move, state.Of(move.Split));
            state.Apply(move);
        }

        writer.NameStrips();
        return [.. writer.steps];
    }

    // What is chalked on the metal: short, and no two alike. A strip keeps its letter while pieces are cut off it.
    private void NameStrips()
    {
        var names = new Dictionary<string, (string Name, Rect Whole)>(StringComparer.Ordinal);
        for (var at = 0; at < steps.Count; at++)
        {
            var yields = steps[at].Yields.Select(Named).ToImmutableArray();
            steps[at] = steps[at] with { OnSaw = Named(steps[at].OnSaw), Yields = yields };
        }

        Workpiece Named(Workpiece piece)
        {
            if (piece.Kind != WorkKind.Strip)
            {
                return piece;
            }

            if (!names.TryGetValue(piece.Name, out var known))
            {
                names[piece.Name] = known = ("strip " + Letters(names.Count), piece.Area);
            }

            return piece with { Name = known.Name, IsRest = piece.Area != known.Whole };
        }
    }

    // A … Z, AA, AB …, without I and O, which look like figures.
    private static string Letters(int number)
    {
        const string Alphabet = "ABCDEFGHJKLMNPQRSTUVWXYZ";
        var text = "";
        for (var rest = number; rest >= 0; rest = (rest / Alphabet.Length) - 1)
        {
            text = Alphabet[rest % Alphabet.Length] + text;
        }

        return text;
    }

    private void Write(TrimCut trim, Workpiece? whole)
    {
        var rest = whole ?? new Workpiece(WorkKind.Stock, "sheet", trim.Rest, Destination.Pile);
        Workpiece? waste = trim.Waste is { } area ? new(WorkKind.Scrap, trim.Name, area, Destination.Bin) : null;
        Add(CutPurpose.Trim, new(WorkKind.Stock, "sheet", trim.Before, Destination.Saw), trim.Setting, trim.Against, trim.Kerf, Both(rest, waste));
    }

    private void Write(Split split, Move move, (int First, int Last, bool Tail) left)
    {
        var (first, last, tail) = left;
        var onSaw = new Workpiece(
            split.Root ? WorkKind.Stock : WorkKind.Strip, split.Name, split.Extent(first, last, tail), Destination.Saw);
        var (low, high) = split.Along ? (Edge.Bottom, Edge.Top) : (Edge.Left, Edge.Right);
        switch (move.End)
        {
            case CutEnd.FreeLow:
                Divide(high, Behind(split, first, onSaw.Area), Rest(split, first + 1, last, tail), Child(split, first));
                break;
            case CutEnd.FreeHigh:
                Divide(low, Behind(split, last - 1, onSaw.Area), Rest(split, first, last - 1, false), Child(split, last));
                break;
            case CutEnd.Low:
                Divide(low, Behind(split, first, onSaw.Area), Child(split, first), Rest(split, first + 1, last, tail));
                break;
            case CutEnd.High:
                Divide(high, Behind(split, last - 1, onSaw.Area), Child(split, last), Rest(split, first, last - 1, false));
                break;
            default:
                var kerf = Behind(split, last, onSaw.Area);
                Divide(low, kerf, Rest(split, first, last, false), Tail(split, kerf));
                break;
        }

        void Divide(Edge against, Rect kerf, Workpiece? one, Workpiece? other) =>
            Add(CutPurpose.Divide, onSaw, move.Setting, against, kerf, Both(one, other));
    }

    // The chips behind a child: one kerf, or what there is of it at the end of the metal.
    private Rect Behind(Split split, int child, Rect metal)
    {
        var area = split.Children[child].Metal.Area;
        return split.Along
            ? metal with { Y = area.Top, SizeY = Length.Min(saw.Kerf, metal.Top - area.Top) }
            : metal with { X = area.Right, SizeX = Length.Min(saw.Kerf, metal.Right - area.Right) };
    }

    private static Workpiece? Tail(Split split, Rect kerf)
    {
        var left = split.Along
            ? split.Area with { Y = kerf.Top, SizeY = split.Area.Top - kerf.Top }
            : split.Area with { X = kerf.Right, SizeX = split.Area.Right - kerf.Right };
        return left.SizeX > Length.Zero && left.SizeY > Length.Zero
            ? new(WorkKind.Scrap, split.Along ? "trim top" : "trim right", left, Destination.Bin)
            : null;
    }

    private static Workpiece Child(Split split, int child) => split.Children[child].Metal;

    private static Workpiece Rest(Split split, int first, int last, bool tail) => first == last && !tail
        ? split.Children[first].Metal
        : new(split.Root ? WorkKind.Stock : WorkKind.Strip, split.Name, split.Extent(first, last, tail), Destination.Pile);

    private void Add(CutPurpose purpose, Workpiece onSaw, Setting setting, Edge against, Rect kerf, IReadOnlyList<Workpiece> pieces)
    {
        var newSetting = !setting.Marked && inForce != setting;
        inForce = setting.Marked ? inForce : setting;
        settings += newSetting ? 1 : 0;
        var still = StayOnSaw(onSaw);
        var yields = pieces.ToImmutableArray();
        steps.Add(new CutStep
        {
            Number = steps.Count + 1,
            Purpose = purpose,
            Setting = settings,
            NewSetting = newSetting,
            Marked = setting.Marked,
            OnSaw = onSaw,
            StillOnSaw = still,
            Turn = still && steps[^1].Against != against,
            TurnedFrom = still && steps[^1].Against != against ? steps[^1].Against : null,
            Direction = setting.Direction,
            Against = against,
            Measure = setting.Measure,
            Kerf = kerf,
            Held = HeldSide(setting.Direction, kerf, yields),
            Yields = yields,
        });
    }

    private static List<Workpiece> Both(params ReadOnlySpan<Workpiece?> pieces)
    {
        var both = new List<Workpiece>();
        foreach (var piece in pieces)
        {
            if (piece is not null)
            {
                both.Add(piece);
            }
        }

        return both;
    }

    // If the step before left this metal, it is marked as staying on the saw. What else it left went to the pile.
    private bool StayOnSaw(Workpiece onSaw)
    {
        if (steps.Count == 0)
        {
            return false;
        }

        var before = steps[^1];
        for (var index = 0; index < before.Yields.Length; index++)
        {
            if (before.Yields[index].Area == onSaw.Area)
            {
                steps[^1] = before with { Yields = before.Yields.SetItem(index, before.Yields[index] with { To = Destination.Saw }) };
                return true;
            }
        }

        return false;
    }

    // The clamp holds the longer side.
    private static Edge HeldSide(CutDirection direction, Rect kerf, ImmutableArray<Workpiece> yields)
    {
        var held = yields.MaxBy(yield => direction == CutDirection.Rip ? yield.Area.SizeY : yield.Area.SizeX)!;
        return direction == CutDirection.Rip
            ? held.Area.Y < kerf.Y ? Edge.Bottom : Edge.Top
            : held.Area.X < kerf.X ? Edge.Left : Edge.Right;
    }
}
