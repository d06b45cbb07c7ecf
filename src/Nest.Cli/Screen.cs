using System.Collections.Immutable;
using Nest.Core.Jobs;

namespace Nest.Cli;

/// <summary>Findings as lines of text.</summary>
internal static class Screen
{
    /// <summary>Errors first, then what is worth reading beside them.</summary>
    public static void Report(TextWriter writer, ImmutableArray<Finding> findings)
    {
        foreach (var finding in findings.OrderBy(finding => finding.Severity == Severity.Error ? 0 : 1))
        {
            writer.WriteLine($"{(finding.Severity == Severity.Error ? "error" : "note")}: {finding}");
        }
    }
}
