using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Planning;

namespace Nest.Cli.Commands;

/// <summary>One of several plans that a command makes one after the other, with its progress.</summary>
internal static class PlanRun
{
    /// <summary>What a command says and returns that was stopped: what it shows is what was found until then.</summary>
    public const string BrokenOff = "BROKEN OFF (Ctrl-C)";

    /// <param name="what">Which of them, in front of its progress.</param>
    /// <returns>Null where the checker refused the plan; that is said.</returns>
    public static Plan? Solve(World world, Job job, PlanOptions options, string what)
    {
        PlanResult result;
        using (var progress = new ProgressLine(world, job.Currency, what + ": "))
        {
            result = Planner.Plan(job, options, progress.Show, world.Cancel);
        }

        if (result.Plan is null)
        {
            Screen.Report(world.Error, result.Findings);
            world.Error.WriteLine($"The checker refused the plan of '{what}'. This is a fault of Nest; please report it.");
        }

        return result.Plan;
    }
}
