using Nest.Core.Plans;

namespace Nest.Solve.Exact;

/// <summary>The cuts of a rectangle of a plate with the stop at given positions, in one direction or in both.</summary>
/// <remarks>A position is measured on the part that lies away from the raw edge, or on the one that touches it, raw metal included. Without given positions a cut leaves an extent of
/// <see cref="CutPositions"/> on one side. O(1) a cut.</remarks>
/// <param name="stopsX">Positions of crosscuts; null: any.</param>
/// <param name="stopsY">Positions of rips; null: any.</param>
/// <param name="order">The place of each position, those of crosscuts first; null: any order.</param>
/// <param name="given">Whether cuts in a direction without given positions are left out.</param>
internal sealed class StopCuts(CutRules rules, int[]? stopsX, int[]? stopsY, int[]? order, bool given)
{
    /// <summary>Whether no positions of crosscuts are given.</summary>
    public bool IsFreeX => stopsX is null;

    /// <summary>Whether no positions of rips are.</summary>
    public bool IsFreeY => stopsY is null;

    /// <param name="from">Place of the position that parted the rectangle.</param>
    /// <param name="only">Cuts of one direction; null: both.</param>
    /// <returns>The two parts, the second without a width where it is dust, the place of the position, the cost.</returns>
    public IEnumerable<(Cell One, Cell Other, int Place, int Cost)> Of(Cell cell, int from, CutDirection? only)
    {
        if (only != CutDirection.Rip && !(given && IsFreeX) && rules.Crosscut(cell.H, cell.Raw) is >= 0 and var crosscut)
        {
            foreach (var (one, touching, other, touched, place) in Parts(cell.W, (cell.Raw & 1) != 0, true, from))
            {
                yield return (new(one, cell.H, touching ? cell.Raw : cell.Raw & ~1), other == 0 ? default : new(other, cell.H, touched ? cell.Raw : cell.Raw & ~1), place, crosscut);
            }
        }

        if (only != CutDirection.Crosscut && !(given && IsFreeY) && rules.Rip(cell.W, cell.Raw) is >= 0 and var rip)
        {
            foreach (var (one, touching, other, touched, place) in Parts(cell.H, (cell.Raw & 2) != 0, false, from))
            {
                yield return (new(cell.W, one, touching ? cell.Raw : cell.Raw & ~2), other == 0 ? default : new(cell.W, other, touched ? cell.Raw : cell.Raw & ~2), place, rip);
            }
        }
    }

    /// <summary>All ways to cut an extent: what each part measures, and whether it touches the raw edge across the cut; 0: the other is dust.</summary>
    private IEnumerable<(int One, bool Touching, int Other, bool Touched, int Place)> Parts(int size, bool raw, bool alongX, int from)
    {
        var (kerf, held, stops) = (rules.Shape.Kerf, rules.Shape.Held, alongX ? stopsX : stopsY);
        if (stops is null)
        {
            var at = alongX ? rules.AtX : rules.AtY;
            for (int x = 1, rest = size - kerf - 1; x <= rest && rest >= held; x++, rest--)
            {
                if (at[x] || at[rest])
                {
                    yield return (rest, raw, x, false, 0);
                    if (raw)
                    {
                        yield return (rest, false, x, true, 0);
                    }
                }
            }

            for (var x = Math.Max(1, Math.Max(size - kerf, held)); x < size; x++)
            {
                if (at[x])
                {
                    yield return (x, false, 0, false, 0);
                }
            }

            yield break;
        }

        var zone = raw ? (int)(alongX ? rules.Shape.Raw.Right : rules.Shape.Raw.Top) : 0;
        for (var s = 0; s < stops.Length; s++)
        {
            var place = order?[alongX ? s : stopsX!.Length + s] ?? 0;
            if (place < from)
            {
                continue;
            }

            // On the part away from the raw edge, or on the one that touches it.
            foreach (var one in raw ? (int[])[stops[s], size - kerf - (stops[s] - zone)] : [stops[s]])
            {
                var other = size - kerf - one;
                if (one >= 1 && one < size && Math.Max(one, other) >= held)
                {
                    yield return (one, false, Math.Max(0, other), raw && other > 0, place);
                }
            }
        }
    }
}
