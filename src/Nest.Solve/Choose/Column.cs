using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A layout as the choosing model sees it: a stock, pieces of each blank, and what it costs.</summary>
/// <param name="Stock">Index in the component.</param>
/// <param name="Counts">Pieces of each of the component's blanks.</param>
/// <param name="Cost">Exact cost by the cost model, in money units.</param>
/// <param name="LowerCost">The linear cost that bounds are made with; never above <paramref name="Cost"/>.</param>
/// <param name="Layout">The layout itself, Count 1, Number 0.</param>
internal sealed record Column(int Stock, ImmutableArray<int> Counts, long Cost, long LowerCost, Layout Layout)
{
    private long? setUp;

    /// <summary>What setting fence and stop for it costs, once however often it is cut, in money units.</summary>
    public long SetUp(Component component)
    {
        if (setUp is { } known)
        {
            return known;
        }

        var frame = component.Stocks[Stock];
        var one = SettingCosts.One(frame.Saw);
        var cost = one == Money.Zero ? 0 : (one * LayoutSettings.Of(frame.Stock, frame.Saw, Layout, component.Job.Unit).Count).Units;
        setUp = cost;
        return cost;
    }

    /// <summary>Same stock and same pieces: only the cheaper of two such columns is worth having.</summary>
    public string Key => $"{Stock}:{string.Join(',', Counts)}";

    /// <summary>Σ values · pieces, in money units × <see cref="IStockPricer.Scale"/> like the values; steers searches only.</summary>
    public double Worth(ReadOnlySpan<long> values)
    {
        double worth = 0;
        for (var i = 0; i < values.Length; i++)
        {
            worth += (double)Counts[i] * values[i];
        }

        return worth;
    }

    /// <summary>The same layout at the prices that a component's stocks have.</summary>
    public Column At(Component component)
    {
        var cost = Layout.Cost with { Metal = component.Stocks[Stock].Stock.PiecePrice };
        return this with { Cost = cost.Total.Units, Layout = Layout with { Cost = cost } };
    }
}
