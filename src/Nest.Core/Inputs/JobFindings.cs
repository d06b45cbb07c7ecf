using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Inputs;

/// <summary>What was found in a job so far, and the rules that hold for parts, stock and saws alike.</summary>
internal sealed class JobFindings(Job job)
{
    private readonly List<Finding> findings = [];

    /// <summary>All findings in the order in which they were found.</summary>
    public ImmutableArray<Finding> All => [.. findings];

    /// <summary>Whether one of them refuses the job.</summary>
    public bool HasError => findings.Exists(finding => finding.Severity == Severity.Error);

    /// <summary>Refuses the job.</summary>
    public void Error(string rule, string where, string message, string advice) => Add(Severity.Error, rule, where, message, advice);

    /// <summary>Tells what is worth reading; the job is planned.</summary>
    public void Note(string rule, string where, string message, string advice) => Add(Severity.Note, rule, where, message, advice);

    /// <summary>The material must be one of the job's.</summary>
    public void Known(string where, string materialId)
    {
        if (!job.Materials.Any(material => string.Equals(material.Id, materialId, StringComparison.OrdinalIgnoreCase)))
        {
            Error("unknown-material", where, $"there is no material {materialId}", "Correct the name or add the material.");
        }
    }

    /// <summary>No allowance may be below zero.</summary>
    public void Negative(string where, AllowanceOverrides? given)
    {
        if (given is not null
            && new[] { given.SideCleanUp, given.EndCleanUp, given.FaceTop, given.FaceBottom, given.Grip }.Any(one => one < Length.Zero))
        {
            Error("negative-allowance", where, "an allowance is negative", "Give zero or more.");
        }
    }

    /// <summary>Each name may be given once.</summary>
    public void Duplicates(string what, IEnumerable<string> names, StringComparer comparer)
    {
        foreach (var twice in names.GroupBy(name => name, comparer).Where(group => group.Count() > 1))
        {
            Error($"duplicate-{what.Replace(' ', '-')}", $"{what} {twice.Key}", $"the name is given {twice.Count()} times",
                "Give every one its own name.");
        }
    }

    private void Add(Severity severity, string rule, string where, string message, string advice) =>
        findings.Add(new(severity, rule, new SourcePosition(where), message, advice));
}
