using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Output.Folders;
using Nest.Planning;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Desk.Model;

/// <summary>What a plan on the rack cannot make any more is planned anew and put in its place, as <c>nest plan --rest</c> and <c>nest replan</c> do.</summary>
internal sealed class RestRoom(Shop shop, JobDesk jobs, Searches searches, Plans plans, TimeProvider time)
{
    /// <summary>Whether the layouts that are still open do not make all that is missing: a stock piece went wrong, or blanks were spoiled.</summary>
    public static bool WantsAnew(PlanRecord record) => record.State == PlanState.Incomplete || (record.State == PlanState.Cutting && record.Layouts.Any(layout => layout.Lost > 0) && record.Parts.Any(part => part.Missing > 0));

    /// <summary>What is still to make, in words; empty: nothing.</summary>
    public static string Missing(PlanRecord record) => string.Join(", ", record.Parts.Where(part => part.Missing > 0)
        .Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Missing} × {part.PartId}")));

    /// <summary>Starts the search for the rest of a plan.</summary>
    /// <returns>Why not; empty when it runs.</returns>
    public (string Problem, Search? Search) Start(JobFolder folder, PlanRecord record, bool notOrdered)
    {
        if (searches.Of(folder.Name) is { RestOf: { } running } search && running == record.Id && search.Now.State is SearchState.Running or SearchState.Waiting)
        {
            return ("", searches.Of(folder.Name));
        }

        var (given, findings) = jobs.Read(folder, record.Id, notOrdered);
        return given is null
            ? (string.Join(" ", findings.Where(finding => finding.Severity == Severity.Error).Select(finding => PageWords.Of(finding.Message, "", "") + ".")), null)
            : ("", searches.Start(folder.Name, given, new(), restOf: record.Id));
    }

    /// <summary>Puts the new plan in the place of what is not cut of the old one: on the rack, and in the job's folder. Both or neither.</summary>
    /// <returns>Why not; empty when it is done.</returns>
    public (string Problem, bool InUse) Keep(long old, Plan plan, JobFolder folder, JobInput given)
    {
        try
        {
            using var rack = RackStore.Open(shop.RackFile, new() { Clock = time });
            var id = rack.Replan(old, plan);
            var change = rack.History(1)[0].Id;
            var (problem, _) = PlanKeeper.Keep(plan, folder, given, plans.WorkOf(plan), shop.SharedAddress(Addresses.Tablets(folder.Name)), replace: true, searches.Of(folder.Name)?.Without ?? []);
            if (problem.Length > 0)
            {
                rack.Undo(change);
                return (problem, false);
            }

            // What is in the folder counts now; another search plans the job itself.
            searches.Forget(folder.Name);
            InUse.Add(folder.Output, string.Create(CultureInfo.InvariantCulture, $"{time.GetLocalNow():yyyy-MM-dd} reserved as {PlanNumber.Format(id)} on {rack.Path}"));
            return ("", false);
        }
        catch (RackException refused)
        {
            return (RackRoom.Words(refused), false);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return (fault.Message, false);
        }
    }
}
