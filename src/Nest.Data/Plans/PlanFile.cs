using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Data.Plans;

namespace Nest.Data;

/// <summary>Plans as files: JSON, versioned, complete enough to be checked from the file alone. See stock/plan-format.md.</summary>
public static class PlanFile
{
    private const int MostBytes = 256 * 1024 * 1024;

    /// <summary>The plan as the text of a plan file. Same plan, same text.</summary>
    public static string ToText(Plan plan) => JsonSerializer.Serialize(PlanDocuments.From(plan), PlanJson.Options) + "\n";

    /// <summary>Writes the plan under a temporary name, reads it back, compares, and only then gives it its name.</summary>
    /// <returns>Why it could not be written; empty when it was.</returns>
    public static ImmutableArray<Finding> Write(Plan plan, string path)
    {
        var findings = new FindingList();
        var temporary = path + ".new";
        try
        {
            var text = ToText(plan);
            File.WriteAllText(temporary, text, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false));
            var back = Read(temporary);
            if (back.Value is null || ToText(back.Value) != text)
            {
                // Either the disk or this program is at fault; a plan that does not come back whole must not look like one.
                var why = back.Findings.FirstOrDefault()?.Message ?? "it differs";
                findings.Error("plan-not-read-back", new(path), $"the plan was written but does not read back: {why}", "check the disk, and report this");
                File.Delete(temporary);
                return findings.ToImmutable();
            }

            File.Move(temporary, path, overwrite: true);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            findings.Error("file-unwritable", new(path), $"the plan cannot be written: {problem.Message}", "check the folder, its rights and the space left");
        }

        return findings.ToImmutable();
    }

    /// <summary>Reads a plan file. That its names and numbers hang together is checked; whether the plan is right is not.</summary>
    public static ReadResult<Plan> Read(string path)
    {
        var findings = new FindingList();
        var text = TextFile.Read(path, "a plan file", findings, MostBytes);
        var plan = text is null ? null : Parse(text, path, findings);
        return findings.Result(plan);
    }

    private static Plan? Parse(string text, string path, FindingList findings)
    {
        try
        {
            if (!IsPlan(text, path, findings))
            {
                return null;
            }

            var document = JsonSerializer.Deserialize<PlanDocument>(text, PlanJson.Options)!;
            return IsWhole(document, path, findings) ? new PlanBuilder(path, document, findings).Build() : null;
        }
        catch (JsonException problem)
        {
            findings.Error("plan-damaged", Position(path, problem), Message(problem), "plan the job again, or restore the file");
            return null;
        }
        catch (Exception problem) when (problem is OverflowException or InvalidOperationException or ArgumentException)
        {
            // A value beyond what its type holds, in a place where the serializer does not say which.
            findings.Error("plan-damaged", new(path), $"a value in the file is out of range: {problem.Message}", "plan the job again, or restore the file");
            return null;
        }
    }

    private static bool IsPlan(string text, string path, FindingList findings)
    {
        using var json = JsonDocument.Parse(text);
        var root = json.RootElement;
        if (root.ValueKind != JsonValueKind.Object || !root.TryGetProperty("format", out var format)
            || format.ValueKind != JsonValueKind.String || format.GetString() != PlanDocument.FormatName)
        {
            findings.Error("plan-format", new(path), "this is not a plan file", $"name a file that begins with \"format\": \"{PlanDocument.FormatName}\"");
            return false;
        }

        if (!root.TryGetProperty("version", out var version) || version.ValueKind != JsonValueKind.Number
            || !version.TryGetInt32(out var number) || number is < PlanDocument.OldestVersion or > PlanDocument.CurrentVersion)
        {
            findings.Error(
                "plan-version", new(path),
                $"the plan file is not of a version from {PlanDocument.OldestVersion} to {PlanDocument.CurrentVersion}", "plan the job again with this program");
            return false;
        }

        return true;
    }

    /// <summary>Values that the file leaves out or gives as null, in a place where the serializer does not say so (lists, and what is in
    /// them).</summary>
    private static bool IsWhole(PlanDocument document, string path, FindingList findings)
    {
        if (Wholeness.Missing(document) is not { } missing)
        {
            return true;
        }

        findings.Error("plan-damaged", new(path), $"{missing}: is missing, or null", "plan the job again, or restore the file");
        return false;
    }

    private static SourcePosition Position(string path, JsonException problem) => problem.LineNumber is { } line
        ? new(path, (int)line + 1, (int)(problem.BytePositionInLine ?? 0) + 1)
        : new(path);

    private static string Message(JsonException problem)
    {
        var text = problem.Message;
        var cut = text.IndexOf(" Path: ", StringComparison.Ordinal);
        text = cut >= 0 ? text[..cut] : text;
        cut = text.IndexOf(" LineNumber: ", StringComparison.Ordinal);
        text = cut >= 0 ? text[..cut] : text;
        const string missing = "was missing required properties including: ";
        cut = text.IndexOf(missing, StringComparison.Ordinal);
        text = cut >= 0 ? "missing: " + text[(cut + missing.Length)..] : text;
        text = text.Contains("could not be mapped to any .NET member", StringComparison.Ordinal) ? "there is no such value in a plan file" : text;
        text = text.StartsWith("The JSON value could not be converted to", StringComparison.Ordinal) ? "the value cannot be read" : text;
        var where = problem.Path is { Length: > 2 } path ? path[2..] + ": " : "";
        return where + text.TrimEnd('.', ' ');
    }
}
