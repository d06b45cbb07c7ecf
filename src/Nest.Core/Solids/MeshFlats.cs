namespace Nest.Core.Solids;

/// <summary>The flats on which a mesh can lie: faces of its hull that triangles of the mesh fill.</summary>
/// <remarks>Triangles that agree with a face of the hull within 0.001 rad and lie in its plane within the file's precision count.
/// The triangles of a turned face are narrow strips; <see cref="BoxSearch"/> leaves out flats that are small beside the box.</remarks>
internal static class MeshFlats
{
    private const double Agree = 1e-3;
    private const double Grid = 4e-3;

    /// <param name="hull">Convex hull of the points.</param>
    public static IReadOnlyList<Flat> Of(ConvexHull hull, Vec3[] points, int[] corners, double precision)
    {
        var normals = new List<(Vec3 Normal, double Offset, double Area)>();
        var cells = new Dictionary<(int, int, int), List<int>>();
        var filled = new bool[1 << 16]; // most triangles of a turned or rounded body are near no flat: one look tells
        foreach (var face in hull.Faces)
        {
            var at = hull.Corners[face.A];
            if (!Near(face.Normal).Exists(number => Same(normals[number].Normal, face.Normal)))
            {
                Put(face.Normal, normals.Count);
                normals.Add((face.Normal, Vec3.Dot(face.Normal, at + hull.Low), 0));
            }
        }

        var slack = (precision * 4) + hull.Missed + 1e-6;
        for (var i = 0; i < corners.Length; i += 3)
        {
            var (a, b, c) = (points[corners[i]], points[corners[i + 1]], points[corners[i + 2]]);
            var normal = Vec3.Cross(b - a, c - a) * 0.5;
            var area = normal.Norm;
            if (area == 0)
            {
                continue;
            }

            // A mesh may be turned inside out in part, so both sides are looked at.
            Note(normal * (1 / area), area, a, b, c);
            Note(normal * (-1 / area), area, a, b, c);
        }

        return [.. normals.Where(flat => flat.Area > 0).Select(flat => new Flat(flat.Normal, flat.Offset, flat.Area))];

        void Note(Vec3 unit, double area, Vec3 a, Vec3 b, Vec3 c)
        {
            foreach (var number in Near(unit))
            {
                var flat = normals[number];
                if (Same(flat.Normal, unit)
                    && Math.Min(Vec3.Dot(flat.Normal, a), Math.Min(Vec3.Dot(flat.Normal, b), Vec3.Dot(flat.Normal, c))) >= flat.Offset - slack)
                {
                    normals[number] = flat with { Area = flat.Area + area };
                    return;
                }
            }
        }

        // Into the cell and all around it, so that one look is enough: flats are few, triangles many.
        void Put(Vec3 normal, int number)
        {
            var (x, y, z) = Cell(normal);
            for (var i = 0; i < 27; i++)
            {
                var cell = (x + (i % 3) - 1, y + (i / 3 % 3) - 1, z + (i / 9) - 1);
                filled[Place(cell)] = true;
                if (!cells.TryGetValue(cell, out var list))
                {
                    cells[cell] = list = [];
                }

                list.Add(number);
            }
        }

        List<int> Near(Vec3 normal)
        {
            var cell = Cell(normal);
            return filled[Place(cell)] && cells.TryGetValue(cell, out var list) ? list : [];
        }

        int Place((int X, int Y, int Z) cell) => ((cell.X * 9973) ^ (cell.Y * 619) ^ (cell.Z * 31)) & (filled.Length - 1);
    }

    private static bool Same(Vec3 a, Vec3 b) => (a - b).Norm < Agree;

    private static (int X, int Y, int Z) Cell(Vec3 normal) =>
        ((int)Math.Floor(normal.X / Grid), (int)Math.Floor(normal.Y / Grid), (int)Math.Floor(normal.Z / Grid));
}
