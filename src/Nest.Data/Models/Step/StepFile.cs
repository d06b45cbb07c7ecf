using Nest.Core.Solids;

namespace Nest.Data.Models.Step;

/// <summary>Reads STEP (ISO 10303-21; AP203, AP214, AP242): products with their solids, and assemblies with pieces, counts and names.</summary>
/// <remarks>A product's shape representation holds its solids, directly or through a plain relationship. A piece of an assembly is a
/// NEXT_ASSEMBLY_USAGE_OCCURRENCE; where it stands says the relationship with a transformation of its CONTEXT_DEPENDENT_SHAPE_REPRESENTATION. MAPPED_ITEM
/// is read too.</remarks>
internal sealed class StepFile
{
    private readonly StepGraph graph;
    private readonly ModelUnit unit;
    private readonly double radians;
    private readonly StepSolids solids;
    private readonly Dictionary<int, List<StepEntity>> shapesOf = [];
    private readonly Dictionary<int, List<int>> joined = [];
    private readonly List<ModelPart> parts = [];
    private readonly Dictionary<(int Definition, int Body), int> numbers = [];
    private readonly List<ModelInstance> instances = [];
    private int visits;

    private StepFile(ExchangeText text)
    {
        graph = new(text.Entities);
        (unit, radians) = Units();
        solids = new(graph, unit.Millimetres, radians);
    }

    public static (ModelUnit Unit, List<ModelPart> Parts, List<ModelInstance> Instances) Read(Stream stream, string name)
    {
        var bytes = new byte[stream.Length];
        stream.Position = 0;
        stream.ReadExactly(bytes);
        var file = new StepFile(ExchangeText.Read(bytes));
        file.Build(name);
        return (file.unit, file.parts, file.instances);
    }

    private (ModelUnit Unit, double Radians) Units()
    {
        var found = graph.All("GLOBAL_UNIT_ASSIGNED_CONTEXT").Select(context => StepUnits.Of(graph, context)).OfType<(ModelUnit Length, double Radians)>().Distinct().ToList();
        return found.Select(entry => entry.Length.Millimetres).Distinct().Count() switch
        {
            0 => throw ModelFault.Damaged("the file names no unit of length"),
            1 => found[0],
            _ => throw new ModelFault("step-units", "the parts of the file have different units of length, which is not read", "export it in one unit"),
        };
    }

    private void Build(string name)
    {
        foreach (var link in graph.All("SHAPE_DEFINITION_REPRESENTATION"))
        {
            var shape = graph.Get(StepGraph.Value(link, 0));
            if (graph.Find(StepGraph.Value(shape, 2)) is { Name: "PRODUCT_DEFINITION" } definition)
            {
                Add(shapesOf, definition.Number, graph.Get(StepGraph.Value(link, 1)));
            }
        }

        foreach (var link in graph.All("SHAPE_REPRESENTATION_RELATIONSHIP").Concat(graph.All("REPRESENTATION_RELATIONSHIP")))
        {
            if (!link.Is("REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION"))
            {
                var part = link.Part("REPRESENTATION_RELATIONSHIP") ?? link.Parts[0];
                var (a, b) = (graph.Get(StepGraph.Value(part, 2, link.Number)), graph.Get(StepGraph.Value(part, 3, link.Number)));
                Add(joined, a.Number, b.Number);
                Add(joined, b.Number, a.Number);
            }
        }

        var children = Children();
        var inner = children.Values.SelectMany(list => list).Select(child => child.Definition).ToHashSet();
        foreach (var root in graph.All("PRODUCT_DEFINITION").Where(definition => !inner.Contains(definition.Number)))
        {
            Place(root, "", Placing.None, children, [], name);
        }

        if (parts.Count == 0)
        {
            // Solids without a product.
            foreach (var solid in AllBodies())
            {
                Add(-1, solid, "", Placing.None, name, false);
            }
        }

        if (parts.Count == 0)
        {
            throw new ModelFault("step-no-solid", "the file has no solid", "export the part as a solid (AP214 or AP242), not as drawing or facets");
        }

        var counts = instances.GroupBy(instance => instance.Part).ToDictionary(group => group.Key, group => group.Count());
        for (var i = 0; i < parts.Count; i++)
        {
            parts[i] = parts[i] with { Count = counts[i] };
        }
    }

    private static readonly string[] BodyKinds = ["MANIFOLD_SOLID_BREP", "BREP_WITH_VOIDS", "FACETED_BREP", "SHELL_BASED_SURFACE_MODEL"];

    private IEnumerable<StepEntity> AllBodies() => BodyKinds.SelectMany(graph.All);

    // Pieces of each assembly: what, its name, where it stands.
    private Dictionary<int, List<(int Definition, string Name, Placing At)>> Children()
    {
        var placings = new Dictionary<int, Placing>();
        foreach (var link in graph.All("CONTEXT_DEPENDENT_SHAPE_REPRESENTATION"))
        {
            var shape = graph.Get(StepGraph.Value(link, 1));
            if (graph.Find(StepGraph.Value(shape, 2)) is { } usage && usage.Is("NEXT_ASSEMBLY_USAGE_OCCURRENCE"))
            {
                placings[usage.Number] = Transformation(graph.Get(StepGraph.Value(link, 0)), usage);
            }
        }

        var children = new Dictionary<int, List<(int Definition, string Name, Placing At)>>();
        foreach (var usage in graph.All("NEXT_ASSEMBLY_USAGE_OCCURRENCE"))
        {
            var (parent, child) = (graph.Get(StepGraph.Value(usage, 3)), graph.Get(StepGraph.Value(usage, 4)));
            Add(children, parent.Number, (child.Number, StepGraph.Value(usage, 1).Text, placings.GetValueOrDefault(usage.Number, Placing.None)));
        }

        return children;
    }

    private Placing Transformation(StepEntity relation, StepEntity usage)
    {
        if (relation.Part("REPRESENTATION_RELATIONSHIP_WITH_TRANSFORMATION") is not { } with)
        {
            return Placing.None;
        }

        var item = graph.Get(StepGraph.Value(with, 0, relation.Number));
        if (item.Name != "ITEM_DEFINED_TRANSFORMATION")
        {
            throw ModelFault.Damaged($"#{item.Number} does not say where a piece stands");
        }

        var (one, other) = (StepGraph.Value(item, 2), StepGraph.Value(item, 3));
        // The child's frame comes first where the relationship names the child's representation first.
        var names = relation.Part("REPRESENTATION_RELATIONSHIP");
        var first = names is null ? null : graph.Find(StepGraph.Value(names, 2, relation.Number));
        var parent = graph.Get(StepGraph.Value(usage, 3)).Number;
        var parentFirst = first is not null && shapesOf.TryGetValue(parent, out var own) && own.Exists(shape => shape.Number == first.Number);
        var (from, to) = parentFirst ? (other, one) : (one, other);
        return graph.Frame(from, unit.Millimetres).Back().Then(graph.Frame(to, unit.Millimetres));
    }

    private void Place(
        StepEntity definition, string pieceName, Placing at, Dictionary<int, List<(int Definition, string Name, Placing At)>> children, HashSet<int> above, string fileName)
    {
        if (!above.Add(definition.Number) || above.Count > ModelLimits.Depth)
        {
            throw ModelFault.Damaged($"assemblies lie within each other more than {ModelLimits.Depth} deep, or in a circle");
        }

        if (++visits > ModelLimits.Instances)
        {
            throw ModelFault.TooMuch($"the assembly has more than {ModelLimits.Instances} pieces");
        }

        var bodies = new List<(StepEntity Body, Placing At)>();
        var seen = new HashSet<int>();
        foreach (var shape in shapesOf.GetValueOrDefault(definition.Number, []))
        {
            Collect(shape, Placing.None, bodies, seen, 0);
        }

        foreach (var (body, own) in bodies)
        {
            Add(definition.Number, body, pieceName, own.Then(at), NameOf(definition, fileName), bodies.Count > 1);
        }

        foreach (var (child, name, own) in children.GetValueOrDefault(definition.Number, []))
        {
            Place(graph.Get(child), name, own.Then(at), children, above, fileName);
        }

        above.Remove(definition.Number);
    }

    // Solids of a representation, of those joined to it, and of what is mapped into it.
    private void Collect(StepEntity shape, Placing at, List<(StepEntity Body, Placing At)> bodies, HashSet<int> seen, int depth)
    {
        if (!seen.Add(shape.Number) || shape.Parts[0].Values.Length < 2)
        {
            return;
        }

        if (depth > ModelLimits.Depth || bodies.Count > ModelLimits.Parts)
        {
            throw ModelFault.TooMuch($"a part has more than {ModelLimits.Parts} solids, or its shapes lie too deep");
        }

        foreach (var item in StepGraph.List(StepGraph.Value(shape, 1)).Select(graph.Get))
        {
            if (StepSolids.IsBody(item))
            {
                bodies.Add((item, at));
            }
            else if (item.Name == "MAPPED_ITEM")
            {
                var map = graph.Get(StepGraph.Value(item, 1));
                var placing = graph.Frame(StepGraph.Value(map, 0), unit.Millimetres).Back().Then(graph.Frame(StepGraph.Value(item, 2), unit.Millimetres));
                Collect(graph.Get(StepGraph.Value(map, 1)), placing.Then(at), bodies, [.. seen], depth + 1);
            }
        }

        foreach (var other in joined.GetValueOrDefault(shape.Number, []))
        {
            Collect(graph.Get(other), at, bodies, seen, depth + 1);
        }
    }

    private void Add(int definition, StepEntity body, string pieceName, Placing at, string name, bool several)
    {
        if (!numbers.TryGetValue((definition, body.Number), out var number))
        {
            if (parts.Count >= ModelLimits.Parts)
            {
                throw ModelFault.TooMuch($"the file has more than {ModelLimits.Parts} parts");
            }

            number = parts.Count;
            numbers[(definition, body.Number)] = number;
            var own = StepGraph.Value(body, 0).Text;
            var before = parts.Count(part => part.Name == name || part.Name.StartsWith(name + " ", StringComparison.Ordinal));
            parts.Add(new(!several ? name : own.Length > 0 && own != name ? $"{name} {own}" : $"{name} {before + 1}", 0, solids.Of(body)));
        }

        instances.Add(new(number, pieceName, at));
    }

    private string NameOf(StepEntity definition, string fileName)
    {
        var formation = graph.Find(StepGraph.Value(definition, 2));
        var product = formation is null ? null : graph.Find(StepGraph.Value(formation, 2));
        var name = product is { Name: "PRODUCT" } ? StepGraph.Value(product, 1).Text is { Length: > 0 } own ? own : StepGraph.Value(product, 0).Text : "";
        return name.Length > 0 ? name : fileName;
    }

    private static void Add<T>(Dictionary<int, List<T>> lists, int key, T value)
    {
        if (!lists.TryGetValue(key, out var list))
        {
            lists[key] = list = [];
        }

        list.Add(value);
    }
}
