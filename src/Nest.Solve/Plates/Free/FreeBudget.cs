using System.Diagnostics;

namespace Nest.Solve.Plates.Free;

/// <summary>How much of its limits a search has used. With a work limit all decisions go by work, the clock is an outer guard only.</summary>
internal sealed class FreeBudget(SolveLimits limits, CancellationToken cancel)
{
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private double _work;

    public double Seconds => _clock.Elapsed.TotalSeconds;

    public CancellationToken Cancel => cancel;

    /// <summary>Adds the filler's steps (about a hundredth of a microsecond each).</summary>
    public void AddSteps(long steps) => _work += steps * 0.01;

    /// <summary>Adds deterministic seconds of a general solver.</summary>
    public void AddSeconds(double seconds) => _work += seconds * 1e6;

    /// <summary>Share of the limits used.</summary>
    public double Used
    {
        get
        {
            var clock = limits.Seconds <= 0 ? 1 : Seconds / limits.Seconds;
            return limits.Work is not { } work || clock >= 1 ? clock : work <= 0 ? 1 : _work / work;
        }
    }

    public bool Out => cancel.IsCancellationRequested || Used >= 1;

    public bool OutAt(double share) => cancel.IsCancellationRequested || Used >= share;

    /// <summary>Wall clock for a general solver that has so many seconds: with a work limit only the outer guard, or the clock would
    /// decide.</summary>
    public double Guard(double seconds) => limits.Work is null ? seconds : Math.Max(seconds, limits.Seconds - Seconds);

    /// <summary>Seconds left until a share of the limits: deterministic ones under a work limit.</summary>
    public double SecondsUntil(double share) => limits.Work is { } work
        ? Math.Max(0, ((share * work) - _work) * 1e-6)
        : Math.Max(0, (share * limits.Seconds) - Seconds);
}
