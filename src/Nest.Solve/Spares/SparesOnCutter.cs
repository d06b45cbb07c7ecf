using Nest.Core.Blanks;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Solve.Choose;

namespace Nest.Solve.Spares;

/// <summary>One spare in the scrap of a free layout: in the smallest empty rectangle that takes it.</summary>
internal static class SparesOnCutter
{
    /// <returns>The layout with one spare, one for each way that it may lie; costs are still those of the layout given.</returns>
    public static IEnumerable<Layout> Ways(StockFrame frame, Layout layout, Part part, BlankFit fit)
    {
        if (frame.Saw.MostPieces <= layout.Pieces.Length)
        {
            yield break;
        }

        var room = FreeOffcuts.Room(frame, layout);
        foreach (var (x, y, turned) in fit.MayTurn && fit.SizeX != fit.SizeY ? new[] { (fit.SizeX, fit.SizeY, false), (fit.SizeY, fit.SizeX, true) } : [(fit.SizeX, fit.SizeY, false)])
        {
            if (room.FirstOrDefault(area => area.SizeX >= x && area.SizeY >= y) is { SizeX.Nanometres: > 0 } place)
            {
                yield return layout with { Pieces = layout.Pieces.Add(new(part.Id, new Rect(place.X, place.Y, x, y), turned) { Spare = true }) };
            }
        }
    }
}
