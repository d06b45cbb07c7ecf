using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Core.Cutting;

/// <summary>The order in which a cutter takes the pieces out of a plate.</summary>
/// <remarks>Problem: short ways between pieces (a travelling salesman's path). Method: nearest neighbour from the origin, by the
/// distance of middles, ties by number. O(n²). Heuristic.</remarks>
internal static class OutlineOrder
{
    public static ImmutableArray<Outline> Of(Layout layout)
    {
        // Middles doubled, so that they are whole.
        var left = Enumerable.Range(0, layout.Pieces.Length).ToList();
        var outlines = ImmutableArray.CreateBuilder<Outline>(left.Count);
        var (x, y) = (0L, 0L);
        while (left.Count > 0)
        {
            var nearest = 0;
            Int128 best = -1;
            for (var index = 0; index < left.Count; index++)
            {
                var (dx, dy) = (MiddleX(left[index]) - x, MiddleY(left[index]) - y);
                var distance = ((Int128)dx * dx) + ((Int128)dy * dy);
                if (best < 0 || distance < best)
                {
                    (nearest, best) = (index, distance);
                }
            }

            var piece = left[nearest];
            left.RemoveAt(nearest);
            (x, y) = (MiddleX(piece), MiddleY(piece));
            outlines.Add(new(outlines.Count + 1, piece, layout.Pieces[piece].PartId, layout.Pieces[piece].Area));
        }

        return outlines.ToImmutable();

        long MiddleX(int piece) => (layout.Pieces[piece].Area.X + layout.Pieces[piece].Area.Right).Nanometres;

        long MiddleY(int piece) => (layout.Pieces[piece].Area.Y + layout.Pieces[piece].Area.Top).Nanometres;
    }
}
