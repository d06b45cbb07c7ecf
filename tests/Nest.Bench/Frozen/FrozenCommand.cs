using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Solve;

namespace Nest.Bench.Frozen;

/// <summary>`frozen`: whole jobs that never change (<c>frozen/</c>), so that cost, bound and gap of one day can be compared with those of
/// another. Each figure goes to <c>results/frozen.csv</c> with its day, commit, cores and limit.</summary>
internal static class FrozenCommand
{
    private const string Head = "date,commit,cores,limit,job,cost,bound,source,gap %,status,not cut,cpu s,wall s";

    public static Command Create()
    {
        var seconds = new Option<double?>("--seconds") { Description = "Limit of time a job; 10 where no limit is given" };
        var work = new Option<long?>("--work") { Description = "Limit of work a job, instead of time" };
        var only = new Option<string?>("--job") { Description = "Only this job (a folder of frozen/)" };
        var seed = new Option<int>("--seed") { Description = "Seed", DefaultValueFactory = _ => 1 };
        var command = new Command("frozen", "Whole jobs that never change: cost, bound, gap") { seconds, work, only, seed };
        command.SetAction(parsed =>
        {
            var (time, steps) = (parsed.GetValue(seconds), parsed.GetValue(work));
            if (time is not null && steps is not null)
            {
                Console.Error.WriteLine("Give --seconds or --work, not both.");
                return 2;
            }

            var limits = new SolveLimits
            {
                Seconds = time ?? (steps is null ? 10 : 3600), Work = steps, Seed = parsed.GetValue(seed), Threads = Environment.ProcessorCount,
            };
            return Run(limits, steps is null ? $"{limits.Seconds} s" : $"{steps} work", parsed.GetValue(only));
        });
        return command;
    }

    private static int Run(SolveLimits limits, string limit, string? only)
    {
        var bench = BenchFolder();
        var jobs = Directory.GetFiles(Path.Combine(bench, "frozen"), "job.toml", SearchOption.AllDirectories)
            .Where(file => only is null || Name(file) == only).Order(StringComparer.Ordinal).ToList();
        if (jobs.Count == 0)
        {
            Console.Error.WriteLine($"There is no job {only} in tests/Nest.Bench/frozen.");
            return 2;
        }

        var results = Path.Combine(bench, "results", "frozen.csv");
        var start = string.Create(
            CultureInfo.InvariantCulture, $"{DateTime.Now:yyyy-MM-dd HH:mm},{Commit(bench)},{Environment.ProcessorCount},{limit}");
        var failed = false;
        Console.WriteLine($"{"job",-18} {"cost",11} {"bound",11} {"gap",8} {"status",-10} {"cpu",7} {"wall",7}");
        foreach (var file in jobs)
        {
            var (row, fault) = One(file, limits, start);
            failed |= fault;
            File.AppendAllText(results, File.Exists(results) ? row + "\n" : $"{Head}\n{row}\n");
        }

        return failed ? 1 : 0;
    }

    private static (string Row, bool Fault) One(string file, SolveLimits limits, string start)
    {
        var name = Name(file);
        var job = JobReader.Read(file).Value?.Job ?? throw new InvalidDataException($"{name} cannot be read; nest blanks tells why.");
        using var process = Process.GetCurrentProcess();
        var cpu = process.TotalProcessorTime;
        var clock = Stopwatch.StartNew();
        Plan? plan = null;
        var fault = "";
        try
        {
            plan = JobSolver.Solve(job, BlankSizer.Size(job), limits);
        }
        catch (Exception thrown) when (thrown is ArgumentException or InvalidOperationException or OverflowException)
        {
            fault = thrown.GetType().Name;
        }

        process.Refresh();
        var (cpuSeconds, seconds) = ((process.TotalProcessorTime - cpu).TotalSeconds, clock.Elapsed.TotalSeconds);
        var gap = plan?.Gap * 100m;
        var status = plan is null ? fault : plan.IsContradicted ? "CONTRADICTED" : plan.Status.ToString();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{name,-18} {plan?.TotalCost.Amount,11:0.0000} {plan?.Bound.Value?.Amount,11:0.0000} {gap,7:0.00}% {status,-10} {cpuSeconds,7:0.00} {seconds,7:0.00}"));
        var row = string.Create(
            CultureInfo.InvariantCulture,
            $"{start},{name},{plan?.TotalCost.Amount:0.0000},{plan?.Bound.Value?.Amount:0.0000},{plan?.Bound.Source.Replace(',', ';')},{gap:0.00},{status},{plan?.Unplaced.Sum(entry => entry.Count)},{cpuSeconds:0.00},{seconds:0.00}");
        return (row, plan is null or { IsContradicted: true });
    }

    private static string Name(string file) => Path.GetFileName(Path.GetDirectoryName(file)!);

    private static string BenchFolder()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Nest.sln")))
            {
                return Path.Combine(folder.FullName, "tests", "Nest.Bench");
            }
        }

        throw new InvalidOperationException("The bench is not inside its repository.");
    }

    /// <summary>The commit that is measured, with a plus when files differ from it.</summary>
    private static string Commit(string folder)
    {
        var commit = Git(folder, "rev-parse --short HEAD");
        return Git(folder, "status --porcelain -- ../../src").Length == 0 ? commit : commit + "+";
    }

    private static string Git(string folder, string arguments)
    {
        try
        {
            using var git = Process.Start(new ProcessStartInfo("git", arguments) { WorkingDirectory = folder, RedirectStandardOutput = true })!;
            return git.StandardOutput.ReadToEnd().Trim();
        }
        catch (System.ComponentModel.Win32Exception)
        {
            // No git on this machine: the row tells its day at least.
            return "unknown";
        }
    }
}
