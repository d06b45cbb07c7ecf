namespace Nest.Solve.Exact;

/// <summary>Extents along one axis that a cut has to leave on one of its two sides.</summary>
/// <remarks>
/// Lemma. There is a best layout in which every cut leaves, on at least one side, an extent of
/// N = {t_1 + kerf + t_2 + … + t_m}, t_j a piece's extent along the axis (each kind at most as often as it is wanted), the two sizes from
/// which an offcut is kept, the least that can be held, or the longest cut.
/// Proof. Fix the tree, the kind of each leaf, which side of a kept leaf meets which threshold, and which child is held. Horizontal extents
/// then meet linear constraints of their own, and so do vertical ones; cost is bilinear in the two but for scrap, which is convex where it
/// turns to dust. With one axis fixed a convex function is maximised over a polytope, so some vertex is best. At a vertex every cut has a
/// child that tight constraints of its own subtree fix: else the cut could be shifted both ways. By induction such an extent is in N.
/// (The thresholds must be in N: with sums of pieces alone a plate of 58 × 82 was found 1.9 % below its best.)
/// Complexity O(extents · size).
/// </remarks>
internal static class CutPositions
{
    /// <returns>[x]: whether x is in N.</returns>
    public static bool[] Of(PlateShape shape, bool alongX)
    {
        var size = alongX ? shape.SizeX : shape.SizeY;
        var kerf = shape.Kerf;
        var reached = new bool[size + kerf + 1];
        reached[0] = true;
        foreach (var piece in shape.Pieces)
        {
            if (piece.SizeX > 0)
            {
                Add(reached, piece.MayTurn ? [piece.SizeX, piece.SizeY] : [alongX ? piece.SizeX : piece.SizeY], kerf, piece.Demand);
            }
        }

        Add(reached, [.. new[] { shape.KeepLong, shape.KeepShort, shape.Held, shape.Longest }.Where(t => t > 0 && t <= size)], kerf, int.MaxValue);
        var allowed = new bool[size + 1];
        for (var x = 1; x <= size; x++)
        {
            allowed[x] = reached[x + kerf];
        }

        return allowed;
    }

    private static void Add(bool[] reached, int[] extents, int kerf, int most)
    {
        // How many of this kind the sum needs at least; −1: it cannot be reached.
        var used = new int[reached.Length];
        for (var at = 0; at < reached.Length; at++)
        {
            used[at] = reached[at] ? 0 : -1;
            foreach (var extent in extents)
            {
                var before = at - extent - kerf;
                if (used[at] != 0 && before >= 0 && used[before] >= 0 && used[before] < most && (used[at] < 0 || used[before] + 1 < used[at]))
                {
                    used[at] = used[before] + 1;
                }
            }

            reached[at] |= used[at] > 0;
        }
    }
}
