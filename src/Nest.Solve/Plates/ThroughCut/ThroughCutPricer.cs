using System.Collections.Immutable;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Pricing of through-cut layouts on one kind of plate, for a master problem over bars and plates.</summary>
/// <remarks>
/// Problem: max Σ (value_i − pieceCost_i)·a_i over layouts of the plate, a_i at most the item's copies. Upper bound: unbounded
/// guillotine knapsack (<see cref="GuillotineTable"/>), valid for all ways of through-cutting. Layouts: the table's own pattern where it
/// obeys the saw, and <see cref="SheetFiller"/>. Not thread safe; the same calls give the same answers.
/// </remarks>
public sealed class ThroughCutPricer
{
    private const double QuickSteps = 4e6;
    private const double ThoroughSteps = 6e8;

    private readonly ThroughModel _model;
    private readonly SheetFiller _filler;
    private readonly int[] _copies;
    private readonly IValueTable _quick;
    private readonly IValueTable _pattern;
    private IValueTable? _fine;

    /// <summary>Prepares pricing.</summary>
    /// <param name="items">Kinds of piece; demand is the most copies per layout.</param>
    /// <param name="pieceCosts">Cost of one piece from this plate, <see cref="PlateProblem.Forbidden"/> where it must not; null: zero.</param>
    public ThroughCutPricer(
        PlateStock stock, PlateCutting cutting, long kerf, ImmutableArray<PlateItem> items, long[]? pieceCosts = null, int seed = 1)
    {
        long[,]? costs = null;
        if (pieceCosts is not null)
        {
            costs = new long[1, items.Length];
            for (var i = 0; i < items.Length; i++)
            {
                costs[0, i] = pieceCosts[i];
            }
        }

        _model = new ThroughModel(new PlateProblem { Stocks = [stock], Items = items, Cutting = cutting, Kerf = kerf, PieceCost = costs });
        _copies = [.. items.Select(item => item.Demand)];
        _filler = new SheetFiller(_model, 0, seed);
        _quick = ValueTables.Within(_model, 0, QuickSteps, false);
        _pattern = _quick.Exact ? _quick : ValueTables.Within(_model, 0, QuickSteps, true);
    }

    /// <summary>Whether any layout can hold the item.</summary>
    public bool Fits(int item) => _model.Fits[0, item];

    /// <summary>Layouts of high value, best first, each with Count 1, and an upper bound on the value of every layout.</summary>
    /// <param name="values">Value of one piece of each item; may be negative or below the piece's cost (it is then not used).</param>
    /// <param name="most">Most layouts to return.</param>
    /// <param name="steps">Search steps, roughly ten microseconds each; repeatable.</param>
    /// <param name="thorough">Spend up to half a second on a finer upper bound.</param>
    public Pricing<PlateLayout> Price(ReadOnlySpan<long> values, int most, int steps = 2000, bool thorough = false)
    {
        var net = new long[values.Length];
        for (var i = 0; i < net.Length; i++)
        {
            var cost = _model.CostOf(0, i);
            net[i] = cost == PlateProblem.Forbidden ? 0 : (long)Int128.Clamp((Int128)values[i] - cost, 0, long.MaxValue / 4);
        }

        var found = new Dictionary<ulong, (CutSheet Sheet, long Value)>();
        var bound = Bound(net, thorough, found);
        var real = Array.ConvertAll(net, v => (double)v);
        _filler.Search(real, _copies, steps, (sheet, _) => Keep(sheet, net, found));
        var best = found.Values
            .OrderByDescending(f => f.Value)
            .ThenBy(f => f.Sheet.Key)
            .Take(most)
            .Select(f => (LayoutBuilder.Build(_model, f.Sheet, 1), f.Value))
            .ToImmutableArray();
        return new Pricing<PlateLayout>(best, bound);
    }

    private long Bound(long[] net, bool thorough, Dictionary<ulong, (CutSheet, long)> found)
    {
        var table = _quick;
        if (thorough && !_quick.Exact)
        {
            table = _fine ??= ValueTables.Within(_model, 0, ThoroughSteps, false);
        }

        var bound = table.Fill(net);
        if (!ReferenceEquals(table, _pattern))
        {
            _pattern.Fill(net);
        }

        var sheet = _model.Blank[0][0].Clone();
        if (_model.Problem.Stocks[0].KeepOuts.IsDefaultOrEmpty && sheet.Build(_model, _pattern.Pattern()) && WithinCopies(sheet))
        {
            Keep(sheet, net, found);
        }

        return bound;
    }

    private bool WithinCopies(CutSheet sheet)
    {
        var counts = new int[_copies.Length];
        sheet.AddCounts(counts);
        return !counts.Where((count, i) => count > _copies[i]).Any();
    }

    private static void Keep(CutSheet sheet, long[] net, Dictionary<ulong, (CutSheet Sheet, long Value)> found)
    {
        if (found.ContainsKey(sheet.Key))
        {
            return;
        }

        long value = 0;
        foreach (ref readonly var node in sheet.Nodes)
        {
            value = node.Item >= 0 ? checked(value + net[node.Item]) : value;
        }

        if (value > 0)
        {
            found.Add(sheet.Key, (sheet.Clone(), value));
        }
    }
}
