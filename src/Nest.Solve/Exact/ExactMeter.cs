using System.Diagnostics;

namespace Nest.Solve.Exact;

/// <summary>How long the exact method may go on: seconds, or counted steps when the answer must be repeatable.</summary>
internal sealed class ExactMeter
{
    /// <summary>Table steps in a unit of work, which is about a microsecond.</summary>
    public const double StepsPerUnit = 1500;

    /// <summary>The same in a second on one core.</summary>
    public const double StepsPerSecond = 1e6 * StepsPerUnit;

    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly double _seconds;
    private readonly double? _work;
    private readonly CancellationToken _cancel;
    private double _done;

    /// <param name="work">In the units of <see cref="SolveLimits.Work"/>; null: the clock decides.</param>
    public ExactMeter(double seconds, double? work, CancellationToken cancel) => (_seconds, _work, _cancel) = (seconds, work, cancel);

    public CancellationToken Cancel => _cancel;

    public bool IsCounted => _work is not null;

    /// <summary>What is left of the limit, 1 to 0.</summary>
    public double Left => _work is { } work ? 1 - (_done / work) : 1 - (_clock.Elapsed.TotalSeconds / _seconds);

    public bool IsOver => _cancel.IsCancellationRequested || Left <= 0;

    public double Seconds => _clock.Elapsed.TotalSeconds;

    /// <summary>Seconds left; all the time there is where steps are counted.</summary>
    public double SecondsLeft => _work is null ? _seconds - _clock.Elapsed.TotalSeconds : double.MaxValue;

    /// <summary>Table steps left; infinite where the clock decides.</summary>
    public double StepsLeft => _work is { } work ? Math.Max(0, work - _done) * StepsPerUnit : double.PositiveInfinity;

    /// <summary>What was used, in seconds or in units of work, as the limit is given.</summary>
    public double Spent => _work is null ? _clock.Elapsed.TotalSeconds : _done;

    /// <summary>What may still be used, in the same.</summary>
    public double Remaining => Math.Max(0, (_work ?? _seconds) - Spent);

    /// <summary>What one programme may take: so many seconds at most, or so many nodes where steps are counted.</summary>
    public ProgramLimits Limits(double seconds, long nodes) => new(Math.Min(SecondsLeft, seconds), IsCounted ? nodes : null, _cancel);

    /// <summary>A meter of its own for a share of what is left; <see cref="Take"/> counts what it used.</summary>
    public ExactMeter Part(double share) => new(Math.Max(0.01, share * (_seconds - _clock.Elapsed.TotalSeconds)), _work is { } work ? Math.Max(1, share * (work - _done)) : null, _cancel);

    /// <summary>Counts the steps of a part.</summary>
    public void Take(ExactMeter part) => _done += part._done;

    public void Add(double steps) => _done += steps / StepsPerUnit;
}

/// <summary>What a <see cref="MixedProgram"/> may take.</summary>
/// <param name="Seconds">Where no nodes are given.</param>
/// <param name="Nodes">With a limit in work: the clock decides nothing.</param>
internal readonly record struct ProgramLimits(double Seconds, long? Nodes, CancellationToken Cancel);
