using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using Nest.Bench.Plates;
using Nest.Core.Blanks;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Solve;
using Nest.Solve.Bars;
using Nest.Solve.Plates;
using Nest.Tests.Makers;

namespace Nest.Bench.Engines;

/// <summary>`engines`: the jobs with which <c>engines.py</c> finds out what the solver loses without each of its engines. Limits are units of work, so the figures are the
/// same on a busy machine; a row for each job: cost, bound, whether it is proven, processor seconds.</summary>
internal static class EnginesCommand
{
    /// <summary>Jobs of shops: what is planned at a limit of work that takes 5 to 15 processor seconds.</summary>
    private static readonly string[] Shops = ["inch", "metric", "metric-7075-t6", "shop-frames", "shop-guards", "shop-fixtures"];

    /// <summary>Shop jobs with so many kinds on plates that the exact method is not asked.</summary>
    private static readonly string[] ManyKinds = ["many-kinds-1", "many-kinds-2", "many-kinds-3", "many-kinds-mixed-1", "many-kinds-mixed-2", "many-kinds-ordered-1"];

    /// <summary>So much that each step of a kernel has several turns.</summary>
    private const long Long = 12_000_000;

    public static Command Create()
    {
        var suite = new Argument<string>("suite") { Description = "bars, cuts, free, jobs or many" };
        suite.AcceptOnlyFromAmong("bars", "cuts", "free", "jobs", "many");
        var seed = new Option<int>("--seed") { DefaultValueFactory = _ => 1 };
        var command = new Command("engines", "Jobs for the table of engines; see engines.py") { suite, seed };
        command.SetAction(parse =>
        {
            foreach (var (name, work, solve) in Jobs(parse.GetRequiredValue(suite)))
            {
                var before = Process.GetCurrentProcess().TotalProcessorTime;
                var (cost, bound, proven) = solve(new() { Work = work, Seconds = 3600, Seed = parse.GetValue(seed), Threads = 1 });
                var seconds = (Process.GetCurrentProcess().TotalProcessorTime - before).TotalSeconds;
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name},{cost:0.####},{bound:0.####},{(proven ? 1 : 0)},{seconds:0.00}"));
            }
        });
        return command;
    }

    private static IEnumerable<(string Name, long Work, Func<SolveLimits, (double Cost, double Bound, bool Proven)> Solve)> Jobs(string suite)
    {
        var seeds = Enumerable.Range(1, 3);
        return suite switch
        {
            "bars" => [
                .. seeds.Select(n => ($"shop bars {n}", 3_000_000L, Bars(Bench.Bars.MadeJobs.Shop(n)))),
                .. Published("scholl2", 40).Concat(Published("waescher", 3)).Concat(Published("falkenauer_t", 8)).Concat(Published("gen_multilength_zero_waste", 2))
                    .Select(one => (one.Name, 3_000_000L, Bars(one.Problem))),
                .. Published("hard28", 6).Select(one => (one.Name, Long, Bars(one.Problem)))],
            "cuts" => [
                .. seeds.Select(n => ($"shop plates {n}", Long, Plates(MadeJobs.Shop(n)))),
                .. seeds.Select(n => ($"one plate size {n}", 3_000_000L, Plates(OneSize(n)))),
                ("fabricator plates 1", Long, Plates(MadeJobs.Fabricator(1)))],
            "free" => [
                .. seeds.Select(n => ($"shop plates {n}", Long, Plates(MadeJobs.Shop(n) with { Cutting = new() { Free = true } }))),
                .. seeds.Select(n => ($"one plate size {n}", 3_000_000L, Plates(OneSize(n) with { Cutting = new() { Free = true } })))],
            "many" => [.. ManyKinds.Select(name => (name, 30_000L, Frozen(name)))],
            _ => [
                .. Enumerable.Range(1, 6).Select(n => ($"tiny {n}", 100_000L, Whole(PlateJobs.Tiny(n)))),
                .. Enumerable.Range(1, 6).Select(n => ($"small {n}", 3_000_000L, Whole(PlateJobs.Small(n)))),
                .. Enumerable.Range(1, 2).Select(n => ($"middle {n}", 6_000_000L, Whole(PlateJobs.Middle(n)))),
                ("large", 3_000_000L, Whole(PlateJobs.Large(1))),
                ("large by cutter", 3_000_000L, Whole(ByCutter(PlateJobs.Large(1)))),
                .. Shops.Select(name => (name, 100_000L, Frozen(name)))],
        };
    }

    private static Func<SolveLimits, (double Cost, double Bound, bool Proven)> Frozen(string name) =>
        Whole(JobReader.Read($"tests/Nest.Bench/frozen/{name}/job.toml").Value!.Job);

    private static Core.Jobs.Job ByCutter(Core.Jobs.Job job) => job with { Saws = [JobMaker.Cutter] };

    /// <summary>Every n-th instance of a published set.</summary>
    private static IEnumerable<Bars.BarInstance> Published(string set, int take)
    {
        var all = Bench.Bars.BarInstance.Read($"tests/bench-data/1d/{set}.txt").ToList();
        var every = Math.Max(1, all.Count / take);
        return all.Where((_, k) => k % every == 0).Take(Math.Min(take, 6));
    }

    private static PlateProblem OneSize(int seed)
    {
        var shop = MadeJobs.Shop(seed);
        return shop with { Stocks = [shop.Stocks.Where(stock => stock.Limit is null).MaxBy(stock => stock.SizeX * stock.SizeY)!] };
    }

    private static Func<SolveLimits, (double, double, bool)> Bars(BarProblem problem) => limits =>
    {
        var answer = BarSolver.Solve(problem, limits);
        return (answer.Cost, answer.Bound, answer.Status == SolveStatus.Proven);
    };

    private static Func<SolveLimits, (double, double, bool)> Plates(PlateProblem problem) => limits =>
    {
        var answer = PlateSolver.Solve(problem, limits);
        return (answer.Cost, answer.Bound, answer.Status == SolveStatus.Proven);
    };

    private static Func<SolveLimits, (double, double, bool)> Whole(Core.Jobs.Job job) => limits =>
    {
        var plan = JobSolver.Solve(job, BlankSizer.Size(job), limits);
        // Pieces left out count as much as the dearest plan would: they must not look cheap.
        return ((double)plan.TotalCost.Amount + (1000 * plan.Unplaced.Sum(one => one.Count)), (double)(plan.Bound.Value?.Amount ?? 0), plan.Status == SolveStatus.Proven);
    };
}
