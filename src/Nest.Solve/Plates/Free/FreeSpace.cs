namespace Nest.Solve.Plates.Free;

/// <summary>An empty rectangle of a plate, corners in inflated coordinates (every piece and the plate are a gap larger at the right
/// and at the top, so that pieces may touch).</summary>
internal readonly record struct FreeSpace(long X1, long Y1, long X2, long Y2)
{
    public long SizeX => X2 - X1;

    public long SizeY => Y2 - Y1;

    public bool Meets(long x1, long y1, long x2, long y2) => X1 < x2 && x1 < X2 && Y1 < y2 && y1 < Y2;

    public bool Holds(in FreeSpace other) => X1 <= other.X1 && Y1 <= other.Y1 && X2 >= other.X2 && Y2 >= other.Y2;
}
