using System.Collections.Immutable;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>The most value of through-cut pieces on one plate.</summary>
/// <param name="Value">Value of the layout.</param>
/// <param name="Bound">No layout is worth more; equal to the value: proven.</param>
/// <param name="Layout">The layout; null when nothing fits.</param>
public sealed record PlateValue(long Value, long Bound, PlateLayout? Layout);

/// <summary>Single-plate value maximisation: the guillotine knapsack, each kind limited or not, any depth of cuts.</summary>
/// <remarks>
/// Unlimited: exact by dynamic programming (<see cref="GuillotineTable"/>). Limited: Lagrangian bound on the same table (each kind's
/// limit priced by subgradient steps, Held and Karp 1971), layouts by <see cref="SheetFiller"/>, then best-first search over merged
/// rectangles (<see cref="RectangleSearch"/>) until the bound meets the value or the limits end. Bounds are exact whole numbers.
/// </remarks>
public static class PlateValueSolver
{
    /// <summary>Solves within the limits.</summary>
    /// <param name="items">Kinds of piece; demand is the most copies, ignored when <paramref name="unlimited"/>.</param>
    public static PlateValue Solve(
        PlateStock stock, long kerf, ImmutableArray<PlateItem> items, ImmutableArray<long> values, bool unlimited, SolveLimits limits,
        CancellationToken cancel = default)
    {
        var budget = new SearchBudget(limits, cancel);
        var model = new ThroughModel(new PlateProblem
        {
            Stocks = [stock],
            Items = unlimited ? [.. items.Select(item => item with { Demand = Most(stock, kerf, item) })] : items,
            Cutting = new PlateCutting(),
            Kerf = kerf,
        });
        var table = new GuillotineTable(new ValueGrid(model, 0, unlimited ? 20000 : 4096, false));
        var run = new Run(model, table, [.. values], budget, limits.Seed);
        if (unlimited || !table.Exact)
        {
            run.Unlimited(unlimited);
        }
        else
        {
            run.Limited();
        }

        return run.Answer();
    }

    private static int Most(PlateStock stock, long kerf, PlateItem item) => (int)Int128.Max(
        1, (Int128)(stock.SizeX + kerf) * (stock.SizeY + kerf) / ((Int128)(item.SizeX + kerf) * (item.SizeY + kerf)));

    private sealed class Run(ThroughModel model, GuillotineTable table, long[] values, SearchBudget budget, int seed)
    {
        private CutSheet? _sheet;
        private long _value;
        private long _bound;

        public PlateValue Answer() => new(_value, _bound, _sheet is null ? null : LayoutBuilder.Build(model, _sheet, 1));

        public void Unlimited(bool pattern)
        {
            _bound = table.Fill(values);
            if (pattern && table.Exact)
            {
                Offer(table.Pattern());
            }

            if (_value < _bound)
            {
                Fill(4000);
            }
        }

        public void Limited()
        {
            // Values are scaled so that prices of limits have room for fractions.
            _bound = table.Fill(values);
            Offer(table.Pattern());
            if (_value >= _bound)
            {
                return;
            }

            Fill(3000);
            var scale = Math.Max(1, (1L << 27) / Math.Max(1, _bound));
            var prices = Price(scale);
            if (_value >= _bound || budget.Out)
            {
                return;
            }

            Fill(20000);
            if (_value < _bound)
            {
                var net = Net(prices, scale);
                table.Fill(net);
                table.FillOutside();
                var search = new RectangleSearch(model, table, values, prices, scale, budget, _value);
                var found = search.Run();
                if (found is not null)
                {
                    Offer(found);
                }

                _bound = Math.Max(_value, Math.Min(_bound, search.Bound));
            }
        }

        private long[] Net(long[] prices, long scale) => [.. values.Select((v, i) => Math.Max(0, (v * scale) - prices[i]))];

        /// <summary>Prices of the limits, scaled, that make the bound Σ price_i·d_i + most Σ (value_i − price_i)·a_i small.</summary>
        private long[] Price(long scale)
        {
            var prices = new double[values.Length];
            var best = new long[values.Length];
            var least = (Int128)_bound * scale;
            var step = 1.0;
            var stuck = 0;
            for (var round = 0; round < 400 && _value < _bound && budget.Used < 0.35; round++)
            {
                var whole = Array.ConvertAll(prices, p => (long)p);
                var most = (Int128)table.Fill(Net(whole, scale));
                budget.Add(20 + (long)(table.Steps / 1500));
                for (var i = 0; i < whole.Length; i++)
                {
                    most += (Int128)whole[i] * model.Demand[i];
                }

                var pattern = table.Pattern();
                Offer(pattern);
                if (most < least)
                {
                    (least, stuck) = (most, 0);
                    best = whole;
                    _bound = Math.Min(_bound, (long)(least / scale));
                }
                else if (++stuck >= 8)
                {
                    (step, stuck) = (step * 0.6, 0);
                    prices = Array.ConvertAll(best, p => (double)p);
                    continue;
                }

                var over = new double[values.Length];
                Count(pattern, over);
                var norm = 0.0;
                for (var i = 0; i < over.Length; i++)
                {
                    over[i] -= model.Demand[i];
                    over[i] = over[i] < 0 && prices[i] <= 0 ? 0 : over[i];
                    norm += over[i] * over[i];
                }

                if (norm == 0)
                {
                    break;
                }

                var length = step * Math.Max(0.002 * _bound * scale, (double)most - ((double)_value * scale)) / norm;
                for (var i = 0; i < over.Length; i++)
                {
                    prices[i] = Math.Max(0, prices[i] + (length * over[i]));
                }
            }

            return best;
        }

        private static void Count(GuillotineCut cut, double[] counts)
        {
            if (cut.Item >= 0)
            {
                counts[cut.Item]++;
            }
            else if (cut.Low is not null)
            {
                Count(cut.Low, counts);
                Count(cut.High!, counts);
            }
        }

        private void Fill(int steps)
        {
            var filler = new SheetFiller(model, 0, seed);
            var real = Array.ConvertAll(values, v => (double)v);
            for (var part = 0; part < 10 && _value < _bound && !budget.Out; part++)
            {
                filler.Search(real, model.Demand, steps / 10, (sheet, _) => Offer(sheet));
                budget.Add(steps);
            }
        }

        private void Offer(GuillotineCut pattern)
        {
            var sheet = model.Blank[0][0].Clone();
            if (sheet.Build(model, pattern))
            {
                Offer(sheet);
            }
        }

        private void Offer(CutSheet sheet)
        {
            var counts = new int[values.Length];
            sheet.AddCounts(counts);
            long value = 0;
            for (var i = 0; i < counts.Length; i++)
            {
                if (counts[i] > model.Demand[i])
                {
                    return;
                }

                value = checked(value + (counts[i] * values[i]));
            }

            if (value > _value)
            {
                (_value, _sheet) = (value, sheet.Clone());
            }
        }
    }
}
