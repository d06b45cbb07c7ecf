namespace Nest.Solve.Exact;

/// <summary>What a whole job costs at least at counts of stock whose parts are all closed: where single pieces cut to size may have breaks and minimums, and settings tie the parts, one programme over all their loads.</summary>
/// <param name="settings">What counts cost in settings; null: nothing.</param>
/// <param name="beyond">What they cost beyond that in plans cheaper than the best; null: nothing.</param>
/// <param name="enough">What a closed cost may miss, in grains.</param>
internal sealed class JobClosing(ExactJob job, IReadOnlyList<PartProof> parts, SettingTerms? settings, CountSettings? beyond, double enough, LoadPlans plans, Action<string> note)
{
    private const long LoadNodes = 20_000;

    private LoadSettings? _settings;

    /// <summary>Finds the best plan with these counts, with the exact terms, or a bound for it.</summary>
    /// <param name="upper">Cost of the best plan, in grains; infinite: there is none.</param>
    /// <returns>In grains; null when the loads are too many, or there is no plan yet.</returns>
    public double? Least(int[] counts, double upper, ExactMeter meter)
    {
        // A plan below the best has no component dearer than what the others leave to it, so only loads within that.
        var costs = parts.Select(part => part.ClosedAt(part.Own(counts))!.Cost).ToArray();
        var least = costs.Sum() + LoadMaster.LeastTerms(job, counts) + (((settings?.At(counts) ?? 0) + (beyond?.Beyond(counts, upper) ?? 0)) * Grain.PerCurrency);
        if (least >= upper - enough || meter.IsOver || !parts.All(part => part.ClosedAt(part.Own(counts)) is { Exact: true }))
        {
            return least;
        }

        if (!double.IsFinite(upper))
        {
            // With no plan yet every load would be within the gap: to be gone on with when there is one.
            return null;
        }

        var loads = new List<Load>();
        foreach (var (part, cost) in parts.Zip(costs))
        {
            var own = part.Own(counts);
            if (part.Within(own, Math.Max(enough, cost - part.BoundAt(own) + upper - least), meter) is not { } some)
            {
                note($"too many loads at {job.TextOf(counts)}");
                return null;
            }

            loads.AddRange(some.Select(part.InJob));
        }

        _settings ??= settings is null ? null : new(job, WithTree);
        var answer = StrictLoads.Solve(
            job.Sources, loads, WithTree,
            some => LoadMaster.Solve(job, some, counts, exactly: true, meter.Limits(30, LoadNodes), settings: _settings), _settings, meter,
            (load, tries, some) => parts[job.Sources[load.Stock].ComponentIndex].Raised(load, tries, some));
        meter.Add(3e6 + (2e4 * loads.Count));
        note($"{loads.Count} loads at {job.TextOf(counts)} from {least / Grain.PerCurrency:0.000} to {upper / Grain.PerCurrency:0.000}: {answer.Cost / Grain.PerCurrency:0.000}, bound {answer.Bound / Grain.PerCurrency:0.000}");
        plans.Take([.. answer.Plan.Select(entry => (_settings?.Cheapest(entry.Load, entry.Count) ?? WithTree(entry.Load), entry.Count))], answer.Extras);
        return Math.Max(least, Math.Min(answer.Bound, upper));
    }

    private Load WithTree(Load load) => parts[job.Sources[load.Stock].ComponentIndex].WithTree(load);
}
