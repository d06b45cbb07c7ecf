using System.Collections.Immutable;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>Loads of a plate under through-cuts, by <see cref="WorthTable"/> and <see cref="LoadLabels"/>.</summary>
internal sealed class PlateLoads : LoadSource
{
    /// <summary>Steps that the table of every load may take beside what a load costs with its settings.</summary>
    private const double MostSettledSteps = 3e9;

    /// <summary>Of the time left, for that table.</summary>
    private const double TableShare = 0.5;

    private readonly PlateShape _shape;

    /// <summary>The plate as the tables of values see it; the same where these are not too large.</summary>
    private readonly PlateShape _listed;
    private readonly bool _real;
    private CutRules? _rules;
    private readonly CoarseLists? _coarse;
    private WorthTable? _table;
    private int _worth;
    private LoadLabels? _labels;
    private LoadTable? _all;
    private LoadTable? _every;
    private BareLoads? _bare;

    /// <summary>What values say where even in coarser units there is no table.</summary>
    private readonly RelaxedLoads? _relaxed;

    private PlateLoads(BlankKinds kinds, int component, int stock, int number, PlateShape shape, PlateShape listed, bool real, RelaxedLoads? relaxed)
        : base(kinds, component, stock, number)
    {
        (_shape, _listed, _real, _relaxed) = (shape, listed, real, relaxed);
        _coarse = listed.Fine is null ? null : new(listed, Made);
    }

    /// <summary>The plate in its own units.</summary>
    public PlateShape Shape => _shape;

    public override bool CanList => _relaxed is null;

    public override bool CanLookAtOne => true;

    public override double Steps => _relaxed?.Steps ?? _listed.Steps;

    public override double EdgeSteps => _relaxed?.Steps ?? (_listed.Steps * _listed.Raw.Tables);

    /// <summary>The plate as a source; null where a cutter cuts it, or where its lengths are in so small units that not even its sides can be listed.</summary>
    /// <param name="mostCells">Where its table would have more cells it is made in coarser units (<see cref="CoarsePlate"/>); where that can't be, or amounts are too large for it, loads are looked at one by one only
    /// (<see cref="BareLoads"/>).</param>
    public static PlateLoads? Of(BlankKinds kinds, int component, int stock, int number, double mostCells)
    {
        var frame = kinds.Component.Stocks[stock];
        if (frame.IsBar || frame.IsFree || PlateGrid.ShapeOf(kinds, stock) is not { } shape)
        {
            return null;
        }

        // Stages and damage are not seen by the table.
        var real = frame.Saw.Stages is null && frame.Stock.KeepOuts.IsEmpty;
        var listed = shape.HasTableMoney ? PlateGrid.ListedOf(shape, mostCells) : null;
        return new(kinds, component, stock, number, shape, listed ?? shape, real, listed is null ? new(kinds, component, stock, number) : null);
    }

    /// <inheritdoc cref="CutLimit.Of"/>
    public long MostCuts(double cost, ReadOnlySpan<int> counts) => CutLimit.Of(_shape, Frame, cost, counts);

    public override long EmptyCost => _relaxed?.EmptyCost ?? _listed.Prices.Fixed - _listed.Worth(_listed.SizeX, _listed.SizeY);

    public override long Best(ReadOnlySpan<int> values, out Load? load)
    {
        if (_relaxed is not null)
        {
            return _relaxed.Best(values, out load);
        }

        Run(values);
        var tree = WorthTree.Best(_table!);
        load = tree is null ? null : LoadOf(tree, values);
        return _worth - _shape.Prices.Fixed;
    }

    public override long? Quick(ReadOnlySpan<int> values) => _relaxed is null ? QuickWorth.Of(_shape, values) - _shape.Prices.Fixed : null;

    public override List<Load>? Within(ReadOnlySpan<int> values, long gap, ListLimits limits, out long joins)
    {
        if (_relaxed is not null)
        {
            joins = 0;
            return null;
        }

        Run(values);
        _labels = LoadLabels.Of(_table!, _worth, Kinds.Demand.AsSpan(), gap, limits, out joins);
        if (_labels is null)
        {
            return null;
        }

        _coarse?.Begin(_labels, _values);
        var loads = new List<Load>();
        foreach (var (counts, worth) in _labels.Loads())
        {
            var load = new Load(Number, counts, CostOf(counts.AsSpan(), worth, values), null, _real);
            loads.Add(_coarse?.Listed(load) ?? load);
        }

        return loads;
    }

    public override List<Load>? All(double mostSteps)
    {
        if (_all is null)
        {
            // All sides of a layout lie on the grid: with cuts at every unit of it any raw edges are counted as they are.
            var whole = _shape.Unseen.Mask == 0 ? _shape : _shape with { Raw = _shape.Unseen, Unseen = RawEdges.None };
            if (LoadTable.StepsOf(whole) <= mostSteps)
            {
                _all = new(ReferenceEquals(whole, _shape) ? new(_shape) : new(whole, everywhere: true));
            }
            else if (LoadTable.StepsOf(_shape) <= mostSteps)
            {
                _all = new(new CutRules(_shape));
            }
            else
            {
                return null;
            }
        }

        return [.. _all.Loads().Select(load => new Load(Number, load.Counts, _shape.Prices.Fixed - load.Worth, null, _real))];
    }

    public override Load WithTree(Load load)
    {
        if (load.IsBare)
        {
            return load.IsCoarse && _labels is not null ? _coarse!.WithTree(load) : load;
        }

        var whole = load.Tree is not null
            ? load
            : load with { Tree = _all?.TreeOf(load.Counts.AsSpan()) ?? _labels!.TreeOf(load.Counts.AsSpan()) };
        return Obeying(whole);
    }

    /// <remarks>Children that changed places because of damage may leave other raw edges than the table counted.</remarks>
    public override bool IsTrue(Load load) => load.Real && (_shape.Raw.Mask == 0 || Frame.Stock.KeepOuts.IsEmpty);

    public override (bool IsKnown, Load? Load) Strict(Load load)
    {
        if (_strict.TryGetValue(load.Key, out var known))
        {
            return known;
        }

        // Damage that is not on the grid of the tables needs a finer one.
        var damage = GroupSolver.PlateStockOf(Kinds.Component, StockIndex, null).KeepOuts;
        if (damage.Any(spot => (spot.X % _shape.Scale) + (spot.Y % _shape.Scale) + (spot.SizeX % _shape.Scale) + (spot.SizeY % _shape.Scale) != 0))
        {
            return _strict[load.Key] = (false, null);
        }

        // That the usual positions are enough beside raw edges is shown for rows in any order (RawEdges), and damage fixes their order: without the
        // edges what is found is still no dearer than the truth, and the list has counted them without the damage.
        var only = Only(load) with { Raw = damage.IsEmpty ? _shape.Raw : RawEdges.None };
        var scaled = damage.Select(spot => new PlateRect(spot.X / _shape.Scale, spot.Y / _shape.Scale, spot.SizeX / _shape.Scale, spot.SizeY / _shape.Scale));
        var answer = StrictLayout.Of(only, [.. scaled], Frame.Saw.Stages, Frame.Saw.TrimmingCut);
        return _strict[load.Key] = answer is not var (worth, tree) ? (false, null)
            : (true, tree is null ? null : new(Number, load.Counts, _shape.Prices.Fixed - worth, tree, true));
    }

    public override IEnumerable<Load> NewLayouts() => _coarse?.NewLayouts() ?? [];

    public override long? LeastOf(ReadOnlySpan<int> counts, ExactMeter meter) => Bare.LeastOf(counts, meter);

    public override Load? Raised(Load load, long most, ExactMeter meter) =>
        !load.IsCoarse ? Bare.Raised(load, most, meter) : _labels is null ? load : _coarse!.Raised(load, Only(load), most, meter);

    /// <summary>What a load costs at least together with its settings (<see cref="SettledLoad"/>).</summary>
    /// <param name="setting">Price of a setting, in grains.</param>
    /// <param name="known">Cost of the cheapest known layout, settings included, in grains.</param>
    /// <param name="cost">The same of a load with a layout.</param>
    /// <param name="ends">Positions at which another layout on the saw begins.</param>
    /// <returns>In grains; where the stop is left at each of these positions; a cheaper layout. Null: there is nothing to say.</returns>
    public (double Cost, ImmutableArray<double> Ending, Load? Layout)? Settled(Load load, int setting, double known, Func<Load, double> cost, IEnumerable<StopPosition> ends, ExactMeter meter)
    {
        var raw = _shape.Raw;
        if (_shape.Money > PlateShape.MoneyLimit || _shape.Unseen.Mask != 0 || raw.Right != Math.Floor(raw.Right) || raw.Top != Math.Floor(raw.Top))
        {
            return null;
        }

        // Raw edges only make what touches them cost more, so a table without them will do.
        var plain = _shape with { Raw = RawEdges.None };
        if (_every is null && LoadTable.StepsOf(plain) is <= MostSettledSteps and var steps && steps < meter.SecondsLeft * ExactMeter.StepsPerSecond * TableShare)
        {
            meter.Add(steps);
            _every = new(new(plain), everyRow: true);
        }

        var (unit, best, least) = ((double)_shape.Scale * Kinds.Component.Unit, (Load?)null, known);
        var trims = (Frame.Trims.Left > Length.Zero ? 1 : 0) + (Frame.Trims.Bottom > Length.Zero ? 1 : 0);
        var search = new SettledLoad(Only(load), load, _every, setting, trims, some => MostCuts(some, load.Counts.AsSpan()), [.. ends.Select(end => (end.Direction == CutDirection.Crosscut, end.Measure.Nanometres / unit))], meter);
        search.AtSizes(least, Take);
        var bound = search.Least(least, Take);
        return (bound.Cost, bound.Ending, best);

        double Take(PlateNode tree)
        {
            if (Obeying(load with { Tree = tree, Real = _real, IsBare = false }) is { Real: true } other && cost(other) is var some && some < least)
            {
                (best, least) = (other, some);
            }

            return least;
        }
    }

    /// <summary>The plate with no other pieces than those of a load.</summary>
    private PlateShape Only(Load load) =>
        _shape with { Pieces = [.. _shape.Pieces.Select((piece, k) => load.Counts[k] > 0 ? piece with { Demand = load.Counts[k] } : default)] };

    private readonly Dictionary<string, (bool, Load?)> _strict = new(StringComparer.Ordinal);

    /// <summary>With a tree that obeys stages and damage it is real.</summary>
    private Load Obeying(Load load) => !load.Real && LayoutRules.Obeyed(Kinds.Component, StockIndex, load.Tree!) is { } tree
        ? load with { Tree = tree, Real = true }
        : load;

    private void Run(ReadOnlySpan<int> values)
    {
        if (_table?.SeesEdges != SeesEdges)
        {
            (_table, _values) = (new(Rules, SeesEdges), []);
        }

        if (!_values.AsSpan().SequenceEqual(values))
        {
            _values = values.ToArray();
            _worth = _table!.Run(values);
            _labels = null;
        }
    }

    private int[] _values = [];

    private CutRules Rules => _rules ??= new(_listed);

    private BareLoads Bare => _bare ??= new(_shape, Made);

    private Load Made(Load load) => Obeying(load with { Real = _real });

    private Load LoadOf(PlateNode tree, ReadOnlySpan<int> values)
    {
        var counts = new int[Kinds.Count];
        Count(tree);
        if (_coarse is not null)
        {
            return _coarse.WithTree(new(Number, [.. counts], CostOf(counts, _worth, values), null, false), tree);
        }

        return Obeying(new(Number, [.. counts], CostOf(counts, _worth, values) + (_table!.SeesEdges ? 0 : _shape.Raw.CostOf(tree, Rules)), tree, _real));

        void Count(PlateNode node)
        {
            if (node.Kind == PlateNodeKind.Piece)
            {
                counts[node.Item]++;
            }

            foreach (var child in node.Children)
            {
                Count(child);
            }
        }
    }

    /// <summary>Worth = Σ value · count − (cost − fixed).</summary>
    private long CostOf(ReadOnlySpan<int> counts, long worth, ReadOnlySpan<int> values)
    {
        var cost = _shape.Prices.Fixed - worth;
        for (var k = 0; k < counts.Length; k++)
        {
            cost += (long)counts[k] * values[k];
        }

        return cost;
    }
}
