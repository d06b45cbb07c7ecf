using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Quantities;
using Nest.Output.Scenes;

namespace Nest.Output.Pictures;

/// <summary>Maps a window of a stock piece to paper: to scale, the stock's Y upwards.</summary>
internal sealed class View
{
    private readonly double _left;
    private readonly double _bottom;

    /// <summary>The window as large as it goes into the area, at its top, centred across.</summary>
    public View(Rect window, Box area)
    {
        Window = window;
        Scale = Math.Min(area.Width / Millimetres(window.SizeX), area.Height / Millimetres(window.SizeY));
        var width = Millimetres(window.SizeX) * Scale;
        _left = area.X + ((area.Width - width) / 2);
        _bottom = area.Y + (Millimetres(window.SizeY) * Scale);
        Box = new(_left, area.Y, width, Millimetres(window.SizeY) * Scale);
    }

    public Rect Window { get; }

    /// <summary>Paper millimetres per millimetre.</summary>
    public double Scale { get; }

    public Box Box { get; }

    public double X(Length x) => _left + (Millimetres(x - Window.X) * Scale);

    public double Y(Length y) => _bottom - (Millimetres(y - Window.Y) * Scale);

    public Box Map(Rect rect) => Box.FromEdges(X(rect.X), Y(rect.Top), X(rect.Right), Y(rect.Y));

    /// <summary>The part of the rectangle that is in the window.</summary>
    public Box Clipped(Rect rect) => Map(rect).Clip(Box);

    /// <summary>One side of a box on paper, or a line so far outside it.</summary>
    public static Segment Side(Box box, Edge edge, double outside = 0) => edge switch
    {
        Edge.Left => new(box.X - outside, box.Y, box.X - outside, box.Bottom),
        Edge.Right => new(box.Right + outside, box.Y, box.Right + outside, box.Bottom),
        Edge.Bottom => new(box.X, box.Bottom + outside, box.Right, box.Bottom + outside),
        _ => new(box.X, box.Y - outside, box.Right, box.Y - outside),
    };

    public static double Millimetres(Length length) => (double)length.ToMillimetres();
}
