using System.Collections.Immutable;

namespace Nest.Core.Jobs;

/// <summary>Questions to a list of findings.</summary>
public static class Findings
{
    /// <summary>Whether any of them refuses the input or the plan.</summary>
    public static bool HasErrors(this ImmutableArray<Finding> findings) => findings.Any(finding => finding.Severity == Severity.Error);
}
