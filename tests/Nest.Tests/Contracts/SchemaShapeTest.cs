using System.Text.Json.Nodes;
using System.Text.Json.Serialization.Metadata;
using Nest.Data.Plans;
using Nest.Tests.Data;

namespace Nest.Tests.Contracts;

/// <summary>Schema and text of the plan file know every value that the program can write, and no other; found from the types that are written,
/// not from samples, so that a new value cannot be forgotten.</summary>
public class SchemaShapeTest
{
    private static readonly string Stock = Path.Combine(Repository.Root, "stock");

    [Fact]
    public void The_schema_has_the_values_that_are_written_and_no_others()
    {
        var schema = JsonNode.Parse(File.ReadAllText(Path.Combine(Stock, "plan.schema.json")))!;
        var differs = new List<string>();
        Compare(typeof(PlanDocument), schema, "plan", schema, [], (_, _) => { }, differs);
        differs.Should().BeEmpty();
    }

    [Fact]
    public void The_text_names_every_value_that_is_written()
    {
        var schema = JsonNode.Parse(File.ReadAllText(Path.Combine(Stock, "plan.schema.json")))!;
        var text = File.ReadAllText(Path.Combine(Stock, "plan-format.md"));
        var missing = new List<string>();
        Compare(typeof(PlanDocument), schema, "plan", schema, [], (where, name) =>
        {
            if (!text.Contains($"`{name}`", StringComparison.Ordinal) && !text.Contains($"`{name}[]`", StringComparison.Ordinal))
            {
                missing.Add($"{where}.{name}");
            }
        }, []);
        missing.Should().BeEmpty();
    }

    private static void Compare(
        Type type, JsonNode? schema, string where, JsonNode root, HashSet<Type> seen, Action<string, string> written, List<string> differs)
    {
        if (schema?["$ref"]?.GetValue<string>() is { } name)
        {
            schema = root["$defs"]![name["#/$defs/".Length..]];
        }

        var info = PlanJson.Options.GetTypeInfo(Nullable.GetUnderlyingType(type) ?? type);
        if (info.Kind == JsonTypeInfoKind.Enumerable)
        {
            Compare(info.ElementType!, schema?["items"], where + "[]", root, seen, written, differs);
            return;
        }

        if (info.Kind != JsonTypeInfoKind.Object || !seen.Add(info.Type))
        {
            return;
        }

        // What cannot be set is worked out from the rest, and not written.
        var values = info.Properties.Where(property => property.Set is not null).ToDictionary(property => property.Name, StringComparer.Ordinal);
        var known = schema?["properties"]?.AsObject().Select(property => property.Key).ToHashSet(StringComparer.Ordinal) ?? [];
        differs.AddRange(values.Keys.Except(known).Select(value => $"{where}.{value} is not in the schema"));
        differs.AddRange(known.Except(values.Keys).Select(value => $"{where}.{value} is never written"));
        foreach (var value in values.Values)
        {
            written(where, value.Name);
            Compare(value.PropertyType, schema?["properties"]?[value.Name], $"{where}.{value.Name}", root, seen, written, differs);
        }
    }
}
