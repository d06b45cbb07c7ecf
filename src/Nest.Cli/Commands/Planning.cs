using Nest.Core.Blanks;
using Nest.Core.Check;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Solve;

namespace Nest.Cli.Commands;

/// <summary>One of several plans that a command makes one after the other: searched with progress, checked.</summary>
internal static class Planning
{
    /// <summary>What a command says and returns that was stopped: what it shows is what was found until then.</summary>
    public const string BrokenOff = "BROKEN OFF (Ctrl-C)";

    /// <param name="what">Which of them, in front of its progress.</param>
    /// <returns>Null where the checker refused the plan; that is said.</returns>
    public static Plan? Solve(World world, Job job, SolveLimits limits, string what)
    {
        var blanks = BlankSizer.Size(job);
        Plan plan;
        using (var progress = new ProgressLine(world, job.Currency, what + ": "))
        {
            plan = JobSolver.Solve(job, blanks, limits, progress.Show, world.Cancel);
        }

        plan = plan with { PartCosts = CostSheet.PartCosts(job, blanks, plan.Layouts) };
        var refused = PlanChecker.Check(plan);
        if (!refused.HasErrors())
        {
            return plan;
        }

        Screen.Report(world.Error, refused);
        world.Error.WriteLine($"The checker refused the plan of '{what}'. This is a fault of Nest; please report it.");
        return null;
    }
}
