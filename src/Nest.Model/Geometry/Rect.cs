using Nest.Core.Quantities;

namespace Nest.Core.Geometry;

/// <summary>An axis-parallel rectangle on a stock piece.</summary>
/// <remarks>
/// <code>
///   Y (across)
///   ^
///   |      +-----------------+ Top
///   |      |  SizeX × SizeY  |
///   |      +-----------------+ Y
///   |      X               Right
///   +----------------------------> X (along the stock's length: rolling direction of plate, axis of bar)
///  origin: the stock's lower left corner
/// </code>
/// Half-open in the sense that two rectangles that share an edge touch and do not overlap.
/// </remarks>
public readonly record struct Rect(Length X, Length Y, Length SizeX, Length SizeY)
{
    public Length Right => X + SizeX;

    public Length Top => Y + SizeY;

    public Area Area => SizeX * SizeY;

    /// <summary>Whether the interiors meet.</summary>
    public bool Overlaps(Rect other) => X < other.Right && other.X < Right && Y < other.Top && other.Y < Top;

    /// <summary>Whether the other lies within this one; shared edges are legal.</summary>
    public bool Contains(Rect other) => other.X >= X && other.Y >= Y && other.Right <= Right && other.Top <= Top;
}
