using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Output.Files;

/// <summary>A bar's piece as it is after its angled cuts, seen from above: four corners within its blank.</summary>
/// <remarks>Each cut takes kerf ÷ cos along the bar, then the end slopes by width × tan. A cut that leans across the thickness shows no
/// slope from above: its outline is the rectangle from long point to long point.</remarks>
internal static class AngledOutline
{
    /// <returns>Corners counter-clockwise from the lower left one; null where both ends are square.</returns>
    public static DrawnShape? Of(Job job, PlacedPiece piece, Saw saw)
    {
        if (piece.Ends is not { Cuts: > 0 } ends)
        {
            return null;
        }

        var area = piece.Area;
        var across = ends.AcrossThickness ? Length.Zero : area.SizeY;
        var (startLow, startHigh) = Points(ends.Start);
        var (endLow, endHigh) = Points(ends.End);
        return new(Drawing.AngledEnds,
            [(area.X + startLow, area.Y), (area.Right - endLow, area.Y), (area.Right - endHigh, area.Top), (area.X + startHigh, area.Top)]);

        // How far the lower and the upper corner lie within the blank's end. A positive angle has its long point below.
        (Length Low, Length High) Points(Angle angle)
        {
            var taken = angle.IsSquare ? Length.Zero : angle.Taken(saw.Kerf, job.Unit);
            var slope = angle.Slope(across);
            return angle > Angle.Square ? (taken, taken + slope) : (taken + slope, taken);
        }
    }
}
