using Nest.Core.Geometry;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>A setting of fence or stop: which fence, and how far.</summary>
/// <param name="Marked">No fence or stop: the cut is made at a mark on the metal (<see cref="CutStep.Marked"/>). Measuring and marking
/// counts as one setting.</param>
internal readonly record struct Setting(CutDirection Direction, Length Measure, bool Marked = false);

/// <summary>Which end of a split a cut works at.</summary>
internal enum CutEnd
{
    /// <summary>Takes the first child off; its near edge lies against the fence.</summary>
    Low,

    /// <summary>Takes the last child off; its far edge lies against the fence.</summary>
    High,

    /// <summary>Takes the first child off, an offcut: the far edge of the rest lies against the fence, and the offcut falls free.</summary>
    FreeLow,

    /// <summary>Takes the last child off, an offcut: the near edge of the rest lies against the fence.</summary>
    FreeHigh,

    /// <summary>Takes off what lies behind the last child: dust, or a raw edge.</summary>
    Tail,
}

/// <summary>One cut of a plate.</summary>
internal readonly record struct Move(int Split, CutEnd End, Setting Setting);

/// <summary>The order of a plate's cuts, and with it its settings.</summary>
/// <remarks>
/// Level by level of the tree: all strips of a level lie free when it begins. On a level the smallest measure that is next on any strip is
/// set, and every cut of this measure that is next anywhere is made, the strip on the saw first; and so on until the level is done. Within
/// a strip the cuts go from its low edge up to the last child, which is never measured; where that is too short for the clamp, to the last
/// child that the clamp can hold, and then from the far edge down to it. Waste is never caught between fence and blade: of an offcut the
/// rest is measured.
/// Where the children of every split lie in the order of their sizes (as the planner arranges them) a level takes one setting for each size
/// that is cut to on it, which is the least for its cuts made level by level. The checker counts by the same rule; so what the sheet asks
/// for is what is paid. O(cuts · splits of a level).
/// </remarks>
internal static class LevelOrder
{
    public static IReadOnlyList<Move> Of(SplitGraph graph, Length shortestHeld)
    {
        var moves = new List<Move>();
        var queues = graph.Splits.Select((split, number) => new Queue<Move>(OfSplit(split, number, shortestHeld))).ToArray();
        Setting? inForce = null;
        foreach (var level in Enumerable.Range(0, graph.Splits.Count).GroupBy(number => graph.Splits[number].Depth).OrderBy(level => level.Key))
        {
            var open = level.ToList();
            while (open.Count > 0)
            {
                var next = open.Select(number => queues[number].Peek().Setting).ToList();
                var setting = inForce is { } now && next.Contains(now)
                    ? now
                    : next.OrderBy(one => one.Measure).ThenBy(one => one.Direction).First();
                foreach (var number in open)
                {
                    while (queues[number].TryPeek(out var move) && move.Setting == setting)
                    {
                        moves.Add(queues[number].Dequeue());
                    }
                }

                inForce = setting;
                open.RemoveAll(number => queues[number].Count == 0);
            }
        }

        return moves;
    }

    private static IEnumerable<Move> OfSplit(Split split, int number, Length shortestHeld)
    {
        var (first, last, tail) = (0, split.Children.Count - 1, split.Tail);
        var stays = Stays(split, shortestHeld);
        for (; first < stays; first++)
        {
            yield return FallsFree(split, first, last)
                ? Make(CutEnd.FreeLow, split.SizeOf(split.Extent(first + 1, last, tail)))
                : Make(CutEnd.Low, split.Children[first].Size);
        }

        for (; last > stays; last--)
        {
            if (tail)
            {
                yield return Make(CutEnd.Tail, split.SizeOf(split.Extent(first, last, false)));
                tail = false;
            }

            yield return split.Children[last].Offcut
                ? Make(CutEnd.FreeHigh, split.SizeOf(split.Extent(first, last - 1, false)))
                : Make(CutEnd.High, split.Children[last].Size);
        }

        if (tail)
        {
            yield return Make(CutEnd.Tail, split.Children[stays].Size);
        }

        Move Make(CutEnd end, Length measure) => new(number, end, new(split.Direction, measure));
    }

    /// <summary>Whether the first of these children falls free: an offcut in front of something that is wanted, or of more waste.</summary>
    private static bool FallsFree(Split split, int first, int last) => split.Children[first].Offcut
        && (Enumerable.Range(first + 1, last - first).Any(child => !split.Children[child].Offcut)
            || split.SizeOf(split.Extent(first + 1, last, false)) >= split.Children[first].Size);

    /// <summary>The child that remains to the end: the last one, or the last that the clamp can hold.</summary>
    private static int Stays(Split split, Length shortestHeld)
    {
        for (var child = split.Children.Count - 1; child >= 0; child--)
        {
            if (split.Children[child].Size >= shortestHeld)
            {
                return child;
            }
        }

        return split.Children.Count - 1;
    }
}
