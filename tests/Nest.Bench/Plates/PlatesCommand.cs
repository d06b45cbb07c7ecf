using System.CommandLine;
using System.Globalization;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Plates;
using Nest.Tests.Plates;
using Nest.Tests.Plates.Free;

namespace Nest.Bench.Plates;

/// <summary>Bench command "plates": solves every instance and prints one CSV row each, last a RESULT line.</summary>
internal static class PlatesCommand
{
    private sealed record Row(string Name, PlateSolution Solution, long Plates, long? Known, int Sizes, int Faults, double Fullest);

    public static Command Create()
    {
        var data = new Option<string>("--data") { Required = true, Description = "Folder or file of instances" };
        var cut = new Option<string>("--cut") { DefaultValueFactory = _ => "guillotine", Description = "guillotine or free" };
        var turn = new Option<string>("--turn") { DefaultValueFactory = _ => "no", Description = "yes or no" };
        var stages = new Option<int?>("--stages") { Description = "Most stages of through-cuts" };
        var trimming = new Option<bool>("--trimming") { Description = "Allow a trimming cut after the last stage" };
        var seconds = new Option<double>("--seconds") { DefaultValueFactory = _ => 5 };
        var limit = new Option<int>("--limit") { DefaultValueFactory = _ => int.MaxValue, Description = "Instances to take" };
        var every = new Option<int>("--every") { DefaultValueFactory = _ => 1, Description = "Take every K-th instance" };
        var jobs = new Option<int>("--jobs") { DefaultValueFactory = _ => 1, Description = "Instances side by side" };
        var seed = new Option<int>("--seed") { DefaultValueFactory = _ => 1 };
        var work = new Option<long?>("--work") { Description = "Work limit in units of roughly a microsecond (repeatable)" };
        var command = new Command("plates", "Plates: cutting stock and bin packing instances")
        {
            data, cut, turn, stages, trimming, seconds, limit, every, jobs, seed, work,
        };
        command.SetAction(parse =>
        {
            var cutting = new PlateCutting
            {
                Free = parse.GetValue(cut) == "free", Stages = parse.GetValue(stages), TrimmingCut = parse.GetValue(trimming),
            };
            var path = parse.GetValue(data)!;
            return Run(
                PlateData.Read(path, parse.GetValue(every), parse.GetValue(limit)).ToList(), KnownPlates(path), cutting, parse.GetValue(turn) == "yes",
                new SolveLimits { Seconds = parse.GetValue(seconds), Work = parse.GetValue(work), Seed = parse.GetValue(seed) }, parse.GetValue(jobs));
        });
        return command;
    }

    private static int Run(
        List<PlateInstance> instances, Dictionary<string, long> known, PlateCutting cutting, bool turn, SolveLimits limits, int jobs)
    {
        Console.WriteLine("instance,kinds,pieces,plates,cost,bound,status,known,seconds_to_best,seconds_to_proof,fullest,faults");
        var rows = new Row[instances.Count];
        var gate = new Lock();
        Parallel.For(0, instances.Count, new ParallelOptions { MaxDegreeOfParallelism = jobs }, n =>
        {
            var instance = instances[n];
            var problem = instance.Problem(cutting, turn);
            var solution = PlateSolver.Solve(problem, limits);
            var faults = cutting.Free ? FreeLayoutVerifier.Faults(problem, solution) : ThroughCutChecker.Check(problem, solution);
            long plates = solution.Layouts.Sum(l => l.Count);
            long? best = known.TryGetValue(instance.Name, out var k) ? k : null;
            rows[n] = new Row(instance.Name, solution, plates, best, instance.Stocks.Count, faults.Count, Fullest(problem, solution));
            lock (gate)
            {
                Console.WriteLine(string.Create(
                    CultureInfo.InvariantCulture,
                    $"{instance.Name},{instance.Items.Count},{instance.Items.Sum(i => i.Demand)},{plates},{solution.Cost},{solution.Bound},{solution.Status},{best},{solution.SecondsToBest:F2},{solution.SecondsToProof:F2},{Fullest(problem, solution):P2},{faults.Count}"));
                foreach (var fault in faults.Take(3))
                {
                    Console.Error.WriteLine($"{instance.Name}: {fault}");
                }
            }
        });

        // One plate size: counted in plates (cost per plate is equal); several: in cost.
        var single = rows.All(r => r.Sizes == 1);
        var unit = rows.Select((r, n) => single ? Math.Max(1, instances[n].Stocks[0].Cost) : 1).ToArray();
        var found = rows.Sum(r => single ? r.Plates : r.Solution.Cost);
        var bounds = rows.Select((r, n) => r.Solution.Bound / unit[n]).Sum();
        var gap = rows.Average(r => r.Solution.Cost > 0 ? (double)(r.Solution.Cost - r.Solution.Bound) / r.Solution.Cost : 0);
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"RESULT instances={rows.Length} {(single ? "plates" : "cost")}={found} known={rows.Sum(r => r.Known ?? 0)} known_instances={rows.Count(r => r.Known.HasValue)} plates_there={rows.Where(r => r.Known.HasValue).Sum(r => r.Plates)} bounds={bounds} proven={rows.Count(r => r.Solution.Status == SolveStatus.Proven)} unsolved={rows.Count(r => r.Solution.Layouts.IsEmpty)} mean_gap={gap:P3} mean_fullest={rows.Average(r => r.Fullest):P2} faults={rows.Sum(r => r.Faults)}"));
        return rows.Any(r => r.Faults > 0) ? 1 : 0;
    }

    /// <summary>Share of its area that the fullest plate is filled to: on a perfect packing 1 less the waste.</summary>
    private static double Fullest(PlateProblem problem, PlateSolution solution) => solution.Layouts.IsEmpty ? 0 : solution.Layouts.Max(layout =>
        layout.Pieces.Sum(p => (double)p.Area.SizeX * p.Area.SizeY) / ((double)problem.Stocks[layout.Stock].SizeX * problem.Stocks[layout.Stock].SizeY));

    /// <summary>Best known plates of single instances (free, not turned) beside the data, where the folder has them.</summary>
    private static Dictionary<string, long> KnownPlates(string path)
    {
        var folder = Directory.Exists(path) ? path : Path.GetDirectoryName(path) ?? ".";
        var file = Path.Combine(folder, "bks_of_per_instance.csv");
        return !File.Exists(file)
            ? []
            : File.ReadLines(file)
                .Where(l => l.Length > 0 && l[0] != '#')
                .Skip(1)
                .Select(l => l.Split(','))
                .ToDictionary(c => c[0], c => long.Parse(c[2], CultureInfo.InvariantCulture));
    }
}
