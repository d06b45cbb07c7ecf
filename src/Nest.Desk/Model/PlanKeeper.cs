using System.Collections.Immutable;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>Writes a signed plan: the very folder that the command line writes.</summary>
internal static class PlanKeeper
{
    /// <returns>Why it could not be written; no errors when it was.</returns>
    public static ImmutableArray<Finding> Keep(Plan plan, JobFolder folder, WorkOrder work)
    {
        try
        {
            OutputFolder.Write(plan, folder.Output, new() { Work = work });
            return Planner.Save(plan, Path.Combine(folder.Output, "plan.json"));
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return [new(Severity.Error, "file-unwritable", new(folder.Output), $"the plan cannot be written: {problem.Message}", "check the folder, its rights and the space left")];
        }
    }
}
