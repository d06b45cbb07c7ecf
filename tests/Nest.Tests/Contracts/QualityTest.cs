using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Data;
using Nest.Judge.Jobs;
using Nest.Solve;
using Nest.Tests.Data;

namespace Nest.Tests.Contracts;

/// <summary>What the solver reaches with a limit of work stands in a file: a change of the solver is a difference of that file, to be
/// looked at before it is kept.</summary>
/// <remarks>With <c>NEST_APPROVE=1</c> the test writes the file anew. Work is counted in steps, so the figures are the same on every
/// machine.</remarks>
public class QualityTest
{
    private const string Head = "job,work,cost,bound,source,status";
    private static readonly string[] Frozen = ["metric-s235jr", "metric-7075-t6"];

    private static string Recorded => Path.Combine(Repository.Root, "tests", "Nest.Bench", "results", "quality.csv");

    [Fact]
    public void Cost_and_bound_at_a_limit_of_work_are_those_on_record()
    {
        var rows = new List<string> { Head };
        rows.AddRange(Enumerable.Range(1, 12).Select(seed => Row($"small-{seed}", SmallJobs.Make(seed), 3000)));
        rows.AddRange(Enumerable.Range(1, 3).Select(seed => Row($"middle-{seed}", MiddleJobs.Make(seed), 2000)));
        rows.AddRange(Frozen.Select(name => Row(
            name, JobReader.Read(Path.Combine(Repository.Root, "tests", "Nest.Bench", "frozen", name, "job.toml")).Value!.Job, 2000)));
        if (Environment.GetEnvironmentVariable("NEST_APPROVE") == "1")
        {
            File.WriteAllText(Recorded, string.Join('\n', rows) + "\n");
        }

        rows.Should().Equal(File.ReadAllLines(Recorded), "NEST_APPROVE=1 writes the file anew; look at the difference before you keep it");
    }

    private static string Row(string name, Job job, long work)
    {
        var plan = JobSolver.Solve(job, BlankSizer.Size(job), new() { Work = work, Seconds = 600, Seed = 1, Threads = 1 });
        return string.Create(
            CultureInfo.InvariantCulture, $"{name},{work},{plan.TotalCost.Amount:0.0000},{plan.Bound.Value?.Amount:0.0000},{plan.Bound.Source.Replace(',', ';')},{plan.Status}");
    }
}
