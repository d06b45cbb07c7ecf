using System.IO.Compression;
using System.Xml;
using Nest.Core.Solids;

namespace Nest.Data.Models;

/// <summary>Reads 3MF: meshes, components with transforms, what the build puts where.</summary>
/// <remarks>3MF Core Specification 1.x and the parts in several files of the Production Extension. <see cref="ThreeMfArchive"/> says what is guarded against.</remarks>
internal sealed class ThreeMfFile
{
    private readonly ThreeMfArchive archive;
    private readonly Dictionary<(string File, string Id), MfObject> objects = [];
    private readonly HashSet<string> filesRead = new(StringComparer.OrdinalIgnoreCase);
    private readonly List<(ModelPart Part, MfObject From, Placing Shape)> parts = [];
    private readonly List<ModelInstance> instances = [];
    private int triangles;
    private int visits;

    private ThreeMfFile(ZipArchive archive) => this.archive = new(archive);

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
        var (unit, items) = ReadModel(archive.RootName(), isRoot: true);
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

    private (ModelUnit Unit, List<(string File, string Id, Placing At)> Items) ReadModel(string file, bool isRoot)
    {
        if (!filesRead.Add(file))
        {
            return (ModelUnits.Millimetre, []);
        }

        var unit = ModelUnits.Millimetre;
        var items = new List<(string File, string Id, Placing At)>();
        MfObject? current = null;
        using var reader = archive.Model(file);
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
                    if (!objects.TryAdd((file, reader.Id("id")), current))
                    {
                        throw ModelFault.Damaged($"the object {reader.Id("id")} is there twice");
                    }

                    break;
                case "mesh" when current is not null:
                    current.Points = [];
                    break;
                case "vertex" when current?.Points is { } points:
                    points.Add(new(reader.Number("x"), reader.Number("y"), reader.Number("z")));
                    Limit(points.Count);
                    break;
                case "triangle" when current is not null:
                    current.Faces.Add((reader.Whole("v1"), reader.Whole("v2"), reader.Whole("v3")));
                    Limit(++triangles);
                    break;
                case "component" when current is not null:
                    current.Components.Add((reader.FileOf(file), reader.Id("objectid"), reader.Transform()));
                    Limit(current.Components.Count * 100);
                    break;
                case "item" when isRoot:
                    items.Add((reader.FileOf(file), reader.Id("objectid"), reader.Transform()));
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
}
