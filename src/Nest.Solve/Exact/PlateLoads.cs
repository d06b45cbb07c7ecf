using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Quantities;
using Nest.Solve.Choose;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>Loads of a plate under through-cuts, by <see cref="WorthTable"/> and <see cref="LoadLabels"/>.</summary>
internal sealed class PlateLoads : LoadSource
{
    private readonly PlateShape _shape;
    private readonly CutRules _rules;
    private readonly bool _real;
    private WorthTable? _table;
    private int _worth;
    private LoadLabels? _labels;
    private LoadTable? _all;

    private PlateLoads(BlankKinds kinds, int component, int stock, int number, PlateShape shape, bool real)
        : base(kinds, component, stock, number)
    {
        _shape = shape;
        _rules = new(shape);
        _real = real;
    }

    public override bool CanList => true;

    public override double Steps => _shape.Steps;

    /// <summary>The plate as a source; null where its table would have more cells than <paramref name="mostCells"/>, or where a cutter cuts it.</summary>
    public static PlateLoads? Of(BlankKinds kinds, int component, int stock, int number, double mostCells)
    {
        var frame = kinds.Component.Stocks[stock];
        if (frame.IsBar || frame.IsFree || ShapeOf(kinds, stock, mostCells) is not { } shape)
        {
            return null;
        }

        // Stages and damage are not seen by the table.
        var real = frame.Saw.Stages is null && frame.Stock.KeepOuts.IsEmpty;
        return new(kinds, component, stock, number, shape, real);
    }

    public override long EmptyCost => _shape.Prices.Fixed - _shape.Worth(_shape.SizeX, _shape.SizeY);

    public override long Best(ReadOnlySpan<int> values, out Load? load)
    {
        Run(values);
        var tree = WorthTree.Best(_table!, _worth);
        load = tree is null ? null : LoadOf(tree, values);
        return _worth - _shape.Prices.Fixed;
    }

    public override List<Load>? Within(ReadOnlySpan<int> values, long gap, long most, CancellationToken cancel)
    {
        Run(values);
        _labels = LoadLabels.Of(_table!, _worth, Kinds.Demand.AsSpan(), gap, most, cancel);
        if (_labels is null)
        {
            return null;
        }

        var loads = new List<Load>();
        foreach (var (counts, worth) in _labels.Loads())
        {
            loads.Add(new(Number, counts, CostOf(counts.AsSpan(), worth, values), null, _real));
        }

        return loads;
    }

    public override List<Load>? All(double mostSteps)
    {
        if (LoadTable.StepsOf(_shape) * LoadTable.Factor(_shape) > mostSteps)
        {
            return null;
        }

        _all ??= new(_rules);
        return [.. _all.Loads().Select(load => new Load(Number, load.Counts, _shape.Prices.Fixed - load.Worth, null, _real))];
    }

    public override Load WithTree(Load load) =>
        load.Tree is not null ? load : load with { Tree = _all?.TreeOf(load.Counts.AsSpan()) ?? _labels!.TreeOf(load.Counts.AsSpan()) };

    private void Run(ReadOnlySpan<int> values)
    {
        _table ??= new(_rules);
        if (!_values.AsSpan().SequenceEqual(values))
        {
            _values = values.ToArray();
            _worth = _table.Run(values);
            _labels = null;
        }
    }

    private int[] _values = [];

    private Load LoadOf(PlateNode tree, ReadOnlySpan<int> values)
    {
        var counts = new int[Kinds.Count];
        Count(tree);
        return new(Number, [.. counts], CostOf(counts, _worth, values), tree, _real);

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

    private static PlateShape? ShapeOf(BlankKinds kinds, int s, double mostCells)
    {
        var component = kinds.Component;
        var frame = component.Stocks[s];
        long[] lengths =
        [
            component.Units(frame.Usable.SizeX), component.Units(frame.Usable.SizeY), component.Units(frame.Saw.Kerf),
            component.Units(frame.Saw.ShortestHeld), frame.Saw.LargestCut is { } longest ? component.Units(longest) : 0,
            frame.Rule is { } rule ? component.Units(rule.KeepLength) : 0, frame.Rule is { } same ? component.Units(same.KeepWidth) : 0,
            .. kinds.Members.SelectMany(members => new[] { component.SizeX(s, members[0]), component.SizeY(s, members[0]) }),
        ];
        var unit = lengths.Aggregate(0L, Divisor);
        if (lengths[0] <= 0 || lengths[1] <= 0 || lengths[0] / (double)unit * (lengths[1] / (double)unit) > mostCells)
        {
            return null;
        }

        return new((int)(lengths[0] / unit), (int)(lengths[1] / unit), unit)
        {
            Kerf = (int)(lengths[2] / unit),
            Held = (int)Math.Min(int.MaxValue, lengths[3] / unit),
            Longest = frame.Saw.LargestCut is null ? int.MaxValue : (int)Math.Min(int.MaxValue, lengths[4] / unit),
            FirstCut = frame.Saw.FirstCut,
            KeepLong = frame.Rule is null ? int.MaxValue : (int)Math.Min(int.MaxValue, lengths[5] / unit),
            KeepShort = frame.Rule is null ? int.MaxValue : (int)Math.Min(int.MaxValue, lengths[6] / unit),
            Prices = PricesOf(frame, component.Unit * unit),
            Pieces = [.. kinds.Members.Select((members, k) => component.Fits[s, members[0]] is { } fit
                ? new PlatePiece(
                    (int)(component.SizeX(s, members[0]) / unit), (int)(component.SizeY(s, members[0]) / unit), fit.MayTurn, kinds.Demand[k],
                    (int)Math.Min(Grain.Most, fit.ExtraCost.Units * Grain.PerUnit))
                : default)],
        };
    }

    private static PlatePrices PricesOf(StockFrame frame, long unit)
    {
        var (perNanometre, perCut) = frame.SawRate;
        decimal trims = 0;
        Trim(frame.Trims.Left, frame.Sheet.SizeY);
        Trim(frame.Trims.Right, frame.Sheet.SizeY);
        Trim(frame.Trims.Bottom, frame.Usable.SizeX);
        Trim(frame.Trims.Top, frame.Usable.SizeX);
        var sheet = (double)frame.Sheet.SizeX.Nanometres / unit * (frame.Sheet.SizeY.Nanometres / (double)unit);
        return new(
            (long)decimal.Floor((trims - 0.5m - frame.TrimCredit()) * Grain.PerUnit),
            (double)perCut * Grain.PerUnit, (double)(perNanometre * unit) * Grain.PerUnit,
            Rate(frame.Worth.Keep), Rate(frame.Worth.Scrap));

        void Trim(Length trim, Length across) => trims += trim > Length.Zero ? (perNanometre * across.Nanometres) + perCut : 0;

        double Rate(Money worth) => worth.Units * (double)Grain.PerUnit / sheet * (1 + 1e-12);
    }

    private static long Divisor(long a, long b)
    {
        while (b != 0)
        {
            (a, b) = (b, a % b);
        }

        return Math.Abs(a);
    }
}
