using System.Collections.Immutable;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>The chain that prices, chooses and proves: values of the blanks, whole counts of stock, then all loads within a growing gap.</summary>
/// <remarks>
/// (1) Column generation over all loads (<see cref="ValueMaster"/>, <see cref="LoadSource"/>) for values; each set of values is a statement
/// (<see cref="ValueCut"/>). (2) <see cref="CountMaster"/> picks the counts of stock that look cheapest; at new counts column generation with
/// just these gives a stronger statement. (3) Counts that come back are closed: all loads within a gap of their bound are listed and
/// <see cref="LoadMaster"/> finds the best plan of them, the gap doubling until it is proven. The bound is the least of what the count master
/// still allows and of the closed counts' costs. Every link is valid by itself: stopped at any time, the bound holds.
/// </remarks>
internal sealed class ExactSearch
{
    // Shares and caps; what they were measured on stands in the README beside this file.
    private const int MostRounds = 300;

    /// <summary>Table steps beyond which a stock is only priced where a bound without a table does not show that it is no gain.</summary>
    private const double Costly = 1e8;

    /// <summary>With no more stocks than this each is priced by its table: the statements are sharper.</summary>
    private const int FewStocks = 12;
    private const double FirstGap = 0.005;
    private const double GenerationShare = 0.35;
    private const long CountNodes = 4000;
    private const long LoadNodes = 20_000;
    private const int MostLoadsInProgramme = 20_000;

    /// <summary>With no more loads than this by demand all may be listed at once: the gap need not grow.</summary>
    private const double FewLoads = 1000;

    /// <summary>Table steps that listing every load of a stock may take: a second on one core.</summary>
    private const double FewSteps = 2e9;

    private readonly ExactJob _job;
    private ExactMeter _meter = new(0, null, default);
    private readonly int _threads;
    private readonly double _enough;
    private readonly CountMaster _counts;
    private readonly Dictionary<string, ValueCut> _settled = new(StringComparer.Ordinal);
    private readonly List<Load> _loads = [];
    private readonly HashSet<string> _known = new(StringComparer.Ordinal);
    private readonly Offer _offer;
    private readonly double[] _missing;
    private readonly double[] _alone;
    private readonly int[] _cap;
    private long[] _bare = [];
    private double _closed = double.PositiveInfinity;
    private int _chosenFrom;
    private bool _generated;
    private readonly bool[] _dropped;

    /// <summary>Takes a plan; returns the cost of the best plan so far, in grains (infinite: none yet).</summary>
    internal delegate double Offer(ImmutableArray<(Load Load, int Count)> plan, ImmutableArray<(StockFrame Frame, int Count)> extras);

    /// <param name="enough">By how much a plan may miss its bound and still be proven, in grains.</param>
    public ExactSearch(ExactJob job, int threads, double enough, Offer offer)
    {
        (_job, _threads, _enough, _offer) = (job, Math.Max(1, threads), enough, offer);
        _dropped = new bool[job.Sources.Length];
        _counts = new(job, _dropped);
        _cap = CapValues();
        _missing = [.. _cap.Select((cap, k) => Math.Min(cap, MissingCost(k)))];
        _alone = [.. _cap.Select((cap, k) => Math.Min(cap, AloneCost(k)))];
    }

    /// <summary>No plan costs less, in grains; minus infinity: not known.</summary>
    public double Bound { get; private set; } = double.NegativeInfinity;

    /// <summary>Cost of the best plan, in grains.</summary>
    public double Upper { get; set; } = double.PositiveInfinity;

    /// <summary>Whether every load may be listed at once where these are few.</summary>
    public bool ListsAll { get; init; } = true;

    public bool IsProven => Upper - Bound < _enough;

    /// <summary>What was done, for traces and the bench.</summary>
    public List<string> Log { get; } = [];

    private bool IsOver => _meter.IsOver || IsProven;

    /// <summary>Begins, or goes on.</summary>
    public void Run(ExactMeter meter)
    {
        _meter = meter;
        if (!_job.IsValid || _job.Demand.Length == 0)
        {
            return;
        }

        if (_bare.Length == 0)
        {
            if (Few() || IsOver)
            {
                return;
            }

            var zero = new int[_job.Demand.Length];
            _bare = Price(zero, _ => true, loosely: true, out _);
            _counts.Add(ValueCut.Of(_job, zero, _bare));
        }

        if (!_generated)
        {
            _generated = Generate(null) is not null && !_meter.IsOver;
            Choose();
        }

        while (!IsOver)
        {
            var answer = _counts.Solve(Math.Min(_meter.SecondsLeft, 10), _meter.Nodes(CountNodes));
            _meter.Add(3e6 + (2e5 * _counts.Cuts.Count));
            Raise(Math.Min(Math.Min(answer.Bound, _closed), _dropped.Contains(true) ? Upper : double.PositiveInfinity));
            if (answer.Counts is not { } counts || IsOver)
            {
                Note($"counts: bound {answer.Bound / Grain.PerCurrency:0.000}, none left");
                break;
            }

            Note($"counts {Text(counts)}: bound {answer.Bound / Grain.PerCurrency:0.000}");
            var key = Text(counts);
            if (!_settled.TryGetValue(key, out var cut))
            {
                cut = Generate(counts);
                if (cut is null)
                {
                    break;
                }

                _settled[key] = cut;
                if (_settled.Count % 4 == 1)
                {
                    Choose();
                }

                continue;
            }

            if (!Close(counts, cut))
            {
                break;
            }
        }
    }

    /// <summary>Where the demand allows few loads: all of them at their least cost, and the best plan that they make.</summary>
    private bool Few()
    {
        if (!ListsAll || _job.Demand.Aggregate(1.0, (product, demand) => product * (demand + 1)) > FewLoads)
        {
            return false;
        }

        var loads = new List<Load>();
        foreach (var source in _job.Sources)
        {
            if (source.All(FewSteps) is not { } some)
            {
                return false;
            }

            loads.AddRange(some);
        }

        _meter.Add(FewSteps * 0.2 * _job.Sources.Length);
        var answer = LoadMaster.Solve(_job, loads, null, double.MaxValue, exactly: true, Math.Min(_meter.SecondsLeft, 10), _meter.Nodes(LoadNodes));
        Note($"all {loads.Count} loads: {answer.Cost / Grain.PerCurrency:0.000}, bound {answer.Bound / Grain.PerCurrency:0.000}");
        Take(answer with { Plan = [.. answer.Plan.Select(entry => (_job.Sources[entry.Load.Stock].WithTree(entry.Load), entry.Count))] });
        Raise(answer.Bound);
        return answer.Closed;
    }

    private string Text(int[] counts) => string.Join(' ', counts.Select((n, s) => (n, s)).Where(entry => entry.n > 0 && !_job.Sources[entry.s].IsSingle).Select(entry => $"{entry.s}×{entry.n}"));

    private void Note(string text) => Log.Add($"{_meter.Seconds:0.000} {text}");

    private void Raise(double bound) => Bound = Math.Max(Bound, bound);

    /// <summary>Column generation; returns the last statement, or null when the time is up before there is one.</summary>
    private ValueCut? Generate(int[]? counts)
    {
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

            if (stop && counts is null && !found && level < double.MaxValue && !IsOver)
            {
                // Now that the values are about right, few large plates are left that could be a gain.
                Choose();
                Drop(_counts.Cuts[^2]);
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
            Drop(_counts.Cuts[^2]);
        }

        Note($"{_dropped.Count(drop => drop)} dropped, values at {(counts is null ? "any counts" : Text(counts))}: {rounds + 1} rounds, {_loads.Count} loads");
        return last;
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
            _counts.Add(scaled);
            Drop(scaled);
        }

        var cut = ValueCut.Of(_job, values, best);
        _counts.Add(cut);
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

        foreach (var source in _job.Sources)
        {
            _dropped[source.Number] |= floor + source.Price - cut.Per(source.Number) > Upper + 1;
        }
    }

    private void Keep(Load load)
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

    /// <summary>A plan of the loads known so far.</summary>
    private void Choose()
    {
        var real = _loads.Where(load => load.Real).ToList();
        if (_meter.IsOver || real.Count == _chosenFrom || real.Count > 5000)
        {
            return;
        }

        _chosenFrom = real.Count;
        var answer = LoadMaster.Solve(_job, real, null, double.MaxValue, exactly: false, Math.Min(2, 0.15 * _meter.SecondsLeft), _meter.Nodes(500));
        _meter.Add(1e7);
        Note($"plan of {real.Count} loads: {answer.Cost / Grain.PerCurrency:0.000}");
        Take(answer);
    }

    private void Take(LoadMaster.Answer answer)
    {
        if (!answer.Plan.IsEmpty && answer.Plan.All(entry => entry.Load.Real))
        {
            Upper = Math.Min(Upper, _offer(answer.Plan, answer.Extras));
        }
    }

    /// <summary>Finds the best plan with these counts, or a bound for it, and takes the counts out; false when the time is up.</summary>
    private bool Close(int[] counts, ValueCut cut)
    {
        var bound = new CountMaster(_job, _dropped).BoundAt(counts, cut) * Grain.PerCurrency;
        var few = _job.Demand.Aggregate(1.0, (product, demand) => product * (demand + 1)) <= FewLoads;
        var gap = Math.Max((few ? 4 : 1) * FirstGap * Math.Abs(bound), 4 * _enough);
        var reached = bound;
        var most = 30_000_000L;
        while (reached < Upper - _enough && !_meter.IsOver)
        {
            gap = Math.Min(gap, Math.Max(_enough, Upper - bound));
            if (Within(counts, cut, gap, most) is not { } loads || loads.Count > MostLoadsInProgramme)
            {
                Note($"too many loads at {Text(counts)} within {gap / Grain.PerCurrency:0.000}");
                break;
            }

            var answer = !Covers(loads, counts) ? new([], [], double.PositiveInfinity, double.PositiveInfinity, true) : LoadMaster.Solve(
                _job, loads, counts, double.MaxValue, exactly: true, Math.Min(_meter.SecondsLeft, 30), _meter.Nodes(LoadNodes));
            _meter.Add(3e6 + (2e4 * loads.Count));
            Note($"{loads.Count} loads at {Text(counts)} within {gap / Grain.PerCurrency:0.000} of {bound / Grain.PerCurrency:0.000}: {answer.Cost / Grain.PerCurrency:0.000}, bound {answer.Bound / Grain.PerCurrency:0.000}");
            Take(answer with { Plan = [.. answer.Plan.Select(entry => (_job.Sources[entry.Load.Stock].WithTree(entry.Load), entry.Count))] });
            reached = Math.Max(reached, Math.Min(answer.Bound, bound + gap));
            if (!answer.Closed || answer.Bound <= bound + gap)
            {
                break;
            }

            gap *= 2;
        }

        _closed = Math.Min(_closed, reached);
        _counts.Close(counts);
        return true;
    }

    /// <summary>Whether each kind could be cut often enough, by itself.</summary>
    private bool Covers(List<Load> loads, int[] counts)
    {
        var most = new long[_job.Demand.Length];
        foreach (var group in loads.GroupBy(load => load.Stock))
        {
            var source = _job.Sources[group.Key];
            var pieces = source.IsSingle ? ExactJob.MostOf(source) : counts[group.Key];
            for (var k = 0; k < source.Kinds.Count; k++)
            {
                most[_job.FirstKind[source.ComponentIndex] + k] += (long)pieces * group.Max(load => load.Counts[k]);
            }
        }

        return most.Zip(_job.Demand).All(entry => entry.First >= entry.Second);
    }

    private List<Load>? Within(int[] counts, ValueCut cut, double gap, long most)
    {
        var loads = new List<Load>();
        foreach (var source in _job.Sources)
        {
            if (!source.IsSingle && counts[source.Number] == 0)
            {
                continue;
            }

            if (!source.CanList || source.Within(_job.ValuesOf(cut.Values, source), (long)Math.Ceiling(gap) + 1, most, _meter.Cancel) is not { } some)
            {
                return null;
            }

            loads.AddRange(some);
            _meter.Add(source.Steps * 2);
        }

        return loads;
    }

    /// <summary>What a missing piece costs in the linear programme at given counts: more than any piece of stock.</summary>
    private double MissingCost(int kind) => Serving(kind).Select(source => (3.0 * source.Price) + (10 * Grain.PerCurrency)).DefaultIfEmpty(0).Max();

    /// <summary>At free counts: more than the cheapest piece of stock for itself, so that values are never far too high.</summary>
    private double AloneCost(int kind)
    {
        var unlimited = Serving(kind).Where(source => source.Limit is null).Select(source => (1.5 * source.Price) + Grain.PerCurrency).ToList();
        return unlimited.Count > 0 ? unlimited.Min() : MissingCost(kind);
    }

    private IEnumerable<LoadSource> Serving(int kind) => _job.Sources.Where(source =>
    {
        var own = kind - _job.FirstKind[source.ComponentIndex];
        return own >= 0 && own < source.Kinds.Count && source.Kinds.Component.Fits[source.StockIndex, source.Kinds.Members[own][0]] is not null;
    });

    /// <summary>Greatest value of each kind at which no table overflows: a plate holds no more of it than by area.</summary>
    private int[] CapValues()
    {
        var cap = new int[_job.Demand.Length];
        Array.Fill(cap, Grain.Most / 2);
        foreach (var source in _job.Sources)
        {
            var component = source.Kinds.Component;
            for (var k = 0; k < source.Kinds.Count; k++)
            {
                if (component.Fits[source.StockIndex, source.Kinds.Members[k][0]] is { } fit && !source.Frame.IsBar)
                {
                    var pieces = Math.Max(1, Math.Ceiling((double)source.Frame.Usable.Area.SquareNanometres / (double)(fit.SizeX * fit.SizeY).SquareNanometres));
                    var at = _job.FirstKind[source.ComponentIndex] + k;
                    cap[at] = (int)Math.Min(cap[at], Grain.Most / 2 / pieces);
                }
            }
        }

        return cap;
    }
}
