using Nest.Core.Jobs;

namespace Nest.Output.Pictures;

/// <summary>The true section of a tube, angle, channel, tee or hex bar, in millimetres: X from the fixed jaw, Y up from the bed of the vise. Corners sharp.</summary>
/// <remarks>It lies on its width: an angle with its second leg at the fixed jaw, a channel on its web, a tee on its flange. On its thickness the
/// same is seen with X and Y exchanged: web, flange or long leg at the fixed jaw. A hex bar is held by two flats. Of a named profile the outer
/// sizes are drawn with a cross, since nothing else is known of it.</remarks>
/// <param name="Width">Along the bed.</param>
/// <param name="Height">Above the bed.</param>
/// <param name="Loops">Closed outlines.</param>
/// <param name="Metal">Rectangles that the metal consists of, for hatching; none of hex bar and profile.</param>
internal sealed record SectionOutline(
    double Width, double Height, IReadOnlyList<(double X, double Y)[]> Loops, IReadOnlyList<(double X, double Y, double Width, double Height)> Metal)
{
    /// <summary>Of a form that consists of straight sides; null: it has none, or is round.</summary>
    public static SectionOutline? Of(Stock stock, bool onThickness)
    {
        var (w, h) = (View.Millimetres(stock.Width), View.Millimetres(stock.Thickness));
        var t = View.Millimetres(stock.Detail?.Wall ?? default);
        var f = stock.Detail?.Flange is { } flange ? View.Millimetres(flange) : t;
        var outline = stock.Form switch
        {
            Form.HexBar => Hex(w),
            Form.RectangularTube => new(w, h, [Box(0, 0, w, h), Box(t, t, w - (2 * t), h - (2 * t))], [(0, 0, w, t), (0, h - t, w, t), (0, t, t, h - (2 * t)), (w - t, t, t, h - (2 * t))]),
            Form.Angle => new(w, h, [[(0, 0), (w, 0), (w, t), (t, t), (t, h), (0, h)]], [(0, 0, w, t), (0, t, t, h - t)]),
            Form.Channel => new(
                w, h, [[(0, 0), (w, 0), (w, h), (w - f, h), (w - f, t), (f, t), (f, h), (0, h)]], [(0, 0, w, t), (0, t, f, h - t), (w - f, t, f, h - t)]),
            Form.Tee => new(
                w, h, [[(0, 0), (w, 0), (w, f), ((w + t) / 2, f), ((w + t) / 2, h), ((w - t) / 2, h), ((w - t) / 2, f), (0, f)]], [(0, 0, w, f), ((w - t) / 2, f, t, h - f)]),
            Form.Profile => new SectionOutline(w, h, [Box(0, 0, w, h), [(0, 0), (w, h)], [(0, h), (w, 0)]], []),
            _ => null,
        };
        return onThickness && stock.Form != Form.HexBar ? outline?.Exchanged() : outline;
    }

    private SectionOutline Exchanged() => new(
        Height, Width, [.. Loops.Select(loop => loop.Select(point => (point.Y, point.X)).ToArray())], [.. Metal.Select(box => (box.Y, box.X, box.Height, box.Width))]);

    private static SectionOutline Hex(double flats)
    {
        var corners = 2 * flats / Math.Sqrt(3);
        return new(flats, corners, [[(flats / 2, 0), (flats, corners / 4), (flats, corners * 3 / 4), (flats / 2, corners), (0, corners * 3 / 4), (0, corners / 4)]], []);
    }

    private static (double X, double Y)[] Box(double x, double y, double width, double height) => [(x, y), (x + width, y), (x + width, y + height), (x, y + height)];
}
