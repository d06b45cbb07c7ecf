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
            var gap = decimal.Ceiling(Plan.GapOf(progress.Cost, progress.LowerBound) * 10_000m) / 100m;
            var line = string.Create(
                CultureInfo.InvariantCulture,
                $"{before}{progress.Seconds,6:0.0} s  cost {progress.Cost} {currency}, nothing is cheaper than {progress.LowerBound} (at most {gap:0.00} % above)");
            if (world.Quiet)
            {
                world.Error.WriteLine(line);
            }
            else
            {
                world.Error.Write("\r" + line.PadRight(90));
                _open = true;
            }
        }
    }

    public void Dispose()
    {
        if (_open)
        {
            world.Error.WriteLine();
        }
    }
}
