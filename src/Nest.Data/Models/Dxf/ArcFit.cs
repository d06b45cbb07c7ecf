using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Dxf;

/// <summary>A curve in the plane as arcs that follow it.</summary>
/// <remarks>Each arc goes through the piece's ends and its middle; a piece is halved until the curve at its quarters is near enough. The
/// distance falls with the third power of the length, so that an ellipse of 100 mm takes some two hundred arcs for a ten-thousandth of a millimetre.</remarks>
internal static class ArcFit
{
    // At most 2^14 arcs a piece. A curve that needs more has a corner inside, and the rest is shorter than any saw can cut.
    private const int Deepest = 14;

    /// <summary>Corners with the bulge of the arc behind each; the last is the curve's end.</summary>
    /// <param name="at">The curve by its parameter.</param>
    /// <param name="stops">Parameters at which it is not smooth, with its ends, in order.</param>
    /// <param name="near">How far it may be from the arcs, in the curve's unit.</param>
    /// <param name="most">Arcs at most.</param>
    public static List<OutlineCorner> Of(Func<double, (double X, double Y)> at, IReadOnlyList<double> stops, double near, int most)
    {
        var corners = new List<OutlineCorner>();
        for (var i = 0; i + 1 < stops.Count; i++)
        {
            Add(stops[i], at(stops[i]), stops[i + 1], at(stops[i + 1]), 0);
        }

        var (x, y) = at(stops[^1]);
        corners.Add(new(x, y, 0));
        return corners;

        void Add(double from, (double X, double Y) start, double to, (double X, double Y) end, int depth)
        {
            var middle = (from + to) / 2;
            var top = at(middle);
            var bulge = Bulge(start, top, end);
            if (depth < Deepest && (!(Math.Abs(bulge) <= 0.5) || !Near(at((from + middle) / 2)) || !Near(at((middle + to) / 2))))
            {
                Add(from, start, middle, top, depth + 1);
                Add(middle, top, to, end, depth + 1);
                return;
            }

            if (corners.Count >= most)
            {
                throw ModelFault.TooMuch($"its curves take more than {most} arcs");
            }

            corners.Add(new(start.X, start.Y, double.IsFinite(bulge) && Math.Abs(bulge) > 1e-12 ? bulge : 0));

            bool Near((double X, double Y) point) => Math.Abs(Beside(start, end, bulge, point)) <= near;
        }
    }

    /// <summary>Of the arc through three points; positive: counter-clockwise, with its middle on the right of the chord.</summary>
    private static double Bulge((double X, double Y) start, (double X, double Y) top, (double X, double Y) end)
    {
        var (ax, ay, bx, by) = (start.X - top.X, start.Y - top.Y, end.X - top.X, end.Y - top.Y);
        var (cross, dot) = ((ax * by) - (ay * bx), (ax * bx) + (ay * by));
        // The angle at the middle is half a turn less half of the arc's.
        return cross == 0 && dot == 0 ? 0 : Math.Tan((Math.PI - Math.Atan2(Math.Abs(cross), dot)) / 2) * Math.Sign(cross) * -1;
    }

    /// <summary>Distance of a point from the arc's circle.</summary>
    private static double Beside((double X, double Y) start, (double X, double Y) end, double bulge, (double X, double Y) point)
    {
        var (dx, dy) = (end.X - start.X, end.Y - start.Y);
        var chord = Math.Sqrt((dx * dx) + (dy * dy));
        if (chord == 0)
        {
            return Math.Sqrt(((point.X - start.X) * (point.X - start.X)) + ((point.Y - start.Y) * (point.Y - start.Y)));
        }

        // Along and left of the chord, from its middle. On the circle u² + v² + 2·k·v = (chord/2)², where k is how far the centre lies right of it.
        var (px, py) = (point.X - ((start.X + end.X) / 2), point.Y - ((start.Y + end.Y) / 2));
        var (u, v) = (((px * dx) + (py * dy)) / chord, ((py * dx) - (px * dy)) / chord);
        if (Math.Abs(bulge) < 1e-12)
        {
            return v;
        }

        var k = -chord * (1 - (bulge * bulge)) / (4 * bulge);
        var radius = chord * (1 + (bulge * bulge)) / (4 * Math.Abs(bulge));
        return ((u * u) + (v * v) + (2 * k * v) - (chord * chord / 4)) / (2 * radius);
    }
}
