using Nest.Core.Plans;

namespace Nest.Solve.Exact;

/// <summary>A plate in coarser units than its lengths have, so that its tables are not too large: no layout costs less there than it does.</summary>
/// <remarks>
/// Let each rectangle of a layout be grown by a kerf to the right and to the top. Then the two sides of a cut divide it without a gap, and the usable plate, grown, is their whole. Round all
/// coordinates down to multiples of f units. What were sides of one cut still are, so the same tree of cuts stands for rectangles in coarser units, whose grown extents are the true ones, divided by f and rounded
/// either way. Some become none: then their cut falls away, but for the raw edge that it took off (<see cref="CutRules.LeastDust"/>). A grown extent of n coarse units is between (n − 1) f + 1 and (n + 1) f − 1 units long:
/// cuts count as short as that allows and rests as large, and a piece may lie in rectangles of two lengths and two widths. The coarse kerf is a unit less than the true one rounded down, so that what is
/// dust in coarse units was dust before. Cuts lie where those of <see cref="CutPositions"/> may come to, or part off what was dust. The direction of the first cut is not
/// asked for, as a cut that falls away may have been the first. So the tables' least cost is a bound on the true one; the difference is mostly what a unit more of each rest is worth.
/// </remarks>
internal static class CoarsePlate
{
    /// <summary>The plate in units of so many of its own; null: a kerf is shorter than one of them.</summary>
    public static PlateShape? Of(PlateShape fine, int times)
    {
        var kerf = (fine.Kerf / times) - 1;
        if (kerf < 0)
        {
            return null;
        }

        return new(Down(fine.SizeX), Down(fine.SizeY), fine.Scale * times)
        {
            Fine = fine,
            Times = times,
            Kerf = kerf,
            Held = fine.Held == 0 ? 0 : Down(fine.Held),
            Longest = fine.Longest == int.MaxValue ? int.MaxValue : ((fine.Longest + fine.Kerf - 1) / times) + 1 - kerf,
            KeepLong = int.MaxValue,
            KeepShort = int.MaxValue,
            Prices = fine.Prices,
            Raw = fine.Raw,
            Pieces = [.. fine.Pieces.Select(piece => piece.SizeX == 0 ? piece : piece with { SizeX = Down(piece.SizeX), SizeY = Down(piece.SizeY), MoreX = More(piece.SizeX), MoreY = More(piece.SizeY) })],
        };

        int Down(int length) => ((length + fine.Kerf) / times) - kerf;

        int More(int length) => (length + fine.Kerf) % times == 0 ? 0 : 1;
    }

    /// <summary>Longest that a coarse extent may stand for, in the plate's own units.</summary>
    public static int MostOf(PlateShape coarse, int extent) => ((extent + coarse.Kerf + 1) * coarse.Times) - coarse.Fine!.Kerf - 1;

    /// <summary>Shortest that it may stand for.</summary>
    public static int LeastOf(PlateShape coarse, int extent) => Math.Max(0, ((extent + coarse.Kerf - 1) * coarse.Times) - coarse.Fine!.Kerf + 1);

    /// <summary>Extents that a cut may leave on one of its sides.</summary>
    public static bool[] Positions(PlateShape coarse, bool alongX)
    {
        var (fine, kerf) = (coarse.Fine!, coarse.Fine!.Kerf);
        var allowed = new bool[(alongX ? coarse.SizeX : coarse.SizeY) + 1];
        var at = CutPositions.Of(fine, alongX);
        for (var extent = 1; extent < at.Length; extent++)
        {
            if (at[extent])
            {
                Allow((extent + kerf) / coarse.Times);
                Allow((extent + kerf + coarse.Times - 1) / coarse.Times);
            }
        }

        // What was dust.
        for (var grown = coarse.Kerf + 1; grown <= (kerf + coarse.Times - 1) / coarse.Times; grown++)
        {
            Allow(grown);
        }

        return allowed;

        void Allow(int grown)
        {
            if (grown > coarse.Kerf && grown - coarse.Kerf < allowed.Length)
            {
                allowed[grown - coarse.Kerf] = true;
            }
        }
    }
}
