using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Planning;

namespace Nest.Desk.Model;

/// <summary>Several jobs of the shop in one plan: bought at once, layouts shared, as <c>nest plan A/ B/ --sets</c> makes it, with the same words of what that saves.</summary>
internal sealed class TogetherRoom(Shop shop, JobDesk jobs, Searches searches, Plans plans)
{
    /// <summary>The jobs of these names in the order of the shop's list, each once.</summary>
    public IReadOnlyList<JobFolder> Folders(IEnumerable<string> names)
    {
        var wanted = names.ToHashSet(StringComparer.Ordinal);
        return [.. shop.Jobs().Where(job => wanted.Contains(job.Name))];
    }

    /// <summary>What the search of these jobs is called, and the folder of their plan begins.</summary>
    public static string NameOf(IEnumerable<JobFolder> folders) => string.Join('+', folders.Select(folder => folder.Name));

    /// <summary>Sets that a job's own file asks for; 1 where it is refused.</summary>
    public static int SetsOf(JobFolder folder) => Planner.Read(folder.File).Value?.Job.Batch ?? 1;

    /// <summary>Starts the search for one plan of all, then for what it saves.</summary>
    /// <returns>What is wrong with the jobs, one by one or together; no search then.</returns>
    public (Search? Search, ImmutableArray<Finding> Findings) Start(IReadOnlyList<(JobFolder Folder, int Sets)> wanted, PlanOptions options)
    {
        var (given, findings) = jobs.Read(wanted);
        if (given is null)
        {
            return (null, findings);
        }

        return (searches.Start(NameOf(wanted.Select(one => one.Folder)), given, options, afterwards: (plan, cancel) =>
            TogetherStudy.Of(given.Job, plan, (job, _) => Planner.Plan(job, options, null, cancel).Plan, cancel) is { } study
                ? [TogetherWords.Shares(plan), .. TogetherWords.Of(study)] : [TogetherWords.Shares(plan), TogetherWords.NotWorkedOut]), findings);
    }

    /// <summary>Writes the plan of all into a folder of its own in the shop, as the command line does.</summary>
    /// <returns>What was done, or why not.</returns>
    public string Keep(IReadOnlyList<(JobFolder Folder, int Sets)> wanted, Search search, bool replace)
    {
        if (search.Now.Plan is not { } plan || jobs.Read(wanted).Given is not { } given)
        {
            return DeskTexts.TogetherChanged;
        }

        var name = NameOf(wanted.Select(one => one.Folder));
        var path = Path.Combine(shop.Folder, name + "-plan");
        var (problem, _) = PlanKeeper.Keep(plan, new(name, shop.Folder, "", path), given, plans.WorkOf(plan), null, replace, search.Without);
        return problem.Length > 0 ? problem : $"Written to the folder {name}-plan of the shop: the sheets, the orders and the tablet page. 'nest reserve {name}-plan' enters it on the rack.";
    }
}
