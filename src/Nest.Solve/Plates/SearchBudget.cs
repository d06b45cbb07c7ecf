using System.Diagnostics;

namespace Nest.Solve.Plates;

/// <summary>How much of its limits a search has used. All decisions of a search ask here, never the clock: with a work limit the
/// answers are the same on any machine, and the clock only guards the outside.</summary>
public sealed class SearchBudget
{
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly CancellationToken _cancel;
    private readonly double _seconds;
    private readonly long? _work;
    private long _used;

    public SearchBudget(SolveLimits limits, CancellationToken cancel = default)
    {
        _seconds = limits.Seconds;
        _work = limits.Work;
        _cancel = cancel;
    }

    /// <summary>Seconds since the start; for reports only.</summary>
    public double Seconds => _clock.Elapsed.TotalSeconds;

    /// <summary>Adds steps of roughly a microsecond each. Thread safe.</summary>
    public void Add(long units) => Interlocked.Add(ref _used, units);

    /// <summary>Share of the limits used, 1 and above: stop.</summary>
    public double Used
    {
        get
        {
            var clock = _seconds <= 0 ? 1 : Seconds / _seconds;
            if (_work is not { } work)
            {
                return clock;
            }

            return clock >= 1 ? clock : work <= 0 ? 1 : (double)Interlocked.Read(ref _used) / work;
        }
    }

    /// <summary>Whether to stop now.</summary>
    internal CancellationToken Cancel => _cancel;

    public bool Out => _cancel.IsCancellationRequested || Used >= 1;

    /// <summary>Work units until the given share of the limits, at least one: less than one would let a turn end with nothing done, again and again. Null: there is no work limit.</summary>
    public long? WorkUntil(double share) =>
        _work is { } work ? Math.Max(1, (long)(Math.Min(1, share) * work) - Interlocked.Read(ref _used)) : null;

    /// <summary>Seconds that a part of the search may use until the given share of the limits is reached: wall clock, or with a
    /// work limit deterministic seconds.</summary>
    public double SecondsUntil(double share) => _work is { } work
        ? Math.Max(0, Math.Min((share * work - Interlocked.Read(ref _used)) * 1e-6, _seconds - Seconds))
        : Math.Max(0, share * _seconds - Seconds);
}
