using System.Collections.Immutable;
using Nest.Core.Jobs;

namespace Nest.Data;

/// <summary>Collects what readers find, so that all of it is told at once.</summary>
internal sealed class FindingList
{
    // A file that is wrong all through must not bury the terminal.
    private const int Most = 200;

    private readonly List<Finding> findings = [];
    private readonly List<Finding> doubts = [];
    private int left;

    public int Errors { get; private set; }

    public void Error(string rule, SourcePosition where, string message, string advice)
    {
        Errors++;
        Add(new(Severity.Error, rule, where, message, advice));
    }

    public void Note(string rule, SourcePosition where, string message, string advice = "") =>
        Add(new(Severity.Note, rule, where, message, advice));

    /// <summary>A note on something that was read one way and may be meant another.</summary>
    public void Doubt(string rule, SourcePosition where, string message, string advice)
    {
        doubts.Add(new(Severity.Note, rule, where, message, advice));
        Note(rule, where, message, advice);
    }

    /// <summary>Adds what was found elsewhere.</summary>
    public void Take(FindingList other)
    {
        Errors += other.Errors;
        doubts.AddRange(other.doubts);
        other.findings.ForEach(Add);
        left += other.left;
    }

    /// <summary>What was read one way and may be meant another.</summary>
    public ImmutableArray<Finding> Doubts => [.. doubts.Take(Most)];

    public ImmutableArray<Finding> ToImmutable() => left == 0
        ? [.. findings]
        : [.. findings, new(Severity.Note, "more-findings", findings[^1].Where, $"{left} more findings are not shown", "mend these first")];

    public ReadResult<T> Result<T>(T? value)
        where T : class => new(Errors == 0 ? value : null, ToImmutable());

    private void Add(Finding finding)
    {
        if (findings.Count < Most)
        {
            findings.Add(finding);
        }
        else
        {
            left++;
        }
    }
}
