using System.Collections.Immutable;

namespace Nest.Solve.Bars;

/// <summary>Exact pricing of one stock for a master that mixes bars with other forms.</summary>
/// <remarks>
/// Units: values, and the answer's values and bound, are in cost units × <c>costScale</c>; a dual π of item i is given as
/// ⌊π·costScale⌋. Then π' = values / costScale ≤ π is itself a dual, and from it
/// reduced cost of a layout = Cost − value / costScale, exactly. The upper bound covers every layout of the stock and the empty bar
/// (whose value is its leftover's); it is met by the first layout when <see cref="LastExact"/> and a layout beats the empty bar.
/// Rounding: none inside; all sums are whole numbers. Not safe for use from two threads at once.
/// Values must be at least 0 and values · (largest count) below 2^61.
/// </remarks>
public sealed class BarPricer
{
    private readonly BarModel? model;
    private readonly BarPricing? pricing;
    private readonly int[] items;
    private readonly int itemCount;
    private readonly BarStock stock;
    private readonly WorkMeter meter;

    /// <summary>Prepares a stock.</summary>
    /// <param name="stock">The bar; its limit does not matter here.</param>
    /// <param name="kerf">Width of one cut.</param>
    /// <param name="lengths">Length of each item on this stock; 0: not on this stock.</param>
    /// <param name="mostCopies">Most copies of each item in one layout.</param>
    /// <param name="pieceCosts">Extra cost of one piece of each item on this stock, or default: none.</param>
    public BarPricer(BarStock stock, long kerf, ImmutableArray<long> lengths, ImmutableArray<int> mostCopies, ImmutableArray<long> pieceCosts = default)
    {
        ArgumentNullException.ThrowIfNull(stock);
        if (lengths.Length != mostCopies.Length || (!pieceCosts.IsDefault && pieceCosts.Length != lengths.Length))
        {
            throw new ArgumentException("Lengths, copies and extra costs must have one entry per item.", nameof(lengths));
        }

        this.stock = stock;
        itemCount = lengths.Length;
        items = [.. Enumerable.Range(0, itemCount).Where(i => lengths[i] > 0 && mostCopies[i] > 0
            && (pieceCosts.IsDefault || pieceCosts[i] != BarProblem.Forbidden))];
        meter = new WorkMeter(new SolveLimits { Seconds = double.PositiveInfinity }, CancellationToken.None);
        if (items.Length == 0)
        {
            return;
        }

        var extra = new long[1, items.Length];
        for (int k = 0; k < items.Length; k++)
        {
            extra[0, k] = pieceCosts.IsDefault ? 0 : pieceCosts[items[k]];
        }

        var problem = new BarProblem
        {
            Kerf = kerf,

            // Its price is not in what is maximised; a leftover may be carried below what it brings as scrap.
            Stocks = [stock with { Limit = null, Cost = Math.Max(stock.Cost, stock.Leftover.Of(stock.Length)) }],
            Items = [.. items.Select(i => new BarItem(lengths[i], mostCopies[i]))],
            PieceCost = pieceCosts.IsDefault ? null : extra,
        };
        model = new BarModel(problem, merge: false);
        pricing = new BarPricing(model);
    }

    /// <summary>Whether the last bound was met exactly (false only where the capacity is too large for a table and the search hit its
    /// limit; the bound stays valid).</summary>
    public bool LastExact { get; private set; } = true;

    /// <summary>Maximises Σ values_i·a_i − costScale·Σ pieceCost_i·a_i + costScale·LeftoverValue over the layouts.</summary>
    /// <param name="values">Whole value of one piece of each item, in cost units × costScale.</param>
    /// <param name="costScale">The caller's factor, at least 1.</param>
    /// <param name="most">Most layouts wanted.</param>
    /// <returns>Different layouts (counts by item), best first, and the bound.</returns>
    public Pricing<ImmutableArray<int>> Price(ReadOnlySpan<long> values, long costScale, int most)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(costScale, 1);
        ArgumentOutOfRangeException.ThrowIfNotEqual(values.Length, itemCount);
        if (model is null || pricing is null)
        {
            return new Pricing<ImmutableArray<int>>([], costScale * stock.Leftover.Of(stock.Length));
        }

        var dual = new long[model.Types];
        for (int t = 0; t < dual.Length; t++)
        {
            dual[t] = values[items[model.Members[t][0]]];
        }

        var found = new List<(BarPattern Pattern, long Value)>();
        pricing.Price(dual, costScale, null, most, static _ => true, found, meter);
        LastExact = pricing.Exact;
        var layouts = ImmutableArray.CreateBuilder<(ImmutableArray<int>, long)>();
        foreach ((BarPattern pattern, long value) in found.DistinctBy(f => f.Pattern).OrderByDescending(f => f.Value).Take(most))
        {
            var counts = new int[itemCount];
            for (int k = 0; k < pattern.Items.Length; k++)
            {
                counts[items[model.Members[pattern.Items[k]][0]]] = pattern.Counts[k];
            }

            layouts.Add((ImmutableArray.Create(counts), value));
        }

        return new Pricing<ImmutableArray<int>>(layouts.ToImmutable(), Math.Max(pricing.Best[0], costScale * stock.Leftover.Of(stock.Length)));
    }
}
