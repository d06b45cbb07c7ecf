using System.Buffers.Binary;
using System.Text;
using Nest.Core.Solids;

namespace Nest.Data.Models;

/// <summary>Reads STL, text and binary.</summary>
/// <remarks>Whether a file is binary is told by its length (84 bytes and 50 a triangle), not by its first word: some binary files begin with
/// "solid". Normals in the file are not read: the order of the corners tells the outside.</remarks>
internal static class StlFile
{
    private const int Head = 84;
    private const int Record = 50;

    /// <summary>Triangles, and the note in the head or name.</summary>
    public static (MeshBuilder Mesh, string Note) Read(Stream stream)
    {
        var head = new byte[Head];
        var got = stream.ReadAtLeast(head, Head, throwOnEndOfStream: false);
        var length = stream.Length;
        var count = got == Head ? BinaryPrimitives.ReadUInt32LittleEndian(head.AsSpan(80)) : 0;
        var whole = Head + (count * (long)Record);
        var text = head.AsSpan(0, got).TrimStart("\uFEFF"u8).TrimStart(" \t\r\n"u8);
        if (got == Head && count > 0 && length == whole)
        {
            return Binary(stream, count, head);
        }

        if (StartsWithSolid(text) && LooksLikeText(head.AsSpan(0, got)))
        {
            stream.Position = 0;
            return Text(stream);
        }

        if (got < Head || (count > 0 && length < whole))
        {
            throw ModelFault.Damaged(got < Head
                ? "this is no STL file: it is too short"
                : $"the file is cut off: it says {count} triangles and holds {(length - Head) / Record}");
        }

        // Some writers add bytes of their own at the end.
        return count > 0 && length - whole < Record * 20L
            ? Binary(stream, count, head)
            : throw ModelFault.Damaged(count == 0 ? "the file says that it has no triangles" : "this is no STL file: its length does not agree with its number of triangles");
    }

    private static bool StartsWithSolid(ReadOnlySpan<byte> text) =>
        text.Length >= 5 && Encoding.ASCII.GetString(text[..5]).Equals("solid", StringComparison.OrdinalIgnoreCase);

    // A text has no zero byte, and no byte that UTF-8 never uses.
    private static bool LooksLikeText(ReadOnlySpan<byte> head) => !head.Contains((byte)0) && !head.ContainsAnyInRange((byte)0xF8, (byte)0xFF);

    private static (MeshBuilder Mesh, string Note) Binary(Stream stream, uint count, byte[] head)
    {
        if (count > ModelLimits.Triangles)
        {
            throw ModelFault.TooMuch($"the file has {count} triangles, more than {ModelLimits.Triangles}");
        }

        var mesh = new MeshBuilder();
        var buffer = new byte[Record * 4096];
        for (long left = count; left > 0;)
        {
            var take = (int)Math.Min(left, 4096) * Record;
            if (stream.ReadAtLeast(buffer.AsSpan(0, take), take, throwOnEndOfStream: false) < take)
            {
                throw ModelFault.Damaged("the file ended while it was read");
            }

            for (var at = 0; at < take; at += Record)
            {
                mesh.Add(Point(buffer, at + 12), Point(buffer, at + 24), Point(buffer, at + 36));
            }

            left -= take / Record;
        }

        return (mesh, Encoding.Latin1.GetString(head, 0, 80).Replace('\0', ' '));
    }

    private static Vec3 Point(byte[] buffer, int at)
    {
        var (x, y, z) = (One(at), One(at + 4), One(at + 8));
        return new(x, y, z);

        double One(int place)
        {
            var value = BinaryPrimitives.ReadSingleLittleEndian(buffer.AsSpan(place));
            return float.IsFinite(value) && Math.Abs(value) <= 1e12f
                ? value
                : throw ModelFault.Damaged("a coordinate is not a number, or beyond all sizes");
        }
    }

    private static (MeshBuilder Mesh, string Note) Text(Stream stream)
    {
        var mesh = new MeshBuilder();
        var scanner = new ByteScanner(stream, ModelLimits.MeshBytes);
        scanner.Word();
        var note = scanner.RestOfLine();
        while (true)
        {
            var word = scanner.Word();
            if (word.IsEmpty)
            {
                return (mesh, note);
            }

            if (Is(word, "facet"u8))
            {
                Facet(scanner, mesh);
                if (mesh.Given > ModelLimits.Triangles)
                {
                    throw ModelFault.TooMuch($"the file has more than {ModelLimits.Triangles} triangles");
                }
            }
            else if (Is(word, "endsolid"u8) || Is(word, "solid"u8))
            {
                scanner.SkipLine();
            }
            else
            {
                throw ModelFault.Damaged($"'{ByteScanner.Show(word)}' where 'facet' or 'endsolid' must stand", scanner.Line);
            }
        }
    }

    private static void Facet(ByteScanner scanner, MeshBuilder mesh)
    {
        Want(scanner, "normal"u8);
        for (var i = 0; i < 3; i++)
        {
            // The normal is not used: some files have nan in it.
            scanner.Word();
        }

        Want(scanner, "outer"u8);
        Want(scanner, "loop"u8);
        Span<int> corners = stackalloc int[3];
        for (var i = 0; i < 3; i++)
        {
            Want(scanner, "vertex"u8);
            corners[i] = mesh.Corner(new(scanner.Number(), scanner.Number(), scanner.Number()));
        }

        Want(scanner, "endloop"u8);
        Want(scanner, "endfacet"u8);
        mesh.Add(corners[0], corners[1], corners[2]);
    }

    private static void Want(ByteScanner scanner, ReadOnlySpan<byte> wanted)
    {
        var word = scanner.Word();
        if (!Is(word, wanted))
        {
            throw ModelFault.Damaged($"'{ByteScanner.Show(word)}' where '{ByteScanner.Show(wanted)}' must stand", scanner.Line);
        }
    }

    private static bool Is(ReadOnlySpan<byte> word, ReadOnlySpan<byte> wanted) => Ascii.EqualsIgnoreCase(word, wanted);
}
