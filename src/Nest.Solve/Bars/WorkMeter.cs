using System.Diagnostics;

namespace Nest.Solve.Bars;

/// <summary>Counts deterministic work and watches the clock and the caller's wish to stop.</summary>
/// <remarks>One unit is roughly a microsecond on a machine of 2024. Work decides where a work limit is set, so that an answer can be
/// repeated; the clock is only the outer guard.</remarks>
internal sealed class WorkMeter(SolveLimits limits, CancellationToken cancel)
{
    private readonly Stopwatch clock = Stopwatch.StartNew();
    private long nanos;

    public SolveLimits Limits { get; } = limits;

    public CancellationToken Cancel { get; } = cancel;

    public double Seconds => clock.Elapsed.TotalSeconds;

    /// <summary>Work done so far.</summary>
    public long Done => nanos / 1000;

    /// <summary>Work still allowed, at most what the caller's limit says.</summary>
    public long Left => Limits.Work is { } most ? Math.Max(0, most - Done) : long.MaxValue;

    public double SecondsLeft => Math.Max(0, Limits.Seconds - Seconds);

    /// <summary>Wall clock for a general solver that has so many seconds: with a work limit only the outer guard, or the clock would
    /// decide.</summary>
    public double Guard(double seconds) => Limits.Work is null ? Math.Min(seconds, SecondsLeft) : SecondsLeft;

    public bool Stop => Cancel.IsCancellationRequested || Seconds >= Limits.Seconds || Left == 0;

    /// <summary>Books elementary steps of about a nanosecond each.</summary>
    public void Steps(long count) => nanos += count;

    public void Work(long units) => nanos += units * 1000;
}
