using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>Column generation over the loads of all stocks: values of the blanks, and what they state of every plan.</summary>
/// <remarks>
/// Each round solves the linear programme over the known loads (<see cref="ValueMaster"/>), prices every stock at its values
/// (<see cref="LoadSource"/>), and keeps the loads that are a gain. Whatever the values, they make a statement that holds for every plan
/// (<see cref="ValueCut"/>); the last are the strongest. With counts of stock given the programme uses just these, and the statement is
/// strongest for plans with these counts. Large plates are priced by their table only where a bound without one does not do.
/// </remarks>
internal sealed class ValueGeneration
{
    private const int MostRounds = 300;

    /// <summary>Table steps beyond which a stock is only priced where a bound without a table does not show that it is no gain.</summary>
    public const double Costly = 1e8;

    /// <summary>With no more stocks than this each is priced by its table: the statements are sharper.</summary>
    private const int FewStocks = 12;
    private const double GenerationShare = 0.35;

    private readonly ExactJob _job;
    private readonly int _threads;
    private readonly List<Load> _loads = [];
    private readonly HashSet<string> _known = new(StringComparer.Ordinal);
    private readonly double[] _missing;
    private readonly double[] _alone;
    private readonly int[] _cap;
    private readonly bool[] _dropped;
    private readonly List<ValueCut> _cuts = [];
    private ExactMeter _meter = new(0, null, default);
    private long[] _bare = [];

    public ValueGeneration(ExactJob job, int threads)
    {
        (_job, _threads) = (job, Math.Max(1, threads));
        _dropped = new bool[job.Sources.Length];
        var caps = new ValueCaps(job);
        _cap = caps.Greatest();
        _missing = [.. _cap.Select((cap, k) => Math.Min(cap, caps.MissingCost(k)))];
        _alone = [.. _cap.Select((cap, k) => Math.Min(cap, caps.AloneCost(k)))];
    }

    /// <summary>Cost of the best plan, in grains: stock that no cheaper plan uses is dropped. Infinite: nothing is.</summary>
    public double Upper { get; set; } = double.PositiveInfinity;

    /// <summary>By source: stock that is in no plan cheaper than <see cref="HoldsBelow"/>; the statements hold for plans without it.</summary>
    public bool[] Dropped => _dropped;

    /// <summary>The statements hold for plans below this cost, in grains: what <see cref="Upper"/> was when stock was dropped last.</summary>
    public double HoldsBelow { get; private set; } = double.PositiveInfinity;

    /// <summary>What a piece of stock is worth at most as a rest, by source.</summary>
    public IReadOnlyList<long> Bare => _bare;

    /// <summary>All statements so far.</summary>
    public IReadOnlyList<ValueCut> Cuts => _cuts;

    /// <summary>All loads that were a gain.</summary>
    public IReadOnlyList<Load> Loads => _loads;

    /// <summary>Told what was done.</summary>
    public Action<string>? Note { get; init; }

    /// <summary>Called when the loads known may make a better plan.</summary>
    public Action? Between { get; init; }

    /// <summary>Called after every round; true: it is over.</summary>
    public Func<bool>? Ends { get; init; }

    /// <summary>Steps of a pricing of all stock up to which raw edges are seen: half a second on one core.</summary>
    public const double MostEdgeSteps = 3e9;

    private bool IsOver => _meter.IsOver || Ends?.Invoke() == true;

    /// <summary>Whether the job is so small that raw edges are always seen.</summary>
    public bool SeesEdges { get; init; }

    /// <summary>The statement of no values, before all others.</summary>
    public void Begin(ExactMeter meter)
    {
        _meter = meter;
        if (_bare.Length == 0)
        {
            var zero = new int[_job.Demand.Length];
            _bare = Price(zero, _ => true, loosely: true, out _);
            _cuts.Add(ValueCut.Of(_job, zero, _bare));
        }
    }

    /// <summary>Column generation; returns the last statement, or null when the time is up before there is one.</summary>
    /// <param name="counts">Pieces of each stock, by source; those cut to size are free. Null: as many as there are.</param>
    public ValueCut? Generate(int[]? counts, ExactMeter meter)
    {
        Begin(meter);
        LookAtEdges(counts);
        using var master = new ValueMaster(_job, counts, counts is null ? _alone : _missing);
        foreach (var source in _job.Sources.Where(source => counts is not null && counts[source.Number] > 0))
        {
            master.Add(new(source.Number, [.. new int[source.Kinds.Count]], source.EmptyCost, null, false));
        }

        foreach (var load in _loads)
        {
            master.Add(load);
        }

        bool Used(LoadSource source) => counts is null || source.IsSingle || counts[source.Number] > 0;
        var until = _meter.Left * (1 - GenerationShare);
        ValueCut? last = null;
        var rounds = 0;
        var level = Costly;
        for (; rounds < MostRounds; rounds++)
        {
            if (master.Solve() is not var (exact, stocks, _))
            {
                break;
            }

            int[] values = [.. exact.Select((value, k) => (int)Math.Min(_cap[k], Math.Floor(value)))];
            var best = Price(values, source => Used(source) && (counts is not null || source.Steps <= level), loosely: false, out var loads);
            if (counts is null)
            {
                Fill(best, Price(values, source => source.Steps > level, loosely: true, out _));
            }

            var found = false;
            foreach (var load in loads)
            {
                if (load is not null && Gain(load) > Grain.PerUnit && master.Add(load))
                {
                    found = true;
                    Keep(load);
                }
            }

            var stop = !found || _meter.IsOver || _meter.Left < until;
            if (counts is null || stop)
            {
                last = State(values, best, counts);
            }

            if (stop && counts is null && !found && level < (double.IsInfinity(Upper) ? 1e9 : double.MaxValue) && !IsOver)
            {
                // Now that the values are about right, few large plates are left that could be a gain.
                Between?.Invoke();
                Drop(_cuts[^2]);
                level = level < 2e8 ? 1e9 : double.MaxValue;
                stop = false;
            }

            if (stop)
            {
                break;
            }

            double Gain(Load load)
            {
                var source = _job.Sources[load.Stock];
                var gain = stocks[load.Stock] - load.Cost - (counts is null || source.IsSingle ? source.Price : 0);
                var first = _job.FirstKind[source.ComponentIndex];
                for (var k = 0; k < load.Counts.Length; k++)
                {
                    gain += exact[first + k] * load.Counts[k];
                }

                return gain;
            }
        }

        if (last is not null && counts is null)
        {
            Drop(_cuts[^2]);
        }

        Note?.Invoke($"{_dropped.Count(drop => drop)} dropped, values at {(counts is null ? "any counts" : _job.TextOf(counts))}: {rounds + 1} rounds, {_loads.Count} loads");
        return last;
    }

    /// <summary>Raw edges of plates are seen where that takes little; the same counts always have the same answer.</summary>
    public void LookAtEdges(int[]? counts)
    {
        var sees = SeesEdges || (counts is not null
            && _job.Sources.Where(source => counts[source.Number] > 0).Sum(source => source.EdgeSteps) <= MostEdgeSteps);
        foreach (var source in _job.Sources)
        {
            source.SeesEdges = sees;
        }
    }

    /// <summary>Adds the statement that these values make, and at free counts its scaled form.</summary>
    private ValueCut State(int[] values, long[] best, int[]? counts)
    {
        if (counts is not null)
        {
            // The statement is for all stocks.
            Fill(best, Price(values, source => !source.IsSingle && counts[source.Number] == 0, loosely: true, out _));
        }
        else
        {
            var scaled = ValueCut.Scaled(_job, values, best, _bare);
            _cuts.Add(scaled);
            Drop(scaled);
        }

        var cut = ValueCut.Of(_job, values, best);
        _cuts.Add(cut);
        return cut;
    }

    /// <summary>Leaves out stock that is in no plan cheaper than the best.</summary>
    /// <remarks>Where no stock is worth more than its price, a plan with a piece of s costs at least the statement's constant and what s costs
    /// beyond its worth. Limited stock that is worth more takes its share off.</remarks>
    private void Drop(ValueCut cut)
    {
        if (double.IsInfinity(Upper))
        {
            return;
        }

        var floor = cut.Constant;
        foreach (var source in _job.Sources)
        {
            floor -= _dropped[source.Number] ? 0 : Math.Max(0, cut.Per(source.Number) - source.Price) * (source.Limit ?? 0);
        }

        foreach (var source in _job.Sources.Where(source => !_dropped[source.Number] && floor + source.Price - cut.Per(source.Number) > Upper + 1))
        {
            _dropped[source.Number] = true;
            HoldsBelow = Upper;
        }
    }

    /// <summary>Takes in a load with a layout that was found elsewhere.</summary>
    public void Keep(Load load)
    {
        if (_known.Add($"{load.Key}:{load.Cost}"))
        {
            _loads.Add(load);
        }
    }

    /// <summary>Best worth by source (<see cref="long.MinValue"/>: not asked), and a load for each.</summary>
    /// <param name="loosely">A bound without a table will do for plates with large ones.</param>
    private long[] Price(int[] values, Func<LoadSource, bool> asked, bool loosely, out Load?[] loads)
    {
        var best = new long[_job.Sources.Length];
        Array.Fill(best, long.MinValue);
        var found = new Load?[best.Length];
        var sources = _job.Sources.Where(asked).Where(source => !_dropped[source.Number]).OrderByDescending(source => source.Steps).ToList();
        var few = _job.Sources.Length <= FewStocks;
        sources.RemoveAll(source =>
        {
            // The statement holds with any bound on the worth of a load.
            if (source.Quick(_job.ValuesOf(values, source)) is { } quick && ((loosely && source.Steps > Costly) || (!few && quick <= source.Price)))
            {
                best[source.Number] = quick;
                return true;
            }

            return false;
        });
        foreach (var source in _job.Sources.Where(source => _dropped[source.Number]))
        {
            best[source.Number] = 0;
        }

        void One(int at) => best[sources[at].Number] = sources[at].Best(_job.ValuesOf(values, sources[at]), out found[sources[at].Number]);
        if (_threads > 1 && sources.Count > 1)
        {
            Parallel.For(0, sources.Count, new() { MaxDegreeOfParallelism = _threads }, One);
        }
        else
        {
            for (var at = 0; at < sources.Count; at++)
            {
                One(at);
            }
        }

        _meter.Add(sources.Sum(source => source.Steps) + 1e5);
        loads = found;
        return best;
    }

    private static void Fill(long[] best, long[] rest)
    {
        for (var s = 0; s < best.Length; s++)
        {
            best[s] = best[s] == long.MinValue ? rest[s] : best[s];
        }
    }
}
