using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>Orders of the cuts of one layout.</summary>
internal static class CutOrder
{
    /// <summary>All cuts that a setting serves, setting after setting: on the metal at hand first, then on the largest.</summary>
    public static IReadOnlyList<Move> BySettings(
        SplitGraph graph, Length shortestHeld, IReadOnlyList<Setting> settings, Setting? start)
    {
        var state = new CutState(graph, shortestHeld);
        var moves = new List<Move>();
        var onSaw = 0;
        while (state.MarkedMove() is { } move)
        {
            Make(move);
        }

        foreach (var setting in start is { } inForce ? settings.Prepend(inForce) : settings)
        {
            while ((Next(graph, state, setting, onSaw) ?? state.MarkedMove()) is { } move)
            {
                Make(move);
            }
        }

        return moves;

        void Make(Move move)
        {
            state.Apply(move);
            moves.Add(move);
            onSaw = move.Split;
        }
    }

    /// <summary>The plain order: a strip is cut up as soon as it comes off, then the rest goes on.</summary>
    public static IReadOnlyList<Move> RowByRow(SplitGraph graph, Length shortestHeld)
    {
        var state = new CutState(graph, shortestHeld);
        var moves = new List<Move>();
        // Splits are numbered from the top down, a strip's own before its neighbours': an explicit stack, since trees may be deep.
        var open = new Stack<int>([0]);
        while (open.TryPeek(out var split))
        {
            var move = state.Moves(split).Cast<Move?>().FirstOrDefault();
            if (move is null)
            {
                open.Pop();
                continue;
            }

            state.Apply(move.Value);
            moves.Add(move.Value);
            foreach (var child in graph.Splits[split].Children.Where(child => child.Split >= 0 && state.Open(child.Split)))
            {
                if (!open.Contains(child.Split))
                {
                    open.Push(child.Split);
                }
            }
        }

        return moves;
    }

    private static Move? Next(SplitGraph graph, CutState state, Setting setting, int onSaw)
    {
        if (state.FirstMove(onSaw, setting) is { } here)
        {
            return here;
        }

        Move? best = null;
        var largest = Area.Zero;
        for (var split = 0; split < graph.Splits.Count; split++)
        {
            if (state.FirstMove(split, setting) is { } move)
            {
                var area = graph.Splits[split].Extent(state.First(split), state.Last(split), state.HasTail(split)).Area;
                if (best is null || area > largest)
                {
                    (best, largest) = (move, area);
                }
            }
        }

        return best;
    }
}
