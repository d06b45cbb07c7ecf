using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Texts;

namespace Nest.Cli;

/// <summary>Findings as lines of text.</summary>
internal static class Screen
{
    /// <summary>Errors first, then what is worth reading beside them.</summary>
    public static void Report(TextWriter writer, ImmutableArray<Finding> findings)
    {
        foreach (var finding in findings.OrderBy(finding => finding.Severity == Severity.Error ? 0 : 1))
        {
            writer.WriteLine($"{(finding.Severity == Severity.Error ? "error" : "note")}: {OneLine(finding.ToString())}");
        }
    }

    // A name with a line end must not look like a message of its own.
    private static string OneLine(string text) => PlainText.Visible(text).Replace("\n", "\\u000A", StringComparison.Ordinal);
}
