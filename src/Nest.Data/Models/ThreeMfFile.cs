using System.IO.Compression;
using System.Xml;
using Nest.Core.Solids;

namespace Nest.Data.Models;

/// <summary>Reads 3MF: meshes, components with transforms, what the build puts where.</summary>
/// <remarks>3MF Core Specification 1.x and the parts in several files of the Production Extension. Nothing is unpacked to disk, and names in the
/// archive are only looked up in it. Entities are never resolved; unpacked bytes are counted.</remarks>
internal sealed class ThreeMfFile
{
    private readonly ZipArchive archive;
    private readonly Dictionary<(string File, string Id), MfObject> objects = [];
    private readonly HashSet<string> filesRead = new(StringComparer.OrdinalIgnoreCase);
    private readonly List<(ModelPart Part, MfObject From, Placing Shape)> parts = [];
    private readonly List<ModelInstance> instances = [];
    private long unpacked;
    private int triangles;
    private int visits;

    private ThreeMfFile(ZipArchive archive) => this.archive = archive;

    private sealed class MfObject
    {
        public string Name = "";
        public List<Vec3>? Points;
        public List<(int A, int B, int C)> Faces = [];
        public List<(string File, string Id, Placing At)> Components = [];
    }

    public static (ModelUnit Unit, List<ModelPart> Parts, List<ModelInstance> Instances) Read(Stream stream)
    {
        try
        {
            using var archive = new ZipArchive(stream, ZipArchiveMode.Read);
            if (archive.Entries.Count > 10_000)
            {
                throw ModelFault.TooMuch($"the archive has {archive.Entries.Count} entries");
            }

            return new ThreeMfFile(archive).Build();
        }
        catch (InvalidDataException)
        {
            throw ModelFault.Damaged("this is no 3MF file: the archive is damaged");
        }
        catch (XmlException problem)
        {
            throw ModelFault.Damaged($"the model in the archive is no sound XML: {ModelLimits.CleanName(problem.Message)}");
        }
    }

    private (ModelUnit Unit, List<ModelPart> Parts, List<ModelInstance> Instances) Build()
    {
        var root = RootName();
        var (unit, items) = ReadModel(root, isRoot: true);
        if (items.Count == 0)
        {
            throw ModelFault.Damaged("the file builds nothing: it has no item");
        }

        foreach (var (file, id, at) in items)
        {
            Place(file, id, at, unit.Millimetres, 0);
        }

        var counts = instances.GroupBy(instance => instance.Part).ToDictionary(group => group.Key, group => group.Count());
        return (unit, [.. parts.Select((entry, number) => entry.Part with { Count = counts[number] })], instances);
    }

    private string RootName()
    {
        if (Entry("_rels/.rels") is { } relations)
        {
            using var reader = Open(relations);
            while (reader.Read())
            {
                if (reader.NodeType == XmlNodeType.Element && reader.LocalName == "Relationship"
                    && reader.GetAttribute("Type") is { } type && type.EndsWith("/3dmodel", StringComparison.Ordinal)
                    && reader.GetAttribute("Target") is { } target)
                {
                    return Normal(target);
                }
            }
        }

        return "3D/3dmodel.model";
    }

    private static string Normal(string name) => name.TrimStart('/').Contains("..", StringComparison.Ordinal)
        ? throw ModelFault.Damaged("a name in the archive leads out of it")
        : name.TrimStart('/');

    private ZipArchiveEntry? Entry(string name) =>
        archive.Entries.FirstOrDefault(entry => entry.FullName.TrimStart('/').Equals(name, StringComparison.OrdinalIgnoreCase));

    private XmlReader Open(ZipArchiveEntry entry) => XmlReader.Create(
        new CountedStream(entry.Open(), count =>
        {
            unpacked += count;
            if (unpacked > ModelLimits.MeshBytes)
            {
                throw ModelFault.TooMuch($"the archive unpacks to more than {ModelLimits.MeshBytes >> 20} MiB");
            }
        }),
        new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit, XmlResolver = null, IgnoreComments = true, IgnoreWhitespace = true, CloseInput = true });

    private (ModelUnit Unit, List<(string File, string Id, Placing At)> Items) ReadModel(string file, bool isRoot)
    {
        if (!filesRead.Add(file))
        {
            return (ModelUnits.Millimetre, []);
        }

        if (Entry(file) is not { } entry)
        {
            throw ModelFault.Damaged($"the archive has no '{ModelLimits.CleanName(file)}'");
        }

        var unit = ModelUnits.Millimetre;
        var items = new List<(string File, string Id, Placing At)>();
        MfObject? current = null;
        using var reader = Open(entry);
        while (reader.Read())
        {
            if (reader.Depth > 64)
            {
                throw ModelFault.Damaged("elements lie within each other too deep");
            }

            if (reader.NodeType != XmlNodeType.Element)
            {
                continue;
            }

            switch (reader.LocalName)
            {
                case "model":
                    var word = reader.GetAttribute("unit") ?? "millimeter";
                    unit = ModelUnits.Of(word) ?? throw ModelFault.Damaged($"the unit '{ModelLimits.CleanName(word)}' is not known");
                    break;
                case "object":
                    current = new() { Name = ModelLimits.CleanName(reader.GetAttribute("name") ?? "") };
                    if (!objects.TryAdd((file, Id(reader, "id")), current))
                    {
                        throw ModelFault.Damaged($"the object {Id(reader, "id")} is there twice");
                    }

                    break;
                case "mesh" when current is not null:
                    current.Points = [];
                    break;
                case "vertex" when current?.Points is { } points:
                    points.Add(new(Number(reader, "x"), Number(reader, "y"), Number(reader, "z")));
                    Limit(points.Count);
                    break;
                case "triangle" when current is not null:
                    current.Faces.Add((Whole(reader, "v1"), Whole(reader, "v2"), Whole(reader, "v3")));
                    Limit(++triangles);
                    break;
                case "component" when current is not null:
                    current.Components.Add((FileOf(reader, file), Id(reader, "objectid"), Transform(reader)));
                    Limit(current.Components.Count * 100);
                    break;
                case "item" when isRoot:
                    items.Add((FileOf(reader, file), Id(reader, "objectid"), Transform(reader)));
                    Limit(items.Count * 100);
                    break;
                default:
                    break;
            }
        }

        return (unit, items);
    }

    private static void Limit(int count)
    {
        if (count > ModelLimits.Triangles)
        {
            throw ModelFault.TooMuch($"the file has more than {ModelLimits.Triangles} triangles");
        }
    }

    private static string Id(XmlReader reader, string attribute) =>
        ModelLimits.CleanName(reader.GetAttribute(attribute) ?? throw ModelFault.Damaged($"an element '{reader.LocalName}' has no '{attribute}'"));

    private static string FileOf(XmlReader reader, string file)
    {
        string? path = null;
        while (reader.MoveToNextAttribute())
        {
            path = reader.LocalName == "path" ? reader.Value : path;
        }

        reader.MoveToElement();
        return path is null ? file : Normal(path);
    }

    private static double Number(XmlReader reader, string attribute) =>
        double.TryParse(reader.GetAttribute(attribute), System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out var value)
        && double.IsFinite(value) && Math.Abs(value) <= 1e12
            ? value
            : throw ModelFault.Damaged($"'{attribute}' of a {reader.LocalName} is no number, or beyond all sizes", (reader as IXmlLineInfo)?.LineNumber ?? 0);

    private static int Whole(XmlReader reader, string attribute) =>
        int.TryParse(reader.GetAttribute(attribute), System.Globalization.NumberStyles.None, System.Globalization.CultureInfo.InvariantCulture, out var value)
            ? value
            : throw ModelFault.Damaged($"'{attribute}' of a {reader.LocalName} is no number", (reader as IXmlLineInfo)?.LineNumber ?? 0);

    // Twelve numbers, row by row: images of x, y, z, then of the origin.
    private static Placing Transform(XmlReader reader)
    {
        if (reader.GetAttribute("transform") is not { } text)
        {
            return Placing.None;
        }

        var words = text.Split((char[])[' ', '\t', '\r', '\n'], StringSplitOptions.RemoveEmptyEntries);
        var m = new double[12];
        for (var i = 0; i < 12; i++)
        {
            if (words.Length != 12 || !double.TryParse(words[i], System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out m[i])
                || !double.IsFinite(m[i]) || Math.Abs(m[i]) > 1e9)
            {
                throw ModelFault.Damaged("a transform is not twelve numbers", (reader as IXmlLineInfo)?.LineNumber ?? 0);
            }
        }

        return new(new(m[0], m[1], m[2]), new(m[3], m[4], m[5]), new(m[6], m[7], m[8]), new(m[9], m[10], m[11]));
    }

    private void Place(string file, string id, Placing at, double scale, int depth)
    {
        if (depth > ModelLimits.Depth)
        {
            throw ModelFault.Damaged($"components lie within each other more than {ModelLimits.Depth} deep, or in a circle");
        }

        if (++visits > 4 * ModelLimits.Instances || instances.Count >= ModelLimits.Instances)
        {
            throw ModelFault.TooMuch($"the file builds more than {ModelLimits.Instances} pieces");
        }

        if (!objects.ContainsKey((file, id)) && !filesRead.Contains(file))
        {
            ReadModel(file, isRoot: false);
        }

        if (!objects.TryGetValue((file, id), out var item))
        {
            throw ModelFault.Damaged($"there is no object {id}");
        }

        foreach (var (inner, innerId, placing) in item.Components)
        {
            Place(inner, innerId, placing.Then(at), scale, depth + 1);
        }

        if (item.Points is not null && item.Faces.Count > 0)
        {
            var rigid = at.IsRigid;
            var shape = rigid ? Placing.None : at with { Origin = default };
            var number = parts.FindIndex(known => ReferenceEquals(known.From, item) && known.Shape == shape);
            if (number < 0)
            {
                number = parts.Count;
                parts.Add((PartOf(item, shape, scale), item, shape));
                if (parts.Count > ModelLimits.Parts)
                {
                    throw ModelFault.TooMuch($"the file has more than {ModelLimits.Parts} parts");
                }
            }

            var stands = rigid ? at : Placing.None with { Origin = at.Origin };
            instances.Add(new(number, item.Name, stands with { Origin = stands.Origin * scale }));
        }
    }

    private static ModelPart PartOf(MfObject item, Placing shape, double scale)
    {
        if (!shape.IsFinite || Math.Abs(shape.Determinant) < 1e-12)
        {
            throw ModelFault.Damaged("a transform leaves the part no volume");
        }

        var mesh = new MeshBuilder();
        var numbers = item.Points!.Select(point => mesh.Corner(shape.Of(point))).ToArray();
        foreach (var (a, b, c) in item.Faces)
        {
            if (Math.Max(a, Math.Max(b, c)) >= numbers.Length)
            {
                throw ModelFault.Damaged($"a triangle names the corner {Math.Max(a, Math.Max(b, c))} of {numbers.Length}");
            }

            // A mirrored part turns inside out with its corners in the old order.
            mesh.Add(numbers[a], numbers[shape.Determinant < 0 ? c : b], numbers[shape.Determinant < 0 ? b : c]);
        }

        return new(item.Name, 0, ModelReader.MeshOf(mesh, scale, ModelReader.TextDigits));
    }

    /// <summary>Counts what passes.</summary>
    private sealed class CountedStream(Stream inner, Action<int> counted) : Stream
    {
        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position
        {
            get => throw new NotSupportedException();
            set => throw new NotSupportedException();
        }

        public override int Read(byte[] buffer, int offset, int count)
        {
            var got = inner.Read(buffer, offset, count);
            counted(got);
            return got;
        }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        protected override void Dispose(bool disposing)
        {
            inner.Dispose();
            base.Dispose(disposing);
        }
    }
}
