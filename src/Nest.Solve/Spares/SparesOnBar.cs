using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Spares;

/// <summary>Spares in the scrap end of a bar: behind blanks of the same length, where the stop stands already, else last; first where the vise could not hold them there.</summary>
internal static class SparesOnBar
{
    /// <param name="most">No more spares than these.</param>
    /// <returns>The layout with as many spares as the scrap takes and the vise holds; costs are still those of the layout given.</returns>
    public static IEnumerable<Layout> Ways(Job job, StockFrame frame, Layout layout, Part part, BlankFit fit, int most)
    {
        // Damage on a bar: blanks that move could come to lie on it.
        if (layout.Offcuts is not [{ Keep: false } scrap] || frame.Stock.KeepOuts.Length > 0)
        {
            yield break;
        }

        var room = (int)((scrap.Area.SizeX.Nanometres + frame.Saw.Kerf.Nanometres) / (fit.SizeX.Nanometres + frame.Saw.Kerf.Nanometres));
        most = Math.Min(most, Math.Min(room, (frame.Saw.MostPieces ?? int.MaxValue) - layout.Pieces.Length));
        var order = Enumerable.Range(0, layout.Pieces.Length).OrderBy(at => layout.Pieces[at].Area.X).ToList();
        if (TrimmedEdges.FromRight(frame.Stock, layout.Trims))
        {
            order.Reverse();
        }

        // A blank that is too short to be held is parted while the bar is still long: so the front is the last place to be tried.
        var behind = order.FindLastIndex(at => layout.Pieces[at].Area.SizeX == fit.SizeX) + 1;
        int[] places = behind > 0 && behind < order.Count ? [behind, order.Count, 0] : [order.Count, 0];
        var spare = new PlacedPiece(part.Id, new(Length.Zero, Length.Zero, fit.SizeX, layout.Sheet.SizeY), fit.Turned) { Ends = fit.Ends, Spare = true };
        for (var spares = most; spares > 0; spares--)
        {
            List<PlacedPiece> pieces = [.. layout.Pieces, .. Enumerable.Repeat(spare, spares)];
            foreach (var at in places)
            {
                List<int> row = [.. order[..at], .. Enumerable.Range(layout.Pieces.Length, spares), .. order[at..]];
                if (IsHeld(frame, layout, row.ConvertAll(index => pieces[index].Area.SizeX)))
                {
                    yield return BarRow.Lay(job, frame.Stock, frame.Saw, layout, pieces, row);
                    yield break;
                }
            }
        }
    }

    /// <summary>Each cut leaves a blank, or metal behind it, that the vise can hold; and something on the bar is as long as that, a blank or the rest.</summary>
    private static bool IsHeld(StockFrame frame, Layout layout, List<Length> sizes)
    {
        var held = frame.Saw.ShortestHeld;
        var metal = layout.Sheet.SizeX - (TrimmedEdges.Of(frame.Saw, frame.Stock, layout).Left ? layout.Trims.Left : Length.Zero);
        var rest = layout.Usable.SizeX;
        foreach (var size in sizes)
        {
            metal -= size + frame.Saw.Kerf;
            rest -= size + frame.Saw.Kerf;
            if (metal < held && size < held)
            {
                return false;
            }
        }

        return rest >= held || sizes.Exists(size => size >= held);
    }
}
