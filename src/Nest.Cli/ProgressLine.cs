using System.Globalization;
using Nest.Core.Plans;
using Nest.Solve;

namespace Nest.Cli;

/// <summary>How the search goes, on the error stream: one line that is written over on a screen, a line at most every two seconds
/// in a file.</summary>
internal sealed class ProgressLine(World world, string currency, string before = "") : IDisposable
{
    private readonly Lock _gate = new();
    private double _shown = double.NegativeInfinity;
    private bool _open;

    public void Show(SolveProgress progress)
    {
        lock (_gate)
        {
            if (!progress.Complete || progress.Seconds - _shown < (world.Quiet ? 2.0 : 0.1))
            {
                return;
            }

            _shown = progress.Seconds;
            var line = string.Create(
                CultureInfo.InvariantCulture, $"{before}{progress.Seconds,6:0.0} s  cost {progress.Cost} {currency}, {Standing(progress)}");
            if (world.Quiet)
            {
                world.Error.WriteLine(line);
            }
            else
            {
                ((ScreenWriter)world.Error).Over(line.PadRight(90));
                _open = true;
            }
        }
    }

    /// <summary>What is proven of a plan; a bound is named only where there is one that says something.</summary>
    private static string Standing(SolveProgress progress)
    {
        if (progress.Missing > 0)
        {
            return string.Create(CultureInfo.InvariantCulture, $"{progress.Missing} pieces not placed yet");
        }

        if (progress.Bound.Value is not { } bound || progress.Bound.Contradicts(progress.Cost))
        {
            return "how close to the cheapest is not known yet";
        }

        var gap = Plan.GapOf(progress.Cost, progress.Bound) is { } part
            ? string.Create(CultureInfo.InvariantCulture, $" (at most {decimal.Ceiling(part * 10_000m) / 100m:0.00} % above)")
            : "";
        return $"nothing is cheaper than {bound}{gap}";
    }

    public void Dispose()
    {
        if (_open)
        {
            world.Error.WriteLine();
        }
    }
}
