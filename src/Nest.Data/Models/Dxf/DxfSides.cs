using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Dxf;

/// <summary>Puts straight sides, arcs and curves of a drawing where its blocks lay them, into what the drawing holds.</summary>
/// <param name="near">How far a curve may be from the arcs that are taken for it, in the drawing's unit.</param>
internal sealed class DxfSides(DxfContent content, double near)
{
    private const int MostSides = 200_000;

    private int taken;

    /// <summary>A curve, as arcs that follow it.</summary>
    /// <param name="stops">Where pieces of it begin and end.</param>
    public void Curve(Func<double, (double X, double Y)> at, List<double> stops, bool closed, DxfPlace place)
    {
        var arcs = ArcFit.Of(t => at(t) is var (x, y) ? place.At(x, y) : default, stops, near, MostSides - Math.Min(taken, MostSides));
        if (closed)
        {
            arcs.RemoveAt(arcs.Count - 1);
        }

        Take(arcs, closed);
    }

    /// <summary>Straight sides and arcs, laid out.</summary>
    public void Add(List<OutlineCorner> corners, bool closed, DxfPlace place)
    {
        closed = closed && corners.Count > 1;
        if (place.KeepsCircles || corners.TrueForAll(corner => corner.Bulge == 0))
        {
            var turn = place.Determinant < 0 ? -1 : 1;
            Take([.. corners.Select(corner => place.At(corner.X, corner.Y) is var (x, y) ? new OutlineCorner(x, y, corner.Bulge * turn) : default)], closed);
            return;
        }

        // Stretched more one way than the other an arc becomes a piece of an ellipse.
        var list = new List<OutlineCorner>();
        for (var i = 0; i + 1 < corners.Count || (closed && i < corners.Count); i++)
        {
            var (from, to) = (corners[i], corners[(i + 1) % corners.Count]);
            var arcs = from.Bulge == 0
                ? [place.At(from.X, from.Y) is var (x, y) ? new OutlineCorner(x, y, 0) : default]
                : ArcFit.Of(t => OnArc(from, to, t) is var (px, py) ? place.At(px, py) : default, [0, 0.25, 0.5, 0.75, 1], near, MostSides - Math.Min(taken, MostSides));
            list.AddRange(from.Bulge == 0 ? arcs : arcs.SkipLast(1));
        }

        if (!closed && corners.Count > 0)
        {
            var (x, y) = place.At(corners[^1].X, corners[^1].Y);
            list.Add(new(x, y, 0));
        }

        Take(list, closed);
    }

    /// <summary>Point of an arc by its share of the way.</summary>
    private static (double X, double Y) OnArc(OutlineCorner from, OutlineCorner to, double share)
    {
        var (dx, dy, b) = (to.X - from.X, to.Y - from.Y, from.Bulge);
        var away = (1 - (b * b)) / (4 * b);
        var (cx, cy) = (((from.X + to.X) / 2) - (dy * away), ((from.Y + to.Y) / 2) + (dx * away));
        var (sin, cos) = Math.SinCos(4 * Math.Atan(b) * share);
        var (rx, ry) = (from.X - cx, from.Y - cy);
        return (cx + (rx * cos) - (ry * sin), cy + (rx * sin) + (ry * cos));
    }

    private void Take(List<OutlineCorner> corners, bool closed)
    {
        taken += corners.Count;
        if (taken > MostSides)
        {
            throw ModelFault.TooMuch($"the drawing has more than {MostSides} sides");
        }

        if (closed)
        {
            content.Closed.Add([.. corners]);
            return;
        }

        for (var i = 0; i + 1 < corners.Count; i++)
        {
            content.Loose.Add((corners[i], corners[i + 1]));
        }
    }
}
