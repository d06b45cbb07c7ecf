using System.Collections.Immutable;
using Nest.Solve.Bars;
using Nest.Solve.Plates.Free;

namespace Nest.Solve.Choose;

/// <summary>The pricer for a stock: exact on bars, heuristic with a proven upper bound on plates.</summary>
internal static class StockPricers
{
    public static IStockPricer For(Component component, int stock) => component.Stocks[stock].IsBar
        ? new BarStockPricer(component, stock)
        : new PlateStockPricer(component, stock);

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

    private sealed class PlateStockPricer : IStockPricer
    {
        private readonly Component _component;
        private readonly int _stock;
        private readonly int[] _items;
        private readonly long[] _pieceCosts;
        private readonly FreePricer _free;

        public PlateStockPricer(Component component, int stock)
        {
            _component = component;
            _stock = stock;
            _items = [.. Enumerable.Range(0, component.Items).Where(i => component.Fits[stock, i] is not null)];
            _pieceCosts = [.. _items.Select(i => component.LowerCosts.Piece[stock, i] * IStockPricer.Scale)];
            var frame = component.Stocks[stock];
            _free = new(
                GroupSolver.PlateStockOf(component, stock, null), component.Units(frame.Saw.Kerf),
                [.. _items.Select(i => GroupSolver.PlateItemOf(component, stock, i, component.Blanks[i].Demand))],
                [.. _pieceCosts]);
        }

        public (ImmutableArray<Column> Columns, long UpperBound) Price(ReadOnlySpan<long> values, int most)
        {
            var own = new long[_items.Length];
            for (var k = 0; k < own.Length; k++)
            {
                own[k] = values[_items[k]];
            }

            var answer = _free.Price(own, most);
            var columns = _component.Stocks[_stock].IsFree
                ? answer.Layouts.Select(entry => LayoutBuilder.Plate(_component, _stock, _items, entry.Layout))
                : [];
            return ([.. columns], answer.UpperBound);
        }
    }
}
