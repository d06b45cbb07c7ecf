using System.Collections.Immutable;
using Nest.Solve.Bars;
using Nest.Solve.Plates;
using Nest.Solve.Plates.Free;
using Nest.Solve.Plates.ThroughCut;

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

    /// <summary>Through-cuts or free: layouts by search, the bound by dynamic programming or dual feasible functions.</summary>
    private sealed class PlateStockPricer : IStockPricer
    {
        private readonly Component _component;
        private readonly int _stock;
        private readonly int[] _items;
        private readonly Func<long[], int, Pricing<PlateLayout>> _price;

        public PlateStockPricer(Component component, int stock)
        {
            _component = component;
            _stock = stock;
            _items = [.. Enumerable.Range(0, component.Items).Where(i => component.Fits[stock, i] is not null)];
            var frame = component.Stocks[stock];
            var plate = GroupSolver.PlateStockOf(component, stock, null);
            var kerf = component.Units(frame.Saw.Kerf);
            ImmutableArray<PlateItem> pieces =
                [.. _items.Select(i => GroupSolver.PlateItemOf(component, stock, i, component.Blanks[i].Demand))];

            // Costs in the unit of the values.
            long[] costs = [.. _items.Select(i => component.LowerCosts.Piece[stock, i] * IStockPricer.Scale)];
            // Free layouts keep a kerf to damage, through-cuts need none and may run through it: as a bound of these the plate counts as sound.
            var free = new FreePricer(frame.IsFree ? plate : plate with { KeepOuts = [] }, kerf, pieces, [.. costs]);
            if (frame.IsFree)
            {
                _price = (values, most) => free.Price(values, most);
                return;
            }

            var through = new ThroughCutPricer(plate, GroupSolver.CuttingOf(component, frame.Saw), kerf, pieces, costs);
            _price = (values, most) =>
            {
                // Dual feasible functions bound free layouts, hence through-cuts too; they know the demand, the table does not.
                var answer = through.Price(values, most, PriceSteps);
                return answer with { UpperBound = Math.Min(answer.UpperBound, free.Price(values, 0, 0).UpperBound) };
            };
        }

        private const int PriceSteps = 600;

        public (ImmutableArray<Column> Columns, long UpperBound) Price(ReadOnlySpan<long> values, int most)
        {
            var own = new long[_items.Length];
            for (var k = 0; k < own.Length; k++)
            {
                own[k] = values[_items[k]];
            }

            var answer = _price(own, most);
            return (
                [.. answer.Layouts.Select(entry => LayoutBuilder.Plate(_component, _stock, _items, entry.Layout))], answer.UpperBound);
        }
    }
}
