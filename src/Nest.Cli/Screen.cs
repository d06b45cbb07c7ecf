using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Texts;
using Nest.Data;

namespace Nest.Cli;

/// <summary>Findings as lines of text.</summary>
internal static class Screen
{
    public static void Report(TextWriter writer, ImmutableArray<Finding> findings)
    {
        foreach (var finding in findings)
        {
            writer.WriteLine($"{(finding.Severity == Severity.Error ? "error" : "note")}: {OneLine(finding.ToString())}");
        }
    }

    // A name with a line end must not look like a message of its own.
    private static string OneLine(string text) => PlainText.Visible(text).Replace("\n", "\\u000A", StringComparison.Ordinal);

    /// <summary>What was found of a part, with the row that the part was read from: who mends it opens a file.</summary>
    public static ImmutableArray<Finding> At(this ImmutableArray<Finding> findings, JobInput given) =>
    [
        .. findings.Select(finding => finding.Where is { Row: 0, File: var name } && name.StartsWith("part ", StringComparison.Ordinal)
            && given.PartRows.TryGetValue(name["part ".Length..], out var row)
                ? finding with { Where = row, Message = $"{name}: {finding.Message}" }
                : finding),
    ];

    public static bool HasErrors(this ImmutableArray<Finding> findings) =>
        findings.Any(finding => finding.Severity == Severity.Error);
}
