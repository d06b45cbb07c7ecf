using System.Collections.Immutable;

namespace Nest.Solve.Exact;

/// <summary>Bound and next choices of counts of a job with purchase terms, case by case (<see cref="OrderCase"/>): in a case the components are apart.</summary>
/// <remarks>
/// For each case: fixed cost + Σ over the parts of the least that their lines and loads cost, which is a small programme a part (<see cref="CountMaster"/>).
/// The least over all cases is a bound for the job. Each step looks at the case whose bound is lowest: where a part's statements have grown
/// it is worked out anew; else the counts of it that have no values of their own get them (<see cref="PartProof.Settle"/>); else it is divided by
/// whether a delivery is free; else its multipliers are sought; else the counts are closed (<see cref="PartProof.Close"/>). When none of that is left the terms that the case only relaxes decide, and the
/// programme of all parts together goes on with all that was learnt. (Lagrangian decomposition, branch and bound over the cases; Dantzig, Wolfe 1960.)
/// </remarks>
internal sealed class CaseSearch
{
    private const long CountNodes = 4000;
    private const double MostSeconds = 5;
    private const int MostTunings = 4;

    /// <summary>By which a first answer may miss the least: to prove the last of it takes longest, and mostly its counts have no values of their own yet.</summary>
    private const double RoughGap = 0.003;

    /// <summary>What an answer may miss and not be called rough, in currency units.</summary>
    private const double Exactly = 0.005;

    /// <summary>How far multipliers move at once.</summary>
    private const double FirstRadius = 0.2;

    /// <summary>By which a bound must rise for other multipliers to be worth it, in currency units.</summary>
    private const double WorthTuning = 0.01;

    private readonly ExactJob _job;
    private readonly ImmutableArray<PartProof> _parts;
    private readonly List<OrderCase> _cases;
    private readonly LineTerms _lines;
    private readonly CountMaster[] _masters;
    private readonly int[][] _supplierOf;
    private readonly Dictionary<string, Answer>[] _answers;
    private readonly Dictionary<string, double>[] _relaxed;
    private readonly Action<string> _note;
    private ExactMeter _meter = new(0, null, default);

    public CaseSearch(ExactJob job, ImmutableArray<PartProof> parts, Action<string> note)
    {
        (_job, _parts, _note) = (job, parts, note);
        _cases = [.. OrderCase.Of(job)];
        _lines = new(job.Job);
        _masters = [.. parts.Select(part => new CountMaster(part.Job, [part], _lines))];
        _answers = [.. parts.Select(_ => new Dictionary<string, Answer>(StringComparer.Ordinal))];
        _relaxed = [.. parts.Select(_ => new Dictionary<string, double>(StringComparer.Ordinal))];
        var names = _cases[0].Suppliers.Select(supplier => supplier.Name).ToList();
        _supplierOf = [.. parts.Select(part => part.Job.Sources.Select(source => source.Frame.Stock.IsLeftover
            ? -1
            : names.FindIndex(name => string.Equals(name, source.Frame.Stock.Supplier ?? "", StringComparison.OrdinalIgnoreCase))).ToArray())];
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

        var choice = Chosen(one, one.Shares);
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

        if (Sharpen(one))
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
            one.Bound = one.ConstantAt(one.Shares);
            for (var p = 0; p < _parts.Length; p++)
            {
                var key = Key(p, one.Shares);
                if (!_relaxed[p].TryGetValue(key, out var least))
                {
                    least = _relaxed[p][key] = _masters[p].Relaxed(SharesOf(p, one.Shares)) / Grain.PerCurrency;
                    _meter.Add(1e6);
                }

                one.Bound += least;
            }
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
            var costs = one.Choices.Select((some, p) => some.Select(choice => choice.Lines + (_parts[p].CostAt(choice.Counts) / Grain.PerCurrency)).ToArray()).ToArray();
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

        var chosen = Chosen(one, shares);
        for (var p = 0; p < _parts.Length; p++)
        {
            var (lines, goods) = Lines(p, chosen[p], shares);
            var beside = lines;
            for (var k = 0; k < goods.Length; k++)
            {
                beside -= double.IsNaN(shares[k]) ? 0 : shares[k] * goods[k];
            }

            one.Choices[p].Add(new(chosen[p], beside, goods));
        }
    }

    /// <summary>A part's best counts in a case at these shares.</summary>
    private int[][] Chosen(OrderCase one, double[] shares) => [.. _parts.Select((_, p) => _answers[p][Key(p, shares)].Counts)];

    /// <summary>Asks for the least itself where an answer was only near it.</summary>
    private bool Sharpen(OrderCase one)
    {
        var any = false;
        for (var p = 0; p < _parts.Length; p++)
        {
            var key = Key(p, one.Shares);
            if (_answers[p][key] is { Rough: true } answer)
            {
                _answers[p][key] = answer with { Version = -1 };
                any = true;
            }
        }

        return any;
    }

    /// <summary>Shares by source of a part.</summary>
    private double[] SharesOf(int p, double[] shares) => [.. _supplierOf[p].Select(k => k < 0 ? 1 : shares[k])];

    /// <summary>What a part's lines cost at these shares, and the goods by supplier, in currency units.</summary>
    private (double Cost, double[] Goods) Lines(int p, int[] counts, double[] shares)
    {
        var (cost, goods) = (0.0, new double[shares.Length]);
        foreach (var source in _parts[p].Job.Sources.Where(source => counts[source.Number] > 0 || _supplierOf[p][source.Number] >= 0))
        {
            var k = _supplierOf[p][source.Number];
            if (k >= 0 && double.IsNaN(shares[k]))
            {
                continue;
            }

            var line = _lines.Of(source, counts[source.Number], k < 0 ? 1 : shares[k]);
            cost += line.Cost;
            if (k >= 0)
            {
                goods[k] += line.Goods;
            }
        }

        return (cost, goods);
    }

    /// <summary>Bound of a case with these shares, in currency units; null when the time is up.</summary>
    private double? Evaluate(OrderCase one, double[] shares)
    {
        var bound = one.ConstantAt(shares);
        for (var p = 0; p < _parts.Length; p++)
        {
            if (Least(p, shares) is not { } least)
            {
                return null;
            }

            bound += least;
        }

        return bound;
    }

    /// <param name="Bound">The part's lines and loads cost no less, in currency units.</param>
    /// <param name="Counts">The best counts.</param>
    /// <param name="Value">What these cost, by the statements of then.</param>
    /// <param name="Rough">Whether there may be somewhat better counts.</param>
    /// <param name="Version">Of the part; −1: to be worked out anew, and not roughly.</param>
    private sealed record Answer(double Bound, int[] Counts, double Value, bool Rough, int Version);

    private string Key(int p, double[] shares) =>
        string.Join(' ', shares.Select((share, k) => Array.IndexOf(_supplierOf[p], k) < 0 ? "" : double.IsNaN(share) ? "–" : share.ToString("R", System.Globalization.CultureInfo.InvariantCulture)));

    /// <summary>The least that a part's lines and loads cost at these shares, in currency units.</summary>
    private double? Least(int p, double[] shares)
    {
        var (part, key) = (_parts[p], Key(p, shares));
        var known = _answers[p].GetValueOrDefault(key);

        // Statements only rise: where they say no more at the best counts than they did these are still best.
        if (known is not null && known.Version >= 0 && (known.Version == part.Version || ValueOf(known.Counts) <= known.Value + 1e-7))
        {
            _answers[p][key] = known with { Version = part.Version };
            return known.Bound;
        }

        if (_meter.IsOver)
        {
            return null;
        }

        var gap = known is { Version: < 0 } ? 0 : RoughGap;
        var answer = _masters[p].Solve(_meter.Limits(MostSeconds, CountNodes), gap, SharesOf(p, shares));
        _meter.Add(1e6 + (1e5 * _masters[p].Rows));
        if (answer.Counts is not { } counts)
        {
            return null;
        }

        var bound = Math.Max(known?.Bound ?? double.NegativeInfinity, answer.Bound / Grain.PerCurrency);
        var value = ValueOf(counts);
        _answers[p][key] = new(bound, counts, value, gap > 0 && value > bound + Exactly, part.Version);
        return bound;

        double ValueOf(int[] counts) => Lines(p, counts, shares).Cost + (part.CostAt(counts) / Grain.PerCurrency);
    }
}
