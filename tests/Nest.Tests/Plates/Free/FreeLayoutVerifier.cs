using Nest.Solve.Plates;

namespace Nest.Tests.Plates.Free;

/// <summary>Checks a free plan from the problem alone; shares no code with the kernel (no inflated sizes, no spaces).</summary>
internal static class FreeLayoutVerifier
{
    public static List<string> Faults(PlateProblem problem, PlateSolution solution)
    {
        var faults = new List<string>();
        var cut = new long[problem.Items.Length];
        var used = new long[problem.Stocks.Length];
        long cost = 0;
        foreach (var layout in solution.Layouts)
        {
            var stock = problem.Stocks[layout.Stock];
            used[layout.Stock] += layout.Count;
            cost += stock.Cost * layout.Count;
            if (layout.Count < 1 || layout.Tree is not null)
            {
                faults.Add("count or tree");
            }

            for (var a = 0; a < layout.Pieces.Length; a++)
            {
                var piece = layout.Pieces[a];
                var item = problem.Items[piece.Item];
                cut[piece.Item] += layout.Count;
                var extra = problem.PieceCost?[layout.Stock, piece.Item] ?? 0;
                if (extra == PlateProblem.Forbidden)
                {
                    faults.Add($"item {piece.Item} is forbidden on stock {layout.Stock}");
                }
                else
                {
                    cost += extra * layout.Count;
                }

                var size = piece.Turned ? (item.SizeY, item.SizeX) : (item.SizeX, item.SizeY);
                if ((piece.Area.SizeX, piece.Area.SizeY) != size || (piece.Turned && !item.MayTurn))
                {
                    faults.Add($"item {piece.Item} has the wrong size or is turned");
                }

                if (piece.Area.X < 0 || piece.Area.Y < 0 || piece.Area.X + piece.Area.SizeX > stock.SizeX || piece.Area.Y + piece.Area.SizeY > stock.SizeY)
                {
                    faults.Add($"item {piece.Item} is not on the plate");
                }

                foreach (var other in layout.Pieces.Skip(a + 1).Select(p => p.Area).Concat(stock.KeepOuts))
                {
                    if (Distance(piece.Area.X, piece.Area.SizeX, other.X, other.SizeX) < problem.Kerf
                        && Distance(piece.Area.Y, piece.Area.SizeY, other.Y, other.SizeY) < problem.Kerf
                        || Overlap(piece.Area, other))
                    {
                        faults.Add($"item {piece.Item} at {piece.Area} is too near to {other}");
                    }
                }
            }
        }

        for (var i = 0; i < cut.Length; i++)
        {
            if (cut[i] < problem.Items[i].Demand)
            {
                faults.Add($"item {i}: {cut[i]} of {problem.Items[i].Demand}");
            }
        }

        for (var s = 0; s < used.Length; s++)
        {
            if (used[s] > (problem.Stocks[s].Limit ?? int.MaxValue))
            {
                faults.Add($"stock {s}: {used[s]} used");
            }
        }

        if (cost != solution.Cost)
        {
            faults.Add($"cost {solution.Cost}, really {cost}");
        }

        return faults;
    }

    /// <summary>How far two intervals are apart (0: they touch or overlap).</summary>
    private static long Distance(long a, long sizeA, long b, long sizeB) => Math.Max(0, Math.Max(b - (a + sizeA), a - (b + sizeB)));

    private static bool Overlap(PlateRect a, PlateRect b) =>
        a.X < b.X + b.SizeX && b.X < a.X + a.SizeX && a.Y < b.Y + b.SizeY && b.Y < a.Y + a.SizeY;
}
