using System.Globalization;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Bench.Bars;

/// <summary>Runs instances and writes the CSV rows and the RESULT line.</summary>
internal static class BarsTable
{
    private sealed record Row(BarInstance Instance, BarSolution Solution, double Seconds);

    public static void Run(string suite, IReadOnlyList<BarInstance> instances, SolveLimits limits, int jobs, TextWriter output)
    {
        output.WriteLine("name,pieces,bars,cost,bound,best_known,status,seconds_to_best,seconds_to_proof,seconds");
        var rows = new Row[instances.Count];
        var gate = new Lock();
        Parallel.For(0, instances.Count, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, jobs) }, k =>
        {
            var clock = System.Diagnostics.Stopwatch.StartNew();
            BarSolution solution = BarSolver.Solve(instances[k].Problem, limits);
            rows[k] = new Row(instances[k], solution, clock.Elapsed.TotalSeconds);
            lock (gate)
            {
                output.WriteLine(Text(rows[k]));
                output.Flush();
            }
        });

        int proven = rows.Count(r => r.Solution.Status == SolveStatus.Proven);
        int reached = rows.Count(r => r.Instance.Lower == r.Instance.Upper && r.Solution.Cost == r.Instance.Upper && r.Solution.Layouts.Length > 0);
        long excess = rows.Sum(r => Math.Max(0, r.Solution.Cost - r.Instance.Upper));
        double gap = rows.Length == 0 ? 0 : rows.Average(r => r.Solution.Cost == 0 ? 0 : (double)(r.Solution.Cost - r.Solution.Bound) / r.Solution.Cost);
        double[] times = [.. rows.Select(r => r.Seconds).Order()];
        double median = times.Length == 0 ? 0 : times[times.Length / 2];
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"RESULT suite={suite} instances={rows.Length} proven={proven} optimal_known_reached={reached} excess_bars={excess} seconds_median={median:0.000} seconds_max={times.LastOrDefault():0.000} mean_gap_percent={100 * gap:0.0000}"));
    }

    private static string Text(Row r) => string.Create(
        CultureInfo.InvariantCulture,
        $"{r.Instance.Name},{r.Instance.Pieces},{r.Solution.Layouts.Sum(l => l.Count)},{r.Solution.Cost},{r.Solution.Bound},{r.Instance.Upper},{r.Solution.Status},{r.Solution.SecondsToBest:0.000},{r.Solution.SecondsToProof:0.000},{r.Seconds:0.000}");
}
