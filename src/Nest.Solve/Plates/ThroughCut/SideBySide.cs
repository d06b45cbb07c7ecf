namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Several ruin-and-recreate searches from the same plan, one for each thread, each with a seed of its own.</summary>
/// <remarks>With a limit in work each gets all of it, and the answers have a fixed order, so that none depends on which was first.</remarks>
internal sealed class SideBySide(ThroughModel model, int seed, int threads)
{
    private readonly RuinRecreate[] _searches = [.. Enumerable.Range(0, threads).Select(t => new RuinRecreate(model, seed + (7919 * t)))];

    /// <param name="goal">The cost to aim at below a cost.</param>
    /// <param name="until">Share of the budget at which the searches end.</param>
    /// <returns>The plans that are cheaper than the start, in the order of the searches.</returns>
    public IEnumerable<CutPlan> Run(CutPlan start, long bound, Func<long, long> goal, SearchBudget budget, double until)
    {
        var work = budget.WorkUntil(until);
        var found = new CutPlan?[threads];
        Parallel.For(0, threads, new ParallelOptions { MaxDegreeOfParallelism = threads }, t =>
        {
            var search = _searches[t];
            var from = search.Work;
            var best = start;
            search.Start(best.Sheets, goal(best.Cost));
            while (!budget.Out && best.Cost > bound && (work is { } most ? search.Work - from < most : budget.Used < until))
            {
                for (var n = 0; n < 64 && best.Cost > bound; n++)
                {
                    if (search.Step())
                    {
                        best = new CutPlan(model, search.Current.Where(s => s.Pieces > 0).Select(s => s.Clone()));
                        search.Start(best.Sheets, goal(best.Cost));
                    }
                }
            }

            found[t] = best.Cost < start.Cost ? best : null;
        });
        budget.Add(work ?? 0);
        return found.OfType<CutPlan>();
    }
}
