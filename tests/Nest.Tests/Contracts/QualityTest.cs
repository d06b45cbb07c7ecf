using System.Diagnostics;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Judge.Jobs;
using Nest.Solve;
using Nest.Tests.Data;
using Xunit.Abstractions;

namespace Nest.Tests.Contracts;

/// <summary>What the solver reaches with a limit of work stands in a file: a change of the solver is a difference of that file, to be
/// looked at before it is kept.</summary>
/// <remarks>With <c>NEST_APPROVE=1</c> the test writes the file anew. Work is counted in steps, so the figures are the same on every
/// machine. For larger jobs: <c>tests/Nest.Bench -- frozen --work N</c>, which adds rows to <c>frozen.csv</c>.</remarks>
public class QualityTest(ITestOutputHelper output)
{
    private const string Head = "job,work,cost,bound,source,status";

    // Some proven, some not; those that take no more than two seconds.
    private static readonly int[] Small = [1, 2, 4, 5, 6, 7, 10];

    private static string Recorded => Path.Combine(Repository.Root, "tests", "Nest.Bench", "results", "quality.csv");

    [Fact]
    public void Cost_and_bound_at_a_limit_of_work_are_those_on_record()
    {
        var rows = new List<string> { Head };
        rows.AddRange(Small.Select(seed => Row($"small-{seed}", SmallJobs.Make(seed), 500)));
        rows.Add(Row("middle-1", MiddleJobs.Make(1), 200));
        if (Environment.GetEnvironmentVariable("NEST_APPROVE") == "1")
        {
            File.WriteAllText(Recorded, string.Join('\n', rows) + "\n");
        }

        rows.Should().Equal(File.ReadAllLines(Recorded), "NEST_APPROVE=1 writes the file anew; look at the difference before you keep it");
    }

    private string Row(string name, Job job, long work)
    {
        var before = Process.GetCurrentProcess().TotalProcessorTime;
        var plan = JobSolver.Solve(job, BlankSizer.Size(job), new() { Work = work, Seconds = 600, Seed = 1, Threads = 1 });
        output.WriteLine($"{name}: {(Process.GetCurrentProcess().TotalProcessorTime - before).TotalSeconds:0.00} CPU s");
        return string.Create(
            CultureInfo.InvariantCulture, $"{name},{work},{plan.TotalCost.Amount:0.0000},{plan.Bound.Value?.Amount:0.0000},{plan.Bound.Source.Replace(',', ';')},{plan.Status}");
    }
}
