using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Spares;

/// <summary>Spares in the scrap end of a bar: behind blanks of the same length, where the stop stands already, else last.</summary>
internal static class SparesOnBar
{
    /// <param name="most">No more spares than these.</param>
    /// <returns>The layout with as many spares as the scrap takes; costs are still those of the layout given.</returns>
    public static IEnumerable<Layout> Ways(Job job, StockFrame frame, Layout layout, Part part, BlankFit fit, int most)
    {
        // Damage on a bar: blanks that move could come to lie on it.
        if (layout.Offcuts is not [{ Keep: false } scrap] || frame.Stock.KeepOuts.Length > 0)
        {
            yield break;
        }

        var room = (int)((scrap.Area.SizeX.Nanometres + frame.Saw.Kerf.Nanometres) / (fit.SizeX.Nanometres + frame.Saw.Kerf.Nanometres));
        var spares = Math.Min(most, Math.Min(room, (frame.Saw.MostPieces ?? int.MaxValue) - layout.Pieces.Length));
        if (spares < 1)
        {
            yield break;
        }

        var pieces = layout.Pieces.ToList();
        var order = Enumerable.Range(0, pieces.Count).OrderBy(at => pieces[at].Area.X).ToList();
        if (TrimmedEdges.FromRight(frame.Stock, layout.Trims))
        {
            order.Reverse();
        }

        var behind = order.FindLastIndex(at => pieces[at].Area.SizeX == fit.SizeX) + 1;
        for (var spare = 0; spare < spares; spare++)
        {
            pieces.Add(new(part.Id, new(Length.Zero, Length.Zero, fit.SizeX, layout.Sheet.SizeY), fit.Turned) { Ends = fit.Ends, Spare = true });
        }

        var added = Enumerable.Range(layout.Pieces.Length, spares).ToList();
        foreach (var at in behind > 0 && behind < order.Count ? [behind, order.Count] : new[] { order.Count })
        {
            List<int> row = [.. order[..at], .. added, .. order[at..]];
            if (IsHeld(frame, layout, row.ConvertAll(index => pieces[index].Area.SizeX)))
            {
                yield return BarRow.Lay(job, frame.Stock, frame.Saw, layout, pieces, row);
                yield break;
            }
        }
    }

    /// <summary>Each cut leaves a blank, or metal behind it, that the vise can hold.</summary>
    private static bool IsHeld(StockFrame frame, Layout layout, IEnumerable<Length> sizes)
    {
        var held = frame.Saw.ShortestHeld;
        var metal = layout.Sheet.SizeX - (TrimmedEdges.Of(frame.Saw, frame.Stock, layout).Left ? layout.Trims.Left : Length.Zero);
        foreach (var size in sizes)
        {
            metal -= size + frame.Saw.Kerf;
            if (metal < held && size < held)
            {
                return false;
            }
        }

        return true;
    }
}
