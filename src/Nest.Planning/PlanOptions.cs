namespace Nest.Planning;

/// <summary>How a job is planned. What is left out is the job's own setting, else the default.</summary>
public sealed record PlanOptions
{
    /// <summary>Seconds that the search may take when neither the options nor the job say it.</summary>
    public const double DefaultSeconds = 10;

    /// <summary>With a limit in work the clock is only a distant guard, in seconds.</summary>
    internal const double Guard = 3600;

    /// <summary>Limit of the search in seconds of wall clock; null: the job's.</summary>
    public double? Seconds { get; init; }

    /// <summary>Limit in steps of work instead of time; the same plan on every machine. Null: by time.</summary>
    public long? Work { get; init; }

    /// <summary>Seed of every random choice; null: the job's, else 1.</summary>
    public int? Seed { get; init; }

    /// <summary>Threads of the search, at least 1; null: one for each processor. With <see cref="Work"/> the plan does not depend on it.</summary>
    public int? Threads { get; init; }
}
