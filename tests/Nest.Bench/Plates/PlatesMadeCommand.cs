using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using Nest.Solve;
using Nest.Solve.Plates;
using Nest.Tests.Plates;

namespace Nest.Bench.Plates;

/// <summary>Bench command "plates-made": the shop's and the fabricator's made jobs; prints every better plan as it comes.</summary>
internal static class PlatesMadeCommand
{
    public static Command Create()
    {
        var kind = new Option<string>("--kind") { DefaultValueFactory = _ => "shop", Description = "shop or fabricator" };
        var seconds = new Option<double>("--seconds") { DefaultValueFactory = _ => 15 };
        var seeds = new Option<int>("--seeds") { DefaultValueFactory = _ => 3, Description = "Number of jobs" };
        var stages = new Option<int?>("--stages") { Description = "Most stages of through-cuts" };
        var trimming = new Option<bool>("--trimming");
        var threads = new Option<int>("--threads") { DefaultValueFactory = _ => 1 };
        var work = new Option<long?>("--work") { Description = "Work limit in units of roughly a microsecond (repeatable)" };
        var command = new Command("plates-made", "Plates: made jobs of a shop and of a fabricator")
        {
            kind, seconds, seeds, stages, trimming, threads, work,
        };
        command.SetAction(parse =>
        {
            Console.WriteLine("job,kinds,pieces,plates,layouts,first_seconds,first_cost,cost,bound,gap,seconds_to_best,peak_mib,faults");
            for (var seed = 1; seed <= parse.GetValue(seeds); seed++)
            {
                var problem = parse.GetValue(kind) == "fabricator" ? MadeJobs.Fabricator(seed) : MadeJobs.Shop(seed);
                problem = problem with { Cutting = new PlateCutting { Stages = parse.GetValue(stages), TrimmingCut = parse.GetValue(trimming) } };
                Run($"{parse.GetValue(kind)}{seed}", problem, new SolveLimits { Seconds = parse.GetValue(seconds), Work = parse.GetValue(work), Threads = parse.GetValue(threads) });
            }

            return 0;
        });
        return command;
    }

    private static void Run(string name, PlateProblem problem, SolveLimits limits)
    {
        var clock = Stopwatch.StartNew();
        var first = double.NaN;
        long firstCost = 0;
        var solution = PlateSolver.Solve(problem, limits, better =>
        {
            if (double.IsNaN(first))
            {
                (first, firstCost) = (clock.Elapsed.TotalSeconds, better.Cost);
            }

            Console.Error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {clock.Elapsed.TotalSeconds:F2} s: {better.Cost} (bound {better.Bound})"));
        });
        var faults = ThroughCutChecker.Check(problem, solution);
        using var process = Process.GetCurrentProcess();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{name},{problem.Items.Length},{problem.Items.Sum(i => i.Demand)},{solution.Layouts.Sum(l => l.Count)},{solution.Layouts.Length},{first:F2},{firstCost},{solution.Cost},{solution.Bound},{(double)(solution.Cost - solution.Bound) / Math.Max(1, solution.Bound):P2},{solution.SecondsToBest:F2},{process.PeakWorkingSet64 >> 20},{faults.Count}"));
        foreach (var fault in faults.Take(3))
        {
            Console.Error.WriteLine($"{name}: {fault}");
        }
    }
}
