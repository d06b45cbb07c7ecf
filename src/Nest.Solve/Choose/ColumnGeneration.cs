using System.Diagnostics;
using Nest.Core.Plans;

namespace Nest.Solve.Choose;

/// <summary>Column generation over all stocks of a component: values of the blanks, new layouts, and a bound (<see cref="DualBound"/>).</summary>
/// <remarks>A round is one linear programme over the layouts known so far (<see cref="ColumnMaster"/>) and one pricing of each stock at its values. It ends when no stock
/// has a layout that is worth more than it costs, when the time is up, or after <see cref="MostRounds"/>.</remarks>
/// <param name="pool">Layouts known; new ones are added.</param>
/// <param name="unlisted">Stocks that the searches leave out; one comes back when a layout on it is found.</param>
/// <param name="dropped">Stocks proven to be in no plan cheaper than the best; more are marked.</param>
internal sealed class ColumnGeneration(Component component, int[] demand, ColumnPool pool, bool[] unlisted, bool[] dropped)
{
    private const int MostRounds = 400;

    /// <summary>Layouts of one stock that a pricing may give.</summary>
    private const int PerStock = 8;

    private readonly List<(long[] Values, long[] Best)> _cuts = [];

    /// <summary>The last values of the blanks; null: none.</summary>
    public long[]? Values { get; private set; }

    /// <summary>Values of each round with the proven best worth of a layout on each stock.</summary>
    public IReadOnlyList<(long[] Values, long[] Best)> Cuts => _cuts;

    public Bound Bound { get; private set; }

    /// <param name="best">Cost of the best whole plan, in money units; null: none.</param>
    public void Run(double seconds, Func<long?> best, CancellationToken cancel)
    {
        var clock = Stopwatch.StartNew();
        IStockPricer[] pricers = [.. Enumerable.Range(0, component.Stocks.Length).Select(s => StockPricers.For(component, s))];
        var missing = 4.0 * Math.Max(1, component.LowerCosts.Stock.DefaultIfEmpty(1).Max() + Dearest());
        using var master = new ColumnMaster(component, demand, missing);
        var known = 0;
        for (var round = 0; round < MostRounds && !cancel.IsCancellationRequested; round++)
        {
            for (; known < pool.Columns.Count; known++)
            {
                master.Add(pool.Columns[known]);
            }

            if (master.Solve() is not { } duals)
            {
                return;
            }

            var values = duals.Blanks.Select(value => (long)Math.Floor(value * IStockPricer.Scale)).ToArray();
            var found = false;
            var worth = new long[component.Stocks.Length];
            for (var s = 0; s < worth.Length; s++)
            {
                var (columns, upper) = pricers[s].Price(values, PerStock);
                worth[s] = upper;
                var threshold = ((double)component.LowerCosts.Stock[s] + duals.Stocks[s]) * IStockPricer.Scale;
                foreach (var column in columns)
                {
                    // Worth more than it costs by at least a hundredth of a cent per blank, or the loop would chase rounding.
                    var gain = column.Worth(values) - (column.LowerCost * (double)IStockPricer.Scale) - (duals.Stocks[s] * IStockPricer.Scale);
                    if (gain > (1e-6 * threshold) + IStockPricer.Scale && pool.Add(column))
                    {
                        found = true;
                        unlisted[s] = false;
                    }
                }
            }

            Values = values;
            _cuts.Add((values, worth));
            if (component.LowerCosts.Valid)
            {
                Prove(values, worth, best());
            }

            if (!found || clock.Elapsed.TotalSeconds > seconds)
            {
                return;
            }
        }
    }

    private void Prove(long[] values, long[] worth, long? best)
    {
        var (bound, reserve) = DualBound.Of(component, values, demand, worth);
        Bound = Bound.Higher(Bound, bound);
        for (var s = 0; s < reserve.Length; s++)
        {
            dropped[s] |= best is { } cost && bound.Value is { } least && least.Units + reserve[s] > cost;
        }
    }

    /// <summary>Dearest piece, beside its stock.</summary>
    private long Dearest()
    {
        long dearest = 0;
        foreach (var piece in component.LowerCosts.Piece)
        {
            dearest = Math.Max(dearest, piece);
        }

        return dearest;
    }
}
