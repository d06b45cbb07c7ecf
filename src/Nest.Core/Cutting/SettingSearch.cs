using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>Finds an order of settings in which a layout's cuts can be made with few settings of fence and stop.</summary>
/// <remarks>
/// Problem: each cut takes a child off one end of a free piece of metal, with fence or stop set to the child's size; a strip can be
/// cut only once it lies free; cuts of equal setting made one after the other need one setting. Fewest settings: a shortest common
/// supersequence under precedence (NP-hard in general).
/// Method: breadth-first search over states (what is left of every split), one level per setting. After each setting every cut that it
/// serves is made at once: a cut that costs no setting only makes what is left smaller, so nothing is lost by it. Levels are cut
/// to the most promising states (beam search) when they grow too large.
/// Guarantee: when no level had to be cut, or the number equals the number of different settings that any order needs, no order of
/// this kind has fewer settings; else heuristic. Where some child is shorter than what the clamp must hold nothing is claimed (a cut
/// that costs no setting may then take away what could be held). Larger measures are tried first, so among orders with
/// equally few settings wide rips come early. Deterministic. Cost: levels × beam × settings × splits.
/// </remarks>
internal static class SettingSearch
{
    /// <summary>Settings in order, the one in force at the start not included.</summary>
    /// <param name="start">In force from the last trim; null: none.</param>
    public static (IReadOnlyList<Setting> Order, bool Fewest) Find(SplitGraph graph, Length shortestHeld, Setting? start)
    {
        var splits = graph.Splits.Count;
        var width = Math.Clamp(30_000 / (splits + 1), 4, 2_000);
        var state = new CutState(graph, shortestHeld);
        if (start is { } inForce)
        {
            state.ApplyAll(inForce);
        }

        var level = new List<Node> { new(state, null, default) };
        var cutShort = false;
        while (true)
        {
            if (level.Find(node => node.State.CutsLeft() == 0) is { } goal)
            {
                var order = goal.Path();
                var needed = Needed(graph, start);
                var allHeld = graph.Splits.All(split => split.Children.All(child => child.Size >= shortestHeld));
                return (order, allHeld && (!cutShort || order.Count == needed));
            }

            var seen = new HashSet<CutState>(SameCells.Instance);
            var next = new List<Node>();
            foreach (var node in level)
            {
                foreach (var setting in Settings(node.State, splits))
                {
                    var after = node.State.Copy();
                    after.ApplyAll(setting);
                    if (seen.Add(after))
                    {
                        next.Add(new(after, node, setting));
                    }
                }
            }

            if (next.Count > width)
            {
                cutShort = true;
                next = [.. next.OrderBy(node => Promise(graph, node.State)).Take(width)];
            }

            level = next;
        }
    }

    private static IEnumerable<Setting> Settings(CutState state, int splits) => Enumerable.Range(0, splits)
        .SelectMany(state.Moves)
        .Select(move => move.Setting)
        .Distinct()
        .OrderByDescending(setting => setting.Measure)
        .ThenBy(setting => setting.Direction);

    // Different settings still needed, then cuts left.
    private static long Promise(SplitGraph graph, CutState state)
    {
        var needed = new HashSet<Setting>();
        var cuts = 0;
        for (var number = 0; number < graph.Splits.Count; number++)
        {
            var left = state.CutsLeft(number);
            cuts += left;
            if (left > 0)
            {
                AddNeeded(graph.Splits[number], state.First(number), state.Last(number), state.HasTail(number), needed);
            }
        }

        return ((long)needed.Count << 32) + cuts;
    }

    /// <summary>Different settings that every order needs beside the one in force at the start.</summary>
    private static int Needed(SplitGraph graph, Setting? start)
    {
        var needed = new HashSet<Setting>();
        foreach (var split in graph.Splits)
        {
            AddNeeded(split, 0, split.Children.Count - 1, split.Tail, needed);
        }

        // The setting in force may serve only cuts of the first split; counting it as free keeps this a lower bound.
        return needed.Count - (start is { } inForce && needed.Contains(inForce) ? 1 : 0);
    }

    // In a row all but one child are measured: a size that occurs twice always is, and any size when what remains is known.
    private static void AddNeeded(Split split, int first, int last, bool tail, HashSet<Setting> needed)
    {
        var remainderKnown = split.Children[last].Offcut || tail;
        var sizes = new HashSet<Length>();
        for (var index = first; index <= last; index++)
        {
            var child = split.Children[index];
            if (index == last && child.Offcut)
            {
                break;
            }

            if (!sizes.Add(child.Size) || remainderKnown)
            {
                needed.Add(new(split.Direction, child.Size));
            }
        }
    }

    private sealed record Node(CutState State, Node? Before, Setting Setting)
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
