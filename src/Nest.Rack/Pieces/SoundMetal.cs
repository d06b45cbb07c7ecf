using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Pieces;

/// <summary>Whether a box fits into a piece beside its damage.</summary>
/// <remarks>
/// Exact, for plates with keep-outs: a rectangle that lies free of them can be pushed left and then down until it touches the plate's
/// edge or a keep-out, and stays free. So only the left edge and the right sides of keep-outs need be tried across, only the lower edge
/// and their tops upwards: at most (n + 1)² places of n keep-outs for each way to lie. Damage goes through the whole thickness. Sides are
/// tried every way round, as for pieces without damage.
/// </remarks>
internal static class SoundMetal
{
    /// <param name="sides">At most three; those that are missing may be as small as you like.</param>
    public static bool Holds(RackPiece piece, ImmutableArray<Length> sides)
    {
        if (piece.KeepOuts.IsDefaultOrEmpty || sides.IsDefaultOrEmpty)
        {
            return true;
        }

        var box = sides.OrderByDescending(side => side).Take(3).ToList();
        while (box.Count < 3)
        {
            box.Add(Length.FromNanometres(1));
        }

        for (var up = 0; up < 3; up++)
        {
            var (a, b) = (box[(up + 1) % 3], box[(up + 2) % 3]);
            if (box[up] <= piece.UsableThickness && (HasRoom(piece, a, b) || HasRoom(piece, b, a)))
            {
                return true;
            }
        }

        return false;
    }

    private static bool HasRoom(RackPiece piece, Length along, Length across)
    {
        var sheet = new Rect(Length.Zero, Length.Zero, piece.UsableLength, piece.UsableWidth);
        if (along > sheet.SizeX || across > sheet.SizeY)
        {
            return false;
        }

        var ups = piece.KeepOuts.Select(keepOut => keepOut.Top).Prepend(Length.Zero).Distinct().ToList();
        return piece.KeepOuts.Select(keepOut => keepOut.Right).Prepend(Length.Zero).Distinct().Any(x => ups.Any(y =>
        {
            var place = new Rect(x, y, along, across);
            return sheet.Contains(place) && !piece.KeepOuts.Any(keepOut => keepOut.Overlaps(place));
        }));
    }
}
