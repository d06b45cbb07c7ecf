namespace Nest.Core.Solids;

/// <summary>Collects triangles; equal corners become one.</summary>
/// <remarks>Corners are equal when their numbers are: files write a shared corner with the same digits. An open-addressing table over
/// plain arrays keeps a million corners in some 50 MiB.</remarks>
public sealed class MeshBuilder
{
    private const int Empty = -1;

    private double[] coordinates = new double[3 * 256];
    private int[] corners = new int[3 * 256];
    private int[] table = NewTable(1024);
    private int cornerCount;
    private int triangleCount;
    private (Vec3 Low, Vec3 High) reach;
    private int reachOf = -1;

    /// <summary>Triangles that were given, those without area too.</summary>
    public int Given { get; private set; }

    /// <summary>Triangles with two equal corners: left out.</summary>
    public int Degenerate { get; private set; }

    public int Corners => cornerCount;

    public int Triangles => triangleCount;

    public void Add(Vec3 a, Vec3 b, Vec3 c) => Add(Corner(a), Corner(b), Corner(c));

    public void Add(int a, int b, int c)
    {
        Given++;
        if (a == b || b == c || c == a)
        {
            Degenerate++;
            return;
        }

        if (3 * triangleCount == corners.Length)
        {
            Array.Resize(ref corners, corners.Length * 2);
        }

        corners[3 * triangleCount] = a;
        corners[(3 * triangleCount) + 1] = b;
        corners[(3 * triangleCount) + 2] = c;
        triangleCount++;
    }

    /// <summary>Number of the corner; the same for the same numbers.</summary>
    public int Corner(Vec3 point)
    {
        // −0 and 0 are one place.
        var (x, y, z) = (point.X + 0.0, point.Y + 0.0, point.Z + 0.0);
        var slot = Slot(x, y, z);
        for (; table[slot] != Empty; slot = slot + 1 == table.Length ? 0 : slot + 1)
        {
            var known = 3 * table[slot];
            if (coordinates[known] == x && coordinates[known + 1] == y && coordinates[known + 2] == z)
            {
                return table[slot];
            }
        }

        if (3 * cornerCount == coordinates.Length)
        {
            Array.Resize(ref coordinates, coordinates.Length * 2);
        }

        coordinates[3 * cornerCount] = x;
        coordinates[(3 * cornerCount) + 1] = y;
        coordinates[(3 * cornerCount) + 2] = z;
        table[slot] = cornerCount;
        cornerCount++;
        if (cornerCount * 2L > table.Length)
        {
            Grow();
        }

        return cornerCount - 1;
    }

    /// <summary>Longest side of the box along the axes, of corners that triangles use, in the file's unit.</summary>
    public double LargestSide()
    {
        var (low, high) = Reach();
        var size = high - low;
        return triangleCount == 0 ? 0 : Math.Max(size.X, Math.Max(size.Y, size.Z));
    }

    /// <summary>Largest coordinate of those corners, without its sign.</summary>
    public double Farthest()
    {
        var (low, high) = Reach();
        var far = Vec3.Max(high, -low);
        return triangleCount == 0 ? 0 : Math.Max(far.X, Math.Max(far.Y, far.Z));
    }

    private (Vec3 Low, Vec3 High) Reach()
    {
        var low = new Vec3(double.PositiveInfinity, double.PositiveInfinity, double.PositiveInfinity);
        var high = -low;
        if (reachOf == triangleCount)
        {
            return reach;
        }

        for (var i = 0; i < 3 * triangleCount; i++)
        {
            var at = 3 * corners[i];
            var point = new Vec3(coordinates[at], coordinates[at + 1], coordinates[at + 2]);
            low = Vec3.Min(low, point);
            high = Vec3.Max(high, point);
        }

        (reach, reachOf) = ((low, high), triangleCount);
        return reach;
    }

    /// <summary>The mesh with all lengths multiplied; null when it has no triangle.</summary>
    /// <param name="scale">Millimetres of one unit of the file.</param>
    /// <param name="digits">Relative precision of the file's numbers.</param>
    public MeshBody? Build(double scale, double digits)
    {
        if (triangleCount == 0)
        {
            return null;
        }

        // Corners that no triangle uses must not count in the box.
        table = [];
        var places = new int[cornerCount];
        Array.Fill(places, Empty);
        var used = 0;
        for (var i = 0; i < 3 * triangleCount; i++)
        {
            ref var place = ref places[corners[i]];
            if (place == Empty)
            {
                place = used++;
            }

            corners[i] = place;
        }

        var points = new Vec3[used];
        double largest = 0;
        for (var i = 0; i < cornerCount; i++)
        {
            if (places[i] != Empty)
            {
                var point = new Vec3(coordinates[3 * i] * scale, coordinates[(3 * i) + 1] * scale, coordinates[(3 * i) + 2] * scale);
                points[places[i]] = point;
                largest = Math.Max(largest, Math.Max(Math.Abs(point.X), Math.Max(Math.Abs(point.Y), Math.Abs(point.Z))));
            }
        }

        coordinates = [];
        Array.Resize(ref corners, 3 * triangleCount);
        return new(points, corners, largest * digits, Degenerate);
    }

    private static int[] NewTable(int length)
    {
        var table = new int[length];
        Array.Fill(table, Empty);
        return table;
    }

    private int Slot(double x, double y, double z)
    {
        unchecked
        {
            var hash = (ulong)BitConverter.DoubleToInt64Bits(x) * 0x9E3779B97F4A7C15UL;
            hash = (hash ^ (hash >> 29) ^ (ulong)BitConverter.DoubleToInt64Bits(y)) * 0xBF58476D1CE4E5B9UL;
            hash = (hash ^ (hash >> 32) ^ (ulong)BitConverter.DoubleToInt64Bits(z)) * 0x94D049BB133111EBUL;
            return (int)(hash ^ (hash >> 31)) & (table.Length - 1); // a power of two
        }
    }

    private void Grow()
    {
        table = NewTable(checked(table.Length * 2));
        for (var i = 0; i < cornerCount; i++)
        {
            var slot = Slot(coordinates[3 * i], coordinates[(3 * i) + 1], coordinates[(3 * i) + 2]);
            while (table[slot] != Empty)
            {
                slot = slot + 1 == table.Length ? 0 : slot + 1;
            }

            table[slot] = i;
        }
    }
}
