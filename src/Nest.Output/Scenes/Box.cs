namespace Nest.Output.Scenes;

/// <summary>A rectangle on paper in millimetres; Y grows downwards.</summary>
public readonly record struct Box(double X, double Y, double Width, double Height)
{
    /// <summary>Its right edge.</summary>
    public double Right => X + Width;

    /// <summary>Its lower edge.</summary>
    public double Bottom => Y + Height;

    /// <summary>Its middle, from the left.</summary>
    public double CenterX => X + (Width / 2);

    /// <summary>Its middle, from the top.</summary>
    public double CenterY => Y + (Height / 2);

    /// <summary>The box between four edges.</summary>
    public static Box FromEdges(double left, double top, double right, double bottom) => new(left, top, right - left, bottom - top);

    /// <summary>Whether the insides meet by more than the slack.</summary>
    public bool Overlaps(Box other, double slack = 0) =>
        X < other.Right - slack && other.X < Right - slack && Y < other.Bottom - slack && other.Y < Bottom - slack;

    /// <summary>Whether the other lies within, up to the slack.</summary>
    public bool Contains(Box other, double slack = 1e-6) =>
        other.X >= X - slack && other.Y >= Y - slack && other.Right <= Right + slack && other.Bottom <= Bottom + slack;

    /// <summary>Smaller by so much on every side.</summary>
    public Box Shrink(double by) => new(X + by, Y + by, Width - (2 * by), Height - (2 * by));

    /// <summary>What both have in common; may be negative in size when apart.</summary>
    public Box Clip(Box other) => FromEdges(
        Math.Max(X, other.X), Math.Max(Y, other.Y), Math.Min(Right, other.Right), Math.Min(Bottom, other.Bottom));
}
