using System.Text.Json;
using Json.Schema;
using Nest.Tests.Data;

namespace Nest.Tests.Contracts;

/// <summary>A published schema of the folder <c>stock</c> (JSON Schema 2020-12).</summary>
internal sealed class Schema
{
    private static readonly EvaluationOptions Listed = new() { OutputFormat = OutputFormat.List };
    private readonly JsonSchema schema;

    private Schema(string file) => schema = JsonSchema.FromText(File.ReadAllText(file));

    public static Schema Plan { get; } = Of("plan.schema.json");

    public static Schema Rack { get; } = Of("rack.schema.json");

    /// <summary>What of the text is not as the schema has it: place and reason; empty when all is.</summary>
    public string[] Errors(string json)
    {
        using var document = JsonDocument.Parse(json);
        var results = schema.Evaluate(document.RootElement, Listed);
        if (results.IsValid)
        {
            return [];
        }

        var errors = (results.Details ?? []).Where(detail => detail.Errors is not null)
            .SelectMany(detail => detail.Errors!.Select(error => $"{detail.InstanceLocation}: {error.Value}")).Take(20).ToArray();
        return errors.Length > 0 ? errors : ["refused without a reason"];
    }

    private static Schema Of(string name) => new(Path.Combine(Repository.Root, "stock", name));
}
