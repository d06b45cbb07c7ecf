using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Data.Models;

namespace Nest.Data;

/// <summary>A job as it was read, with what a job file says beside the job.</summary>
public sealed record JobInput
{
    public required Job Job { get; init; }

    /// <summary>Time limit of the job file in seconds; null when it gives none.</summary>
    public double? Seconds { get; init; }

    /// <summary>Seed of the job file; null when it gives none.</summary>
    public int? Seed { get; init; }

    /// <summary>The models of parts that have one, by the part's name.</summary>
    public ImmutableDictionary<string, MeasuredPart> Models { get; init; } = ImmutableDictionary<string, MeasuredPart>.Empty;

    /// <summary>Where each part was read, for findings that come later.</summary>
    public ImmutableDictionary<string, SourcePosition> PartRows { get; init; } = ImmutableDictionary<string, SourcePosition>.Empty;
}
