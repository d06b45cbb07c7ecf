using System.Collections.Immutable;
using Nest.Core.Jobs;

namespace Nest.Data;

/// <summary>What a reader gives back: the value, and all that it found on the way.</summary>
/// <param name="Value">Null when any finding is an error.</param>
/// <param name="Findings">Errors and notes in the order of the input.</param>
public sealed record ReadResult<T>(T? Value, ImmutableArray<Finding> Findings)
    where T : class
{
    public bool HasErrors => Findings.Any(finding => finding.Severity == Severity.Error);
}
