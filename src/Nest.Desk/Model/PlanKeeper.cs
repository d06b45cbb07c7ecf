using System.Collections.Immutable;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Output;
using Nest.Output.Folders;
using Nest.Output.Orders;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>Writes a signed plan: the very folder that the command line writes.</summary>
internal static class PlanKeeper
{
    /// <param name="replace">Whether a plan there that is in use may be replaced.</param>
    /// <param name="shared">Address of the job at the door for devices; null: the job file's own, where it has one.</param>
    /// <param name="without">The plan with one supplier fewer, where that was worked out.</param>
    /// <returns>Why it was not written, empty when it was; and whether the plan there is in use.</returns>
    public static (string Problem, bool InUse) Keep(Plan plan, JobFolder folder, JobInput given, WorkOrder work, string? shared, bool replace, ImmutableArray<PlannedWithout> without = default)
    {
        var saw = given.SawAddress(folder.Name) ?? shared;
        try
        {
            Planner.Write(plan, folder.Output, new() { Work = work, Papers = [PaperWords.Of(given.Paper, plan.Job.Unit)], Correspondence = given.Correspondence, SawAddress = saw, Without = without.IsDefault ? [] : without }, replace);
            return ("", false);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return ($"Nothing was written: {PageWords.Of(problem.Message, "", "")}.", InUse.Of(folder.Output).Any());
        }
    }
}
