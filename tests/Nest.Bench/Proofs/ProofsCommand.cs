using System.Collections.Immutable;
using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Solve;
using Nest.Tests.Makers;

namespace Nest.Bench.Proofs;

/// <summary>`proofs`: how often, how soon and how closely plans are proven, on made jobs of plates and on a job file.</summary>
internal static class ProofsCommand
{
    public static Command Create()
    {
        var what = new Argument<string>("what") { Description = "tiny, small, starter, shop, middle, large, or a job file" };
        var from = new Option<int>("--from") { Description = "First seed", DefaultValueFactory = _ => 1 };
        var count = new Option<int>("--count") { Description = "How many made jobs", DefaultValueFactory = _ => 20 };
        var seconds = new Option<double>("--seconds") { Description = "Limit per plan", DefaultValueFactory = _ => 10 };
        var material = new Option<string?>("--material") { Description = "Only parts of this material, without deliveries, minimums and a limit on suppliers" };
        var threads = new Option<int>("--threads") { Description = "Threads", DefaultValueFactory = _ => Environment.ProcessorCount };
        var work = new Option<long?>("--work") { Description = "Limit of work instead of time" };
        var setting = new Option<decimal?>("--setting") { Description = "Minutes for a setting on every saw, instead of the job's own" };
        var kerf = new Option<decimal?>("--kerf") { Description = "Kerf of every saw in mm, instead of the job's own" };
        var quiet = new Option<bool>("--sum") { Description = "Only the sum" };
        var trace = new Option<bool>("--trace") { Description = "What the exact method did" };
        var store = new Option<string?>("--store") { Description = "Results file to append the sum to" };
        var command = new Command("proofs", "Proofs and gaps on jobs of plates") { what, from, count, seconds, material, threads, work, setting, kerf, quiet, trace, store };
        command.SetAction(parse =>
        {
            var limits = new SolveLimits { Seconds = parse.GetValue(seconds), Threads = parse.GetValue(threads), Work = parse.GetValue(work) };
            Nest.Solve.Exact.ExactChain.Trace = parse.GetValue(trace) ? Console.Out.WriteLine : null;
            return Run(parse.GetRequiredValue(what), parse.GetValue(from), parse.GetValue(count), parse.GetValue(material), parse.GetValue(setting), parse.GetValue(kerf), limits, parse.GetValue(quiet), parse.GetValue(store));
        });
        return command;
    }

    private static int Run(string what, int from, int count, string? material, decimal? setting, decimal? kerf, SolveLimits limits, bool quiet, string? store)
    {
        var jobs = JobsOf(what, from, count, material).Select(entry => (entry.Name, Job: WithKerf(WithSettings(entry.Job, setting), kerf))).ToList();
        if (jobs.Count == 0)
        {
            Console.Error.WriteLine("The job cannot be read; nest blanks tells why.");
            return 2;
        }

        var rows = jobs.Select(entry => Row(entry.Name, entry.Job, limits, quiet)).ToList();
        var cut = rows.Where(row => row.Complete).ToList();
        var sum = Invariant(
            $"{NameOf(what)}{(material is null ? "" : " " + material)}{(setting is null ? "" : Invariant($" setting {setting} min"))}{(kerf is null ? "" : Invariant($" kerf {kerf} mm"))},{rows.Count},{cut.Count},{cut.Count(row => row.Proven)},{Average(cut, row => row.Gap):0.000},{cut.Select(row => row.Gap).DefaultIfEmpty(0).Max():0.000},{Average(rows, row => row.Wall):0.00},{Average(rows, row => row.Cpu):0.00},{rows.Max(row => row.Cpu):0.00},{cut.Sum(row => row.Cost):0.000},{cut.Sum(row => row.Bound):0.000}");
        var head = "date,commit,cores,threads,limit,what,jobs,complete,proven,mean gap %,worst gap %,mean wall s,mean CPU s,most CPU s,sum of costs,sum of bounds";
        var line = Invariant($"{DateTime.UtcNow:yyyy-MM-dd},{Commit()},{Environment.ProcessorCount},{limits.Threads},{(limits.Work is { } work ? $"work {work}" : Invariant($"{limits.Seconds} s"))},{sum}");
        Console.Out.WriteLine(head);
        Console.Out.WriteLine(line);
        if (store is not null)
        {
            if (!File.Exists(store))
            {
                File.WriteAllText(store, head + "\n");
            }

            File.AppendAllText(store, line + "\n");
        }

        return 0;
    }

    /// <summary>A job file goes by the name of its folder.</summary>
    private static string NameOf(string what) => File.Exists(what) ? Path.GetFileName(Path.GetDirectoryName(Path.GetFullPath(what))!) : what;

    private static double Average(IEnumerable<Line> rows, Func<Line, double> value) => rows.Select(value).DefaultIfEmpty(0).Average();

    private static string Invariant(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private sealed record Line(bool Complete, bool Proven, double Gap, double Wall, double Cpu, double Cost, double Bound);

    private static IEnumerable<(string Name, Job Job)> JobsOf(string what, int from, int count, string? material)
    {
        Func<int, Job>? make = what switch { "tiny" => seed => PlateJobs.Tiny(seed), "small" => PlateJobs.Small, "starter" => PlateJobs.Starter, "shop" => PlateJobs.Shop, "middle" => PlateJobs.Middle, "large" => PlateJobs.Large, _ => null };
        if (make is not null)
        {
            return Enumerable.Range(from, count).Select(seed => (Invariant($"{what}-{seed}"), make(seed)));
        }

        if (JobReader.Read(what).Value is not { } given)
        {
            return [];
        }

        var job = given.Job;
        return [(what, material is null ? job : Only(job, material))];
    }

    private static Job WithSettings(Job job, decimal? minutes) =>
        minutes is { } some ? job with { Saws = [.. job.Saws.Select(saw => saw with { SettingMinutes = some })] } : job;

    private static Job WithKerf(Job job, decimal? kerf) =>
        kerf is { } some ? job with { Saws = [.. job.Saws.Select(saw => saw with { Kerf = JobMaker.Mm(some) })] } : job;

    private static Job Only(Job job, string material) => job with
    {
        Parts = [.. job.Parts.Where(part => string.Equals(part.MaterialId, material, StringComparison.OrdinalIgnoreCase))],
        Suppliers = [.. job.Suppliers.Select(supplier => new Supplier { Name = supplier.Name })],
        MostSuppliers = null,
    };

    private static Line Row(string name, Job job, SolveLimits limits, bool quiet)
    {
        var blanks = BlankSizer.Size(job);
        var process = Process.GetCurrentProcess();
        var before = process.TotalProcessorTime;
        var clock = Stopwatch.StartNew();
        var plan = JobSolver.Solve(job, blanks, limits);
        var wall = clock.Elapsed.TotalSeconds;
        process.Refresh();
        var cpu = (process.TotalProcessorTime - before).TotalSeconds;
        plan = plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
        var findings = Nest.Check.PlanChecker.Check(plan);
        if (findings.Length > 0)
        {
            Console.Out.WriteLine($"{name}: the checker finds {findings[0]}");
        }

        if (plan.IsContradicted)
        {
            Console.Out.WriteLine($"{name}: the bound {plan.Bound} is above the cost {plan.TotalCost.Amount}");
        }

        if (!quiet)
        {
            Console.Out.WriteLine(Invariant(
                $"{name,-24} cost {plan.TotalCost.Amount,10:0.000} bound {plan.Bound.Value?.Amount,10:0.000} gap {plan.Gap * 100m,6:0.00} % {plan.Status,-10} ({plan.Bound.Source}) {wall,6:0.00} s, CPU {cpu,6:0.00} s"));
        }

        return new(plan.Unplaced.IsEmpty, plan.Status == SolveStatus.Proven, (double)(plan.Gap ?? 1m) * 100, wall, cpu, (double)plan.TotalCost.Amount, (double)(plan.Bound.Value?.Amount ?? 0m));
    }

    private static string Commit()
    {
        try
        {
            using var git = Process.Start(new ProcessStartInfo("git", "rev-parse --short HEAD") { RedirectStandardOutput = true });
            return git?.StandardOutput.ReadLine() ?? "";
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return "";
        }
    }
}
