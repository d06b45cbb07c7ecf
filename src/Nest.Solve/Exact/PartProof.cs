using System.Collections.Immutable;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>What is proven of one component by itself, whatever the purchase terms are: statements by values of its blanks, and what it costs at least
/// at given counts of its stock.</summary>
/// <remarks>
/// Costs of a part are those of its loads, the price of the stock not counted, but for pieces cut to size: these are free in number, at the
/// lowest price that they can have. So a part's cost at counts P is a bound on what any plan with these counts adds to the purchase.
/// Closing counts: all loads within a gap of the statement are listed and <see cref="LoadMaster"/> finds the best plan of them; each time that the
/// counts come up again the gap grows, until it is proven that nothing beyond it is cheaper.
/// </remarks>
internal sealed class PartProof
{
    private const long LoadNodes = 20_000;
    private const long PlanNodes = 2000;
    private const double PlanSeconds = 4;
    private const int MostLoadsInProgramme = 20_000;

    /// <summary>Table steps that take as long as to join two partial loads.</summary>
    private const double StepsPerJoin = 100;

    private readonly Dictionary<string, ValueCut> _settled = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Closing> _closed = new(StringComparer.Ordinal);
    private readonly Dictionary<string, bool> _holds = new(StringComparer.Ordinal);
    private readonly List<int[]> _tooFew = [];
    private readonly CountRoom _room;
    private readonly double _enough;
    private readonly int _threads;
    private int _given;
    private int _closings;
    private long _joins;

    /// <param name="job">The whole job; <paramref name="component"/> is the index in it.</param>
    /// <param name="enough">What a closed cost may miss, in grains.</param>
    /// <param name="between">Called when the loads known may make a better plan.</param>
    public PartProof(ExactJob job, int component, int threads, double enough, Action<string> note, Func<bool> ends, Action? between)
    {
        (_enough, _threads) = (enough, Math.Max(1, threads));
        Job = new(job.Job, [job.Components[component]], tied: false, job.MostCells);
        First = job.Sources.FirstOrDefault(source => source.ComponentIndex == component)?.Number ?? 0;
        foreach (var source in Job.Sources)
        {
            source.Price = job.Sources[First + source.Number].Price;
        }

        Values = new(Job, threads)
        {
            Note = note, Ends = ends, Between = between, SeesEdges = job.Sources.Sum(source => source.EdgeSteps) <= ValueGeneration.MostEdgeSteps,
        };
        Note = note;
        _room = new(Job);
    }

    /// <summary>The component as a job, stock at its lowest price.</summary>
    public ExactJob Job { get; }

    /// <summary>Number of the component's first source in the whole job.</summary>
    public int First { get; }

    public ValueGeneration Values { get; }

    /// <summary>Its share of the work, beside other parts.</summary>
    public double Weight => 1 + Job.Sources.Sum(source => Math.Min(source.Steps, ValueGeneration.Costly));

    /// <summary>Counts whose least cost is known, or at least a bound on it beyond the statements.</summary>
    public IReadOnlyCollection<Closing> Closed => _closed.Values;

    /// <summary>Counts, by source of the part, that can't hold the blanks: no plan has as few of each.</summary>
    public IReadOnlyList<int[]> TooFew => _tooFew;

    /// <summary>Grows with every statement.</summary>
    public int Version => Values.Cuts.Count + _closings + _tooFew.Count;

    private Action<string> Note { get; }

    /// <param name="Counts">By source of the part; single pieces are not counted.</param>
    /// <param name="Cost">No plan with these counts costs less, in grains: loads and single pieces, without the counted stock.</param>
    /// <param name="Exact">Whether that is the least cost; else the loads are too many to list.</param>
    /// <param name="Done">Whether nothing more can be said; else a wider gap raises it.</param>
    /// <param name="Gap">All loads within this gap of the statement were looked at, in grains.</param>
    /// <param name="Plan">The best plan; empty where none is cheap enough to matter.</param>
    /// <param name="Joins">What the list took.</param>
    /// <param name="Next">The gap to look at next, in grains.</param>
    /// <param name="Took">What closing took of the limit (<see cref="ExactMeter.Spent"/>).</param>
    internal sealed record Closing(int[] Counts, double Cost, bool Exact, bool Done, double Gap, ImmutableArray<(Load Load, int Count)> Plan, long Joins, double Next, double Took);

    /// <summary>The counts of a whole job's stock that are for this part.</summary>
    public int[] Own(int[] counts) => counts[First..(First + Job.Sources.Length)];

    /// <summary>A load of this part as one of the whole job.</summary>
    public Load InJob(Load load) => load with { Stock = First + load.Stock };

    /// <summary>A load of the whole job with the tree that it was listed with.</summary>
    public Load WithTree(Load load) => InJob(Job.Sources[load.Stock - First].WithTree(load with { Stock = load.Stock - First }));

    /// <summary>A load of the whole job, worked out by the stock that listed it (<see cref="LoadSource.Raised"/>).</summary>
    public Load? Raised(Load load, long most, ExactMeter meter) =>
        Job.Sources[load.Stock - First].Raised(load with { Stock = load.Stock - First }, most, meter) is { } raised ? InJob(raised) : null;

    /// <summary>Loads found since this was called last.</summary>
    public IEnumerable<Load> NewLoads()
    {
        for (; _given < Values.Loads.Count; _given++)
        {
            yield return Values.Loads[_given];
        }
    }

    public bool IsSettled(int[] own) => _settled.ContainsKey(Job.TextOf(own));

    public Closing? ClosedAt(int[] own) => _closed.GetValueOrDefault(Job.TextOf(own));

    /// <summary>Whether stock at these counts may hold the blanks at all (<see cref="CountRoom"/>).</summary>
    /// <param name="own">Single pieces counted too.</param>
    public bool MayHold(int[] own, ExactMeter meter)
    {
        var key = string.Join(' ', own);
        if (!_holds.TryGetValue(key, out var holds))
        {
            holds = _holds[key] = _room.MayHold(own, meter);
            if (!holds)
            {
                _tooFew.Add(own);
                Note($"no room at {Job.TextOf(own)}");
            }
        }

        return holds;
    }

    /// <summary>Looks for values at these counts; false when the time is up.</summary>
    public bool Settle(int[] own, ExactMeter meter)
    {
        if (Values.Generate(own, meter) is not { } cut)
        {
            return false;
        }

        _settled[Job.TextOf(own)] = cut;
        return true;
    }

    /// <summary>The best bound that a statement gives at these counts, the price of the counted stock not in it.</summary>
    public double BoundAt(int[] own) => BoundOf(StatementAt(own), own);

    /// <summary>The statement that says most about these counts.</summary>
    /// <remarks>The lists of loads need a statement whose worths of stock are no less than the tables find them: where some see raw edges and some
    /// do not, that is only sure of the one that was made for these counts. A scaled statement has no values that a table could be filled with.</remarks>
    private ValueCut StatementAt(int[] own) =>
        Values.SeesEdges ? Values.Cuts.Where(cut => cut.Bare is null).MaxBy(cut => BoundOf(cut, own))! : _settled[Job.TextOf(own)];

    private double BoundOf(ValueCut cut, int[] own)
    {
        double bound = cut.Constant;
        foreach (var source in Job.Sources)
        {
            // A single piece takes off what its values exceed its price by, as often as it may be used.
            bound -= source.IsSingle
                ? ExactJob.MostOf(source) * Math.Max(0, cut.Per(source.Number) - source.Price)
                : own[source.Number] * cut.Per(source.Number);
        }

        return bound;
    }

    /// <summary>The least that a plan with these counts costs by all statements and closed counts, the price of the stock not in it, in grains.</summary>
    /// <param name="own">Single pieces counted too.</param>
    public double CostAt(int[] own)
    {
        var most = double.NegativeInfinity;
        foreach (var cut in Values.Cuts)
        {
            var cost = cut.Constant;
            for (var s = 0; s < own.Length; s++)
            {
                cost -= own[s] * cut.Per(s);
            }

            most = Math.Max(most, cost);
        }

        return ClosedAt(own) is { } closing
            ? Math.Max(most, closing.Cost - Job.Sources.Where(source => source.IsSingle).Sum(source => (double)source.Price * own[source.Number]))
            : most;
    }

    /// <summary>The loads within a gap of the statement at these counts; null: they cannot be listed.</summary>
    /// <param name="mostJoins">Pairs of partial loads that may be looked at.</param>
    public List<Load>? Within(int[] own, double gap, ExactMeter meter, double mostJoins = GapSteps.MostJoins)
    {
        var cut = StatementAt(own);
        Values.LookAtEdges(own);
        var loads = new List<Load>();
        _joins = 0;
        foreach (var source in Job.Sources.Where(source => source.IsSingle || own[source.Number] > 0))
        {
            if (!source.CanList)
            {
                return null;
            }

            var limits = new ListLimits((long)Math.Min(mostJoins - _joins, meter.StepsLeft / StepsPerJoin), _threads, () => meter.IsOver);
            var some = source.Within(Job.ValuesOf(cut.Values, source), (long)Math.Ceiling(gap) + 1, limits, out var joins);
            meter.Add((source.Steps * 2) + (StepsPerJoin * joins));
            _joins += joins;
            if (some is null)
            {
                return null;
            }

            loads.AddRange(some);
        }

        return loads.Count > MostLoadsInProgramme ? null : loads;
    }

    /// <summary>Looks for the least cost at these counts within the next wider gap.</summary>
    /// <param name="room">By how much the part may become dearer before no plan with these counts is of use, in grains.</param>
    public void Close(int[] own, double room, ExactMeter meter)
    {
        var started = meter.Spent;
        var bound = BoundAt(own);
        var price = Job.Sources.Where(source => !source.IsSingle).Sum(source => (double)source.Price * own[source.Number]);
        var before = ClosedAt(own);
        var (reached, plan) = before is null ? (bound, []) : (before.Cost, before.Plan);
        var most = Math.Max(_enough, reached - bound + room);
        var gap = GapSteps.Upto(before is null ? GapSteps.First(Job.HasFewLoads, bound + price, _enough) : GapSteps.Affordable(before, meter.Remaining), most);
        var mostJoins = GapSteps.MostJoinsAfter(before);
        var list = Within(own, gap, meter, mostJoins);
        for (var tries = 0; list is null && before is not null && tries < GapSteps.MostTries && !meter.IsOver; tries++)
        {
            gap = GapSteps.Smaller(before, gap);
            list = Within(own, gap, meter, mostJoins);
        }

        if (list is not { } loads)
        {
            Note($"too many loads at {Job.TextOf(own)} within {gap / Grain.PerCurrency:0.000}");
            if (meter.IsOver)
            {
                // With more time there may be a list.
                return;
            }

            _closings++;
            _closed[Job.TextOf(own)] = new(own, reached, Exact: false, Done: true, before?.Gap ?? 0, plan, 0, 0, 0);
            return;
        }

        var answer = Cheapest(loads, own, most, bound + gap + price, meter.Limits(30, LoadNodes), meter);
        if (answer.Plan.IsEmpty && answer.Closed && most > gap && plan.IsEmpty)
        {
            // Nothing as cheap as the gap: a plan that is dearer, but still of use, is looked for shortly.
            answer = answer with { Plan = Cheapest(loads, own, most, double.PositiveInfinity, meter.Limits(PlanSeconds, PlanNodes), meter).Plan };
        }

        foreach (var layout in Job.Sources.SelectMany(source => source.NewLayouts()))
        {
            Values.Keep(layout);
        }

        meter.Add(3e6 + (2e4 * loads.Count));
        Note($"{loads.Count} loads at {Job.TextOf(own)} within {gap / Grain.PerCurrency:0.000} of {(bound + price) / Grain.PerCurrency:0.000}: {answer.Cost / Grain.PerCurrency:0.000}, bound {answer.Bound / Grain.PerCurrency:0.000}");
        reached = Math.Max(reached, Math.Min(answer.Bound - price, bound + gap));
        if (!answer.Plan.IsEmpty)
        {
            // The trees are those of this list: the next one may be too long to be made.
            plan = [.. answer.Plan.Select(entry => (WithTree(InJob(entry.Load)), entry.Count))];
        }

        var exact = answer.Closed && (answer.Bound - price <= bound + gap || gap >= most);
        _closings++;
        _closed[Job.TextOf(own)] = new(own, reached, exact, Done: exact || !answer.Closed, gap, plan, _joins, GapSteps.After(before, gap, _joins), meter.Spent - started);
    }

    private LoadMaster.Answer Cheapest(List<Load> loads, int[] own, double most, double below, ProgramLimits limits, ExactMeter meter) => !Covers(loads, own)
        ? new([], [], double.PositiveInfinity, double.PositiveInfinity, true)
        : StrictLoads.Solve(
            Job.Sources, loads, load => Job.Sources[load.Stock].WithTree(load),
            some => LoadSearch.Solve(Job, some, own, StatementAt(own), most) ?? LoadMaster.Solve(Job, some, own, exactly: true, limits, below), settings: null, meter);

    /// <summary>Whether each kind could be cut often enough, by itself.</summary>
    private bool Covers(List<Load> loads, int[] own)
    {
        var most = new long[Job.Demand.Length];
        foreach (var group in loads.GroupBy(load => load.Stock))
        {
            var source = Job.Sources[group.Key];
            var pieces = source.IsSingle ? ExactJob.MostOf(source) : own[group.Key];
            for (var k = 0; k < most.Length; k++)
            {
                most[k] += (long)pieces * group.Max(load => load.Counts[k]);
            }
        }

        return most.Zip(Job.Demand).All(entry => entry.First >= entry.Second);
    }
}
