using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>A setting of fence or stop: which fence, and how far.</summary>
/// <param name="Marked">No setting at all: the cut is made at a mark on the metal (<see cref="CutStep.Marked"/>).</param>
internal readonly record struct Setting(CutDirection Direction, Length Measure, bool Marked = false);

/// <summary>Which end of a split a cut works at.</summary>
internal enum CutEnd
{
    /// <summary>Takes the first child off; its near edge lies against the fence.</summary>
    Low,

    /// <summary>Takes the last child off; its far edge lies against the fence.</summary>
    High,

    /// <summary>Takes the first child off, an offcut: the far edge of the rest lies against the fence, and the offcut falls free; a
    /// bar is cut at a mark.</summary>
    FreeLow,

    /// <summary>Takes the last child off, an offcut: the near edge of the rest lies against the fence; a bar is cut at a mark.</summary>
    FreeHigh,

    /// <summary>Takes the tail off: dust, or a bar's right trim.</summary>
    Tail,
}

/// <summary>A cut that can be made now.</summary>
internal readonly record struct Move(int Split, CutEnd End, Setting Setting);

/// <summary>How far each split is cut up: its first and last child still together, whether the tail is still on, and whether it has
/// been cut free from its parent.</summary>
internal sealed class CutState
{
    private const long Free = 1L << 62;
    private const long Tail = 1L << 61;

    private readonly SplitGraph graph;
    private readonly Length shortest;
    private readonly long[] cells;

    public CutState(SplitGraph graph, Length shortestHeld)
    {
        this.graph = graph;
        shortest = shortestHeld;
        cells = new long[graph.Splits.Count];
        for (var split = 0; split < cells.Length; split++)
        {
            cells[split] = Cell(0, graph.Splits[split].Children.Count - 1, graph.Splits[split].Tail, split == 0);
        }
    }

    private CutState(CutState from)
    {
        graph = from.graph;
        shortest = from.shortest;
        cells = (long[])from.cells.Clone();
    }

    public CutState Copy() => new(this);

    public ReadOnlySpan<long> Cells => cells;

    public int First(int split) => (int)(cells[split] & 0xFFFFFF);

    public int Last(int split) => (int)((cells[split] >> 24) & 0xFFFFFF);

    public bool HasTail(int split) => (cells[split] & Tail) != 0;

    /// <summary>Whether it lies free and has cuts left.</summary>
    public bool Open(int split) => (cells[split] & Free) != 0 && CutsLeft(split) > 0;

    public int CutsLeft(int split) => Math.Max(0, Last(split) - First(split)) + (HasTail(split) ? 1 : 0);

    public int CutsLeft() => Enumerable.Range(0, cells.Length).Sum(CutsLeft);

    /// <summary>The cuts that can be made in one split now without leaving anything that cannot be held.</summary>
    public IEnumerable<Move> Moves(int number)
    {
        if (!Open(number))
        {
            yield break;
        }

        var split = graph.Splits[number];
        var (first, last, tail) = (First(number), Last(number), HasTail(number));
        var low = first < last || (tail && !split.TailFromEnd);
        var high = first < last && !tail && !split.Children[last].Offcut;
        var lowHeld = low && LowHeld(split, first, last, tail);
        var highHeld = high && HighHeld(split, first, last);
        var lowEnd = split.FreeFirst(first, last) ? CutEnd.FreeLow : CutEnd.Low;
        if (lowHeld)
        {
            yield return Make(number, split, lowEnd, first, last);
        }

        if (highHeld)
        {
            yield return Make(number, split, CutEnd.High, first, last);
        }

        if (tail && (split.TailFromEnd || (!lowHeld && !highHeld && first < last)) && split.HasHolder(first, last, shortest))
        {
            yield return Make(number, split, CutEnd.Tail, first, last);
            yield break;
        }

        if (lowHeld || highHeld)
        {
            yield break;
        }

        // Nothing else is left: the offcut first, or a cut although the clamp is short (the plan checker reports that).
        if (first < last && !tail && HighHeld(split, first, last))
        {
            yield return Make(number, split, CutEnd.FreeHigh, first, last);
        }
        else
        {
            yield return Make(number, split, low ? lowEnd : CutEnd.Tail, first, last);
        }
    }

    public void Apply(Move move)
    {
        var split = graph.Splits[move.Split];
        var (first, last, tail) = (First(move.Split), Last(move.Split), HasTail(move.Split));
        switch (move.End)
        {
            case CutEnd.Low or CutEnd.FreeLow when first < last:
                Release(split.Children[first].Split);
                first++;
                break;
            case CutEnd.High or CutEnd.FreeHigh:
                Release(split.Children[last].Split);
                last--;
                break;
            default:
                tail = false;
                break;
        }

        if (first == last && !tail)
        {
            Release(split.Children[first].Split);
        }

        cells[move.Split] = Cell(first, last, tail, true);
    }

    /// <summary>Makes every cut that this setting serves, also those that become possible thereby.</summary>
    public void ApplyAll(Setting setting)
    {
        for (var again = true; again;)
        {
            again = false;
            for (var split = 0; split < cells.Length; split++)
            {
                while (FirstMove(split, setting) is { } move)
                {
                    Apply(move);
                    again = true;
                }
            }

            again |= ApplyMarked();
        }
    }

    /// <summary>Makes the cuts that need no setting, once no other can be made: a remnant is easier to turn than the whole bar.</summary>
    public bool ApplyMarked()
    {
        var any = false;
        while (MarkedMove() is { } move)
        {
            Apply(move);
            any = true;
        }

        return any;
    }

    /// <inheritdoc cref="ApplyMarked"/>
    public Move? MarkedMove()
    {
        if (!graph.IsBar)
        {
            return null;
        }

        Move? marked = null;
        for (var split = 0; split < cells.Length; split++)
        {
            foreach (var move in Moves(split))
            {
                if (!move.Setting.Marked)
                {
                    return null;
                }

                marked = move;
            }
        }

        return marked;
    }

    /// <summary>The first cut of a split that this setting serves.</summary>
    public Move? FirstMove(int split, Setting setting)
    {
        foreach (var move in Moves(split))
        {
            if (move.Setting == setting)
            {
                return move;
            }
        }

        return null;
    }

    private Move Make(int number, Split split, CutEnd end, int first, int last)
    {
        var measure = end switch
        {
            CutEnd.FreeLow when !split.Bar => split.SizeOf(split.Extent(first + 1, last, HasTail(number))),
            CutEnd.FreeHigh when !split.Bar => split.SizeOf(split.Extent(first, last - 1, false)),
            CutEnd.Low or CutEnd.FreeLow => split.Children[first].Size,
            CutEnd.High or CutEnd.FreeHigh => split.Children[last].Size,
            _ when split.TailFromEnd => split.TailSolid,
            _ => split.SizeOf(split.Extent(first, last, false)),
        };
        var marked = end == CutEnd.Tail ? split.TailFromEnd : split.Bar && (end is CutEnd.FreeLow or CutEnd.FreeHigh);
        return new(number, end, new(split.Direction, measure, marked));
    }

    // After the cut one side is a single finished piece or holds a child that is long enough for all later cuts.
    private bool LowHeld(Split split, int first, int last, bool tail)
    {
        if (first == last)
        {
            return split.Children[first].Size >= shortest || split.TailSolid >= shortest;
        }

        return split.HasHolder(first + 1, last, shortest)
            || (first + 1 == last && !tail && split.Children[first].Size >= shortest);
    }

    private bool HighHeld(Split split, int first, int last) =>
        split.HasHolder(first, last - 1, shortest) || (first == last - 1 && split.Children[last].Size >= shortest);

    private void Release(int split)
    {
        if (split >= 0)
        {
            cells[split] |= Free;
        }
    }

    private static long Cell(int first, int last, bool tail, bool free) =>
        (uint)first | ((long)last << 24) | (tail ? Tail : 0) | (free ? Free : 0);
}
