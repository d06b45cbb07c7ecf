namespace Nest.Solve.Exact;

/// <summary>Every load of every stock at its least cost, and one programme over all of them, where the demand allows few.</summary>
/// <remarks>Nothing is left out, so the programme's bound is the job's, and its plan the cheapest. Complexity: <see cref="LoadTable"/> for each stock, one programme.</remarks>
internal static class FewLoads
{
    /// <summary>Table steps that listing every load of a stock may take: a second on one core.</summary>
    private const double MostSteps = 2e9;

    /// <summary>Share of these steps that a list takes as a rule.</summary>
    private const double UsualShare = 0.2;

    /// <returns>Null where the loads are too many.</returns>
    /// <param name="withSettings">Whether settings count (<see cref="LoadSettings"/>).</param>
    /// <param name="nodes">Most nodes of the programme.</param>
    public static LoadMaster.Answer? Solve(ExactJob job, bool withSettings, ExactMeter meter, long nodes)
    {
        if (!job.HasFewLoads)
        {
            return null;
        }

        var loads = new List<Load>();
        foreach (var source in job.Sources)
        {
            if (source.All(MostSteps) is not { } some)
            {
                return null;
            }

            loads.AddRange(some);
        }

        meter.Add(MostSteps * UsualShare * job.Sources.Length);
        var settings = withSettings ? new LoadSettings(job, WithTree) : null;
        var answer = StrictLoads.Solve(
            job.Sources, loads, WithTree,
            some => LoadMaster.Solve(job, some, null, exactly: true, meter.Limits(10, nodes), settings: settings), settings, meter);
        return answer with { Plan = [.. answer.Plan.Select(entry => (settings?.Cheapest(entry.Load, entry.Count) ?? WithTree(entry.Load), entry.Count))] };

        Load WithTree(Load load) => job.Sources[load.Stock].WithTree(load);
    }
}
