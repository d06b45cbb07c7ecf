using System.Collections.Immutable;

namespace Nest.Solve.Exact;

/// <summary>Bound and next choices of counts of a job with purchase terms, case by case (<see cref="OrderCase"/>): in a case the components are apart.</summary>
/// <remarks>
/// For each case: fixed cost + Σ over the parts of the least that their lines and loads cost, which is a small programme a part (<see cref="PartPrices"/>).
/// The least over all cases is a bound for the job. Each step looks at the case whose bound is lowest: where a part's statements have grown
/// it is worked out anew; else the counts of it that have no values of their own get them (<see cref="PartProof.Settle"/>); else it is divided by
/// whether a delivery is free; else its multipliers are sought; else the counts are closed (<see cref="PartProof.Close"/>). When none of that is left the terms that the case only relaxes decide, and the
/// programme of all parts together goes on with all that was learnt. (Lagrangian decomposition, branch and bound over the cases; Dantzig, Wolfe 1960.)
/// </remarks>
internal sealed class CaseSearch
{
    private const int MostTunings = 4;

    /// <summary>How far multipliers move at once.</summary>
    private const double FirstRadius = 0.2;

    /// <summary>By which a bound must rise for other multipliers to be worth it, in currency units.</summary>
    private const double WorthTuning = 0.01;

    private readonly ExactJob _job;
    private readonly ImmutableArray<PartProof> _parts;
    private readonly List<OrderCase> _cases;
    private readonly PartPrices[] _prices;
    private readonly Action<string> _note;
    private ExactMeter _meter = new(0, null, default);

    /// <param name="withSettings">Whether settings count (<see cref="SettingTerms"/>).</param>
    public CaseSearch(ExactJob job, ImmutableArray<PartProof> parts, bool withSettings, Action<string> note)
    {
        (_job, _parts, _note) = (job, parts, note);
        _cases = [.. OrderCase.Of(job)];
        var lines = new LineTerms(job.Job);
        var names = _cases[0].Suppliers.Select(supplier => supplier.Name).ToList();
        _prices = [.. parts.Select(part => new PartPrices(part, lines, names, withSettings ? new SettingTerms(part.Job, job) : null))];
    }

    /// <summary>No plan costs less, in grains.</summary>
    public double Bound => Math.Min(_cases.Min(one => one.Bound), HoldsBelow) * Grain.PerCurrency;

    /// <summary>The counts that the case of the lowest bound would choose, by source of the job; null: not known.</summary>
    public int[]? Counts { get; private set; }

    /// <summary>What a step did.</summary>
    internal enum Outcome
    {
        /// <summary>The bound was worked out, or new values were found.</summary>
        Went,

        /// <summary>Counts were closed, for each of which there may be a plan.</summary>
        Closed,

        /// <summary>Nothing is left to do here, or the time is up.</summary>
        Ended,
    }

    /// <summary>The cases that are left.</summary>
    public IReadOnlyList<OrderCase> Cases => _cases;

    private int Version => _parts.Sum(part => part.Version);

    private double HoldsBelow => _parts.Min(part => part.Values.HoldsBelow) / Grain.PerCurrency;

    /// <summary>One step for the case with the lowest bound.</summary>
    /// <param name="upper">Cost of the best plan, in grains.</param>
    public Outcome Step(double upper, ExactMeter meter)
    {
        _meter = meter;
        Relax();
        var one = _cases.MinBy(some => some.Bound)!;
        if (Evaluate(one, one.Shares) is not { } bound)
        {
            return Outcome.Ended;
        }

        var grown = bound > one.Bound + 1e-6;
        one.Bound = Math.Max(one.Bound, bound);
        if (grown)
        {
            return Outcome.Went;
        }

        var choice = Chosen(one.Shares);
        Counts = [.. choice.SelectMany(counts => counts)];
        _note($"case {one}: {one.Bound:0.000} at {_job.TextOf(Counts)}");
        if (one.CanTune && one.Choices.Length == 0 && Alike(one) is not null)
        {
            Tune(one);
            return Outcome.Went;
        }

        if (Settle(choice) is { } settled)
        {
            return settled ? Outcome.Went : Outcome.Ended;
        }

        var rough = false;
        foreach (var price in _prices)
        {
            rough |= price.Sharpen(one.Shares);
        }

        if (rough)
        {
            return Outcome.Went;
        }

        if (one.Halves().ToList() is { Count: > 0 } halves)
        {
            _cases.Remove(one);
            _cases.AddRange(halves);
            return Outcome.Went;
        }

        if (one.CanTune && one.TunedAt != Version)
        {
            Tune(one);
            return Outcome.Went;
        }

        return Close(choice, upper - (one.Bound * Grain.PerCurrency));
    }

    /// <summary>A first bound for every case, so that most are never looked at closer.</summary>
    private void Relax()
    {
        foreach (var one in _cases.Where(one => double.IsNegativeInfinity(one.Bound)))
        {
            one.Bound = one.ConstantAt(one.Shares) + _prices.Sum(price => price.Relaxed(one.Shares, _meter));
        }
    }

    /// <summary>Whether values were found for all counts that had none; null: all had.</summary>
    private bool? Settle(int[][] choice)
    {
        bool? settled = null;
        for (var p = 0; p < choice.Length; p++)
        {
            if (!_parts[p].IsSettled(choice[p]))
            {
                settled = _parts[p].Settle(choice[p], _meter);
                if (settled == false)
                {
                    return false;
                }
            }
        }

        return settled;
    }

    private Outcome Close(int[][] choice, double room)
    {
        var any = false;
        for (var p = 0; p < choice.Length; p++)
        {
            if (_parts[p].ClosedAt(choice[p]) is not { Done: true })
            {
                any = true;
                _parts[p].Close(choice[p], room, _meter);
                if (_parts[p].ClosedAt(choice[p]) is null)
                {
                    return Outcome.Ended;
                }
            }
        }

        return any ? Outcome.Closed : Outcome.Ended;
    }

    /// <summary>Looks for multipliers with a higher bound: those of a case with the same orders, then by what the parts would choose.</summary>
    private void Tune(OrderCase one)
    {
        var radius = FirstRadius;
        if (one.Choices.Length == 0 && Alike(one) is { } known && Better(one, known) is not false)
        {
            return;
        }

        Remember(one, one.Shares);
        for (var turn = 0; turn < MostTunings; turn++)
        {
            var costs = one.Choices.Select((some, p) => some.Select(_prices[p].CostOf).ToArray()).ToArray();
            if (CaseTuning.Shares(one, costs, one.Shares, radius) is not { } next
                || next.Zip(one.Shares).All(pair => double.IsNaN(pair.First) || Math.Abs(pair.First - pair.Second) < 1e-6) || Better(one, next) is not false)
            {
                break;
            }

            Remember(one, next);
            radius /= 2;
        }

        one.TunedAt = Version;
    }

    /// <summary>Tuned shares of another case, for suppliers with whom both are alike.</summary>
    private double[]? Alike(OrderCase one)
    {
        var other = _cases.Where(some => some.Choices.Length > 0).MaxBy(some => some.States.Zip(one.States).Count(pair => pair.First == pair.Second));
        return other is null ? null : [.. one.Shares.Select((share, k) => other.States[k] == one.States[k] ? other.Shares[k] : share)];
    }

    /// <summary>Takes these shares where they have a higher bound; null when the time is up.</summary>
    private bool? Better(OrderCase one, double[] shares)
    {
        if (Evaluate(one, shares) is not { } bound)
        {
            return null;
        }

        if (bound <= one.Bound + WorthTuning)
        {
            return false;
        }

        (one.Bound, one.Shares) = (bound, shares);
        _note($"case {one}: {bound:0.000} at shares {string.Join(' ', shares.Select(share => share.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture)))}");
        return true;
    }

    /// <summary>Keeps the parts' best choices at these shares for <see cref="CaseTuning"/>.</summary>
    private void Remember(OrderCase one, double[] shares)
    {
        if (one.Choices.Length == 0)
        {
            one.Choices = [.. _parts.Select(_ => new List<OrderCase.Choice>())];
        }

        for (var p = 0; p < _prices.Length; p++)
        {
            one.Choices[p].Add(_prices[p].Choice(shares));
        }
    }

    /// <summary>Bound of a case with these shares, in currency units; null when the time is up.</summary>
    public double? Evaluate(OrderCase one, double[] shares, ExactMeter? meter = null)
    {
        _meter = meter ?? _meter;
        var bound = one.ConstantAt(shares);
        foreach (var price in _prices)
        {
            if (price.Least(shares, _meter) is not { } least)
            {
                return null;
            }

            bound += least;
        }

        return bound;
    }

    /// <summary>Each part's best counts in a case at these shares.</summary>
    private int[][] Chosen(double[] shares) => [.. _prices.Select(price => price.Counts(shares))];
}
