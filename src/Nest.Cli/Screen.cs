using System.Collections.Immutable;
using Nest.Core.Jobs;

namespace Nest.Cli;

/// <summary>Findings as lines of text.</summary>
internal static class Screen
{
    public static void Report(TextWriter writer, ImmutableArray<Finding> findings)
    {
        foreach (var finding in findings)
        {
            writer.WriteLine($"{(finding.Severity == Severity.Error ? "error" : "note")}: {finding}");
        }
    }
}
