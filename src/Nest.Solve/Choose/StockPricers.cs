using System.Collections.Immutable;
using Nest.Solve.Bars;

namespace Nest.Solve.Choose;

/// <summary>The pricer for a stock: exact on bars, heuristic with a proven upper bound on plates.</summary>
internal static class StockPricers
{
    public static IStockPricer For(Component component, int stock) => component.Stocks[stock].IsBar
        ? new BarStockPricer(component, stock)
        : throw new NotSupportedException();

    private sealed class BarStockPricer : IStockPricer
    {
        private readonly Component _component;
        private readonly int _stock;
        private readonly BarPricer _pricer;

        public BarStockPricer(Component component, int stock)
        {
            _component = component;
            _stock = stock;
            var items = Enumerable.Range(0, component.Items).ToArray();
            _pricer = new(
                GroupSolver.BarStockOf(component, stock, null), component.Units(component.Stocks[stock].Saw.Kerf),
                [.. items.Select(i => component.SizeX(stock, i))],
                [.. items.Select(i => component.Blanks[i].Demand)],
                [.. items.Select(i => component.LowerCosts.Piece[stock, i])]);
        }

        public (ImmutableArray<Column> Columns, long UpperBound) Price(ReadOnlySpan<long> values, int most)
        {
            var answer = _pricer.Price(values, IStockPricer.Scale, most);
            return (
                [.. answer.Layouts.Select(entry => LayoutBuilder.Bar(_component, _stock, entry.Layout.AsSpan()))], answer.UpperBound);
        }
    }
}
