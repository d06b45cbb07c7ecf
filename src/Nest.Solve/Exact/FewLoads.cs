namespace Nest.Solve.Exact;

/// <summary>Every load of every stock, and one programme over all of them, where the demand allows few.</summary>
/// <remarks>Nothing is left out, so the programme's bound is the job's, and its plan the cheapest. Complexity: <see cref="LoadTable"/> for each stock, or <see cref="BareLoads"/> for each load that an answer has; one programme, and one more for each answer that has
/// loads which are not worked out yet.</remarks>
/// <param name="withSettings">Whether settings count (<see cref="LoadSettings"/>).</param>
internal sealed class FewLoads(ExactJob job, bool withSettings)
{
    /// <summary>Share of <see cref="MostSteps"/> that a list takes as a rule.</summary>
    private const double UsualShare = 0.2;

    /// <summary>Loads that the demand allows where some are bare: with more of them the pieces are mostly so many that the loads of an answer cannot be worked out, and other steps find better plans in the time.</summary>
    private const int MostBare = 150;

    /// <summary>The same where no list can be made at all, so that nothing else says much.</summary>
    private const int MostAlone = 400;
    private const long Nodes = 20_000;

    /// <summary>Steps of a pricing of all stock that take little.</summary>
    private const double CheapSteps = 3e8;

    /// <summary>Table steps that listing every load of a stock may take: a second on one core.</summary>
    public double MostSteps { get; init; } = 2e9;

    private List<Load>? _loads;
    private LoadSettings? _settings;

    /// <summary>Whether loads by values come before lists within a gap: where these take long, or cannot be made.</summary>
    public bool ComeFirst => job.Sources.Sum(source => source.Steps) > CheapSteps || job.Sources.Any(source => !source.CanList);

    /// <summary>All loads at their least cost.</summary>
    /// <returns>Null where the loads are too many.</returns>
    public LoadMaster.Answer? Solve(ExactMeter meter)
    {
        if (!job.HasFewLoads)
        {
            return null;
        }

        if (Lists(source => source.All(MostSteps)) is not { } loads)
        {
            return null;
        }

        meter.Add(MostSteps * UsualShare * job.Sources.Length);
        return Choose(loads, meter);
    }

    /// <summary>The same where the tables would be too large: each load at no more than is shown at a glance that it costs, and only the loads of an answer are worked out. Goes on where it was stopped.</summary>
    /// <remarks>A load of stock s costs at least Σ π·counts − best_s(π) at any values π that were looked at (<see cref="ValueCut"/>).</remarks>
    /// <returns>Null where the loads are too many, or some stock's layouts are not known.</returns>
    public LoadMaster.Answer? ByValues(IReadOnlyList<PartProof> parts, ExactMeter meter)
    {
        var most = job.Sources.All(source => source.CanList) ? MostBare : MostAlone;
        if (job.Kinds.Sum(kinds => ExactJob.LoadsOf(kinds.Demand)) > most)
        {
            return null;
        }

        _loads ??= Lists(source => source.All(MostSteps) ?? (source.CanLookAtOne ? [.. Bare(source, parts[source.ComponentIndex], meter)] : null));
        return _loads is null ? null : Choose(_loads, meter);
    }

    /// <summary>The loads of all stock; null: some stock has no list.</summary>
    private List<Load>? Lists(Func<LoadSource, List<Load>?> list)
    {
        var loads = new List<Load>();
        foreach (var source in job.Sources)
        {
            if (list(source) is not { } some)
            {
                return null;
            }

            loads.AddRange(some);
        }

        return loads;
    }

    private static IEnumerable<Load> Bare(LoadSource source, PartProof part, ExactMeter meter)
    {
        var own = source.Number - part.First;
        if (part.Values.Dropped[own])
        {
            yield break;
        }

        var demand = source.Kinds.Demand;
        var counts = new int[demand.Length];
        while (Next())
        {
            var least = Enumerable.Range(0, counts.Length).All(k => counts[k] == 0 || SettingTerms.Serves(source, k)) ? source.LeastOf(counts, meter) ?? long.MinValue : long.MaxValue;
            if (least < long.MaxValue)
            {
                var cost = part.Values.Cuts.Max(cut => (cut.Share * counts.Select((n, k) => (double)n * cut.Values[k]).Sum()) - cut.Per(own));
                yield return new(source.Number, [.. counts], Math.Max((long)Math.Floor(cost), least), null, false) { IsBare = true };
            }
        }

        bool Next()
        {
            var k = 0;
            while (k < counts.Length && counts[k] == demand[k])
            {
                counts[k++] = 0;
            }

            if (k < counts.Length)
            {
                counts[k]++;
            }

            return k < counts.Length;
        }
    }

    private LoadMaster.Answer Choose(List<Load> loads, ExactMeter meter)
    {
        _settings ??= withSettings ? new(job, WithTree) : null;
        var answer = StrictLoads.Solve(
            job.Sources, loads, WithTree,
            some => LoadMaster.Solve(job, some, null, exactly: true, meter.Limits(10, Nodes), settings: _settings), _settings, meter);
        return answer with { Plan = [.. answer.Plan.Select(entry => (_settings?.Cheapest(entry.Load, entry.Count) ?? WithTree(entry.Load), entry.Count))], Closed = answer.Closed && !answer.Plan.Any(entry => entry.Load.IsBare) };

        Load WithTree(Load load) => job.Sources[load.Stock].WithTree(load);
    }
}
