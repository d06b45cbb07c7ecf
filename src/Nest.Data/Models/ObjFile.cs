using System.Buffers.Text;
using System.Text;
using Nest.Core.Solids;

namespace Nest.Data.Models;

/// <summary>Reads the polygons of OBJ: v, f and o; textures, normals and materials do not matter here.</summary>
internal static class ObjFile
{
    /// <summary>One mesh an object, with its name, and the comments that may name a unit.</summary>
    public static (List<(string Name, MeshBuilder Mesh)> Objects, string Note) Read(Stream stream)
    {
        var scanner = new ByteScanner(stream, ModelLimits.MeshBytes);
        var points = new List<Vec3>();
        var objects = new List<(string Name, MeshBuilder Mesh)>();
        var note = new StringBuilder();
        var name = "";
        MeshBuilder? mesh = null;
        var given = 0;
        while (true)
        {
            var word = scanner.Word();
            if (word.IsEmpty)
            {
                return (objects, note.ToString());
            }

            if (word.SequenceEqual("v"u8))
            {
                points.Add(new(InLine(scanner), InLine(scanner), InLine(scanner)));
                scanner.SkipLine();
                if (points.Count > 3 * ModelLimits.Triangles)
                {
                    throw ModelFault.TooMuch("the file has too many corners");
                }
            }
            else if (word.SequenceEqual("f"u8))
            {
                if (mesh is null)
                {
                    mesh = new();
                    objects.Add((name, mesh));
                }

                var before = mesh.Given;
                Face(scanner, points, mesh, ModelLimits.Triangles - given);
                given += mesh.Given - before;
            }
            else if (word.SequenceEqual("o"u8))
            {
                name = scanner.RestOfLine();
                mesh = null;
                if (objects.Count >= ModelLimits.Parts)
                {
                    throw ModelFault.TooMuch($"the file has more than {ModelLimits.Parts} objects");
                }
            }
            else if (word is [(byte)'#', ..])
            {
                var comment = Encoding.UTF8.GetString(word[1..]) + " " + scanner.RestOfLine();
                if (note.Length < 4000)
                {
                    note.Append(comment).Append(' ');
                }
            }
            else if (word.SequenceEqual("curv"u8) || word.SequenceEqual("surf"u8) || word.SequenceEqual("curv2"u8))
            {
                throw new ModelFault("model-free-form", "the file has curved surfaces, which are not read from OBJ", "export it as a mesh, or as STEP", scanner.Line);
            }
            else
            {
                scanner.SkipLine();
            }
        }
    }

    private static double InLine(ByteScanner scanner)
    {
        var word = scanner.WordInLine();
        return word.IsEmpty ? throw ModelFault.Damaged("a corner has fewer than three numbers", scanner.Line) : ByteScanner.ToNumber(word, scanner.Line);
    }

    // A polygon as a fan: sums over it are right also where it is not convex.
    private static void Face(ByteScanner scanner, List<Vec3> points, MeshBuilder mesh, int most)
    {
        var line = scanner.Line;
        int first = -1, before = -1, count = 0;
        while (true)
        {
            var word = scanner.WordInLine();
            if (word.IsEmpty)
            {
                break;
            }

            if (word.SequenceEqual("\\"u8))
            {
                scanner.SkipLine();
                continue;
            }

            var corner = mesh.Corner(points[Index(word, points.Count, line)]);
            count++;
            if (count == 1)
            {
                first = corner;
            }
            else if (count > 2)
            {
                if (count - 2 > most)
                {
                    throw ModelFault.TooMuch($"the file has more than {ModelLimits.Triangles} triangles");
                }

                mesh.Add(first, before, corner);
            }

            before = corner;
        }

        if (count < 3)
        {
            throw ModelFault.Damaged("a face has fewer than three corners", line);
        }
    }

    // 7, 7/1, 7//2, 7/1/2; negative numbers count back from the last corner that was read.
    private static int Index(ReadOnlySpan<byte> word, int count, int line)
    {
        var slash = word.IndexOf((byte)'/');
        var digits = slash < 0 ? word : word[..slash];
        if (!Utf8Parser.TryParse(digits, out int number, out var used) || used != digits.Length)
        {
            throw ModelFault.Damaged($"'{ByteScanner.Show(word)}' is not a corner's number", line);
        }

        var index = number > 0 ? number - 1L : number < 0 ? count + (long)number : -1L;
        return index >= 0 && index < count ? (int)index : throw ModelFault.Damaged($"there is no corner {number}", line);
    }
}
