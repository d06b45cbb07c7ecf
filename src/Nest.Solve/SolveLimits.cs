namespace Nest.Solve;

/// <summary>How long a search may go on. The same problem, seed and work limit give the same answer on any machine;
/// the wall clock is only an outer guard (an answer that the clock cut short is not repeatable).</summary>
public sealed record SolveLimits
{
    /// <summary>Outer guard in seconds of wall clock.</summary>
    public double Seconds { get; init; } = 10;

    /// <summary>Optional limit in deterministic work units (solver-defined steps, roughly a microsecond each); null: only the
    /// solver's own stopping rules and the clock.</summary>
    public long? Work { get; init; }

    /// <summary>Share of their usual effort that steps of fixed effort may spend: below 1 when a whole job has less work than they
    /// would take.</summary>
    internal double Effort { get; init; } = 1;

    /// <summary>Seed of every random choice.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>Threads the search may use. More than one must not change the answer when <see cref="Work"/> is set.</summary>
    public int Threads { get; init; } = 1;

    /// <summary>Whether a component may be proven by the exact method; false where that is done for the whole job.</summary>
    internal bool Proves { get; init; } = true;

    /// <summary>Work of a whole job from which on its steps have their usual effort.</summary>
    private const double FullWork = 300_000;

    private const double LeastEffort = 0.01;

    /// <summary>The limits of a whole job, from which those of its steps are made.</summary>
    internal SolveLimits OfJob() => this with { Effort = Work is { } work ? Math.Clamp(work / FullWork, LeastEffort, 1) : 1 };

    /// <summary>This much work at full effort.</summary>
    internal long WorkOf(long full) => Math.Max(1, (long)(Effort * full));
}
