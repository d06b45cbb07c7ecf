using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>Finds an order of settings in which a layout's cuts can be made with few settings of fence and stop.</summary>
/// <remarks>
/// Problem: each cut takes a child off one end of a free piece of metal, with fence or stop set to the child's size; a strip can be
/// cut only once it lies free; cuts of equal setting made one after the other need one setting. Fewest settings: a shortest common
/// supersequence under precedence (NP-hard in general).
/// Method: breadth-first search over states (what is left of every split), one level per setting. After each setting every cut that it
/// serves is made at once: a cut that costs no setting only makes what is left smaller, so nothing is lost by it. A narrow beam first
/// gives an upper bound; the wider search then leaves out every state whose settings so far, plus the different settings that it
/// still needs (lower bound), are no fewer.
/// Guarantee: when the number meets the lower bound, or the wider search never had to drop a promising state, no order of this kind
/// has fewer settings; else heuristic. Where some child is shorter than what the clamp must hold nothing is claimed (a cut that costs
/// no setting may then take away what could be held). Settings that serve the largest metal, then larger measures, are tried first,
/// so among orders with equally few settings the big rips come while the plate is whole. Deterministic.
/// Cost: levels × beam × settings × splits.
/// </remarks>
internal static class SettingSearch
{
    private const int NarrowBeam = 8;
    private const int WideBeam = 4_000;
    private const int WidestState = 12_000;

    /// <summary>Settings in order, the one in force at the start not included.</summary>
    /// <param name="start">In force from the last trim; null: none.</param>
    public static (IReadOnlyList<Setting> Order, bool Fewest) Find(SplitGraph graph, Length shortestHeld, Setting? start)
    {
        var root = new CutState(graph, shortestHeld);
        root.ApplyMarked();
        if (start is { } inForce)
        {
            root.ApplyAll(inForce);
        }

        var allHeld = graph.Splits.All(split => split.Children.All(child => child.Size >= shortestHeld));
        var (order, complete) = Search(graph, root, NarrowBeam, int.MaxValue);
        if (order!.Count == Needed(graph, root))
        {
            return (order, allHeld);
        }

        if (!complete)
        {
            var width = Math.Clamp(WidestState / (graph.Splits.Count + 1), NarrowBeam, WideBeam);
            (var better, complete) = Search(graph, root, width, order.Count);
            order = better ?? order;
        }

        return (order, allHeld && complete);
    }

    /// <summary>Searches orders of fewer settings than a known one; null: none was found.</summary>
    private static (List<Setting>? Order, bool Complete) Search(SplitGraph graph, CutState root, int width, int known)
    {
        var level = new List<Node> { new(root, null, default, 0) };
        var complete = true;
        for (var depth = 0; level.Count > 0; depth++)
        {
            if (level.Find(node => node.State.CutsLeft() == 0) is { } goal)
            {
                return (goal.Path(), complete);
            }

            var seen = new HashSet<CutState>(SameCells.Instance);
            var next = new List<Node>();
            foreach (var node in level)
            {
                foreach (var setting in Settings(graph, node.State))
                {
                    var after = node.State.Copy();
                    after.ApplyAll(setting);
                    var needed = Needed(graph, after);
                    if (depth + 1 + needed < known && seen.Add(after))
                    {
                        next.Add(new(after, node, setting, ((long)needed << 32) + after.CutsLeft()));
                    }
                }
            }

            if (next.Count > width)
            {
                complete = false;
                next = [.. next.OrderBy(node => node.Promise).Take(width)];
            }

            level = next;
        }

        return (null, complete);
    }

    private static IEnumerable<Setting> Settings(SplitGraph graph, CutState state)
    {
        var largest = new Dictionary<Setting, Area>();
        for (var number = 0; number < graph.Splits.Count; number++)
        {
            if (!state.Open(number))
            {
                continue;
            }

            var area = graph.Splits[number].Extent(state.First(number), state.Last(number), state.HasTail(number)).Area;
            foreach (var move in state.Moves(number).Where(move => !move.Setting.Marked))
            {
                if (!largest.TryGetValue(move.Setting, out var known) || area > known)
                {
                    largest[move.Setting] = area;
                }
            }
        }

        return largest
            .OrderByDescending(pair => pair.Value)
            .ThenByDescending(pair => pair.Key.Measure)
            .ThenBy(pair => pair.Key.Direction)
            .Select(pair => pair.Key);
    }

    /// <summary>Different settings that every order needs from here.</summary>
    /// <remarks>In a row all but one child are measured, offcuts never: a size that occurs twice always is, and every size when it is known that
    /// an offcut, or nothing, remains. None of them is in force: what it serves has been cut already.</remarks>
    private static int Needed(SplitGraph graph, CutState state)
    {
        var needed = new HashSet<Setting>();
        var sizes = new HashSet<Length>();
        for (var number = 0; number < graph.Splits.Count; number++)
        {
            if (state.CutsLeft(number) == 0)
            {
                continue;
            }

            var split = graph.Splits[number];
            var (first, last) = (state.First(number), state.Last(number));
            var remainderKnown = split.Children[last].Offcut || state.HasTail(number);
            sizes.Clear();
            for (var index = first; index <= last; index++)
            {
                var child = split.Children[index];
                if (child.Offcut)
                {
                    continue;
                }

                if (!sizes.Add(child.Size) || remainderKnown)
                {
                    needed.Add(new(split.Direction, child.Size));
                }
            }
        }

        return needed.Count;
    }

    private sealed record Node(CutState State, Node? Before, Setting Setting, long Promise)
    {
        public List<Setting> Path()
        {
            var path = new List<Setting>();
            for (var node = this; node.Before is not null; node = node.Before)
            {
                path.Add(node.Setting);
            }

            path.Reverse();
            return path;
        }
    }

    private sealed class SameCells : IEqualityComparer<CutState>
    {
        public static SameCells Instance { get; } = new();

        public bool Equals(CutState? x, CutState? y) => x!.Cells.SequenceEqual(y!.Cells);

        public int GetHashCode(CutState state)
        {
            var hash = default(HashCode);
            foreach (var cell in state.Cells)
            {
                hash.Add(cell);
            }

            return hash.ToHashCode();
        }
    }
}
