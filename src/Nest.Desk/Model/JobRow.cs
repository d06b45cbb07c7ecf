using System.Globalization;
using Nest.Core.Plans;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>A job in the list.</summary>
/// <param name="State">What there is of a plan, in words.</param>
internal sealed record JobRow(string Folder, string Title, string Parts, string Sets, string State)
{
    public static JobRow Of(JobFolder folder, Plans plans, Searches searches)
    {
        var read = Planner.Read(folder.File);
        if (read.Value is not { Job: var job })
        {
            return new(folder.Name, folder.Name, "–", "–", string.Create(CultureInfo.InvariantCulture, $"the files are refused: {read.Findings.Count(finding => finding.Severity == Core.Jobs.Severity.Error)} to mend"));
        }

        return new(folder.Name, job.Name, Number(job.Parts.Length), Number(job.Batch), StateOf(folder, plans, searches));
    }

    private static string StateOf(JobFolder folder, Plans plans, Searches searches) => searches.Of(folder.Name)?.Now.State switch
    {
        SearchState.Waiting => "waits for another search",
        SearchState.Running => "is being planned",
        SearchState.Done => "planned, not kept yet",
        _ => plans.Saved(folder) is { } saved ? Saved(saved) : "not planned yet",
    };

    private static string Saved(PlanResult saved) => saved.Plan is { } plan
        ? string.Create(CultureInfo.InvariantCulture, $"planned: {plan.Job.Currency} {plan.TotalCost.Amount:0.00}")
        : "the plan file is refused";

    private static string Number(int number) => number.ToString(CultureInfo.InvariantCulture);
}
