using System.Collections.Concurrent;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Ordering;

/// <summary>The cheapest way to buy and cut a small job, by trying everything: for each stock every multiset of ways to fill its pieces,
/// over all stocks every combination that meets the demand exactly, with up to six whole pieces more of what may be kept, priced by
/// terms that are written out here anew. Shares only the blanks' sizes and the cost of a bar cut with the program.</summary>
/// <remarks>Plates: which counts fit is found by trying all guillotine cuts (pieces are not turned in the jobs it is for); a plate
/// costs its price whatever is cut from it.</remarks>
internal sealed class OrderBruteForce
{
    private readonly Job _job;
    private readonly int[] _demand;
    private readonly List<(Stock Stock, List<(int[] Counts, long Cost)> Ways, long Keep, int Supplier)> _stocks = [];
    private readonly Dictionary<(int At, int Left), List<(int[] Then, int Number, long Cost)>> _filled = [];
    private readonly Dictionary<(int At, int Left), bool> _met = [];
    // What is bought on the way that is tried: by supplier of the job its goods and their lines.
    private readonly long[] _goods;
    private readonly int[] _lines;
    private readonly Dictionary<(int At, int Count), long> _lineCosts = [];
    private long _best = long.MaxValue;

    private OrderBruteForce(Job job)
    {
        _job = job;
        (_goods, _lines) = (new long[job.Suppliers.Length], new int[job.Suppliers.Length]);
        var blanks = BlankSizer.Size(job);
        _demand = [.. blanks.Select(blank => blank.Demand)];
        foreach (var stock in job.Stocks)
        {
            var fits = blanks.Select(blank => blank.Fits.FirstOrDefault(fit => fit.StockId == stock.Id)).ToArray();
            var ways = new List<(int[], long)>();
            var known = new Dictionary<(long X, long Y, int Counts), bool>();
            foreach (var counts in Vectors(fits))
            {
                if (Cost(stock, fits, counts, known) is { } cost)
                {
                    ways.Add((counts, cost));
                }
            }

            if (ways.Count > 0)
            {
                _stocks.Add((stock, ways, KeepWhole(stock), stock.IsLeftover ? -1 : job.Suppliers.ToList().FindIndex(supplier => supplier.Name == stock.Supplier)));
            }
        }
    }

    private static readonly ConcurrentDictionary<int, Lazy<long?>> Known = new();

    /// <summary>Of a job of <see cref="SmallOrders"/>, worked out once for all tests that ask: some take many seconds.</summary>
    public static long? Least(int seed) => Known.GetOrAdd(seed, own => new(() => Least(SmallOrders.Random(own)))).Value;

    /// <summary>The least cost in units of money; null when the demand cannot be met.</summary>
    public static long? Least(Job job)
    {
        var search = new OrderBruteForce(job);
        search.Next(0, (int[])search._demand.Clone(), 0);
        return search._best == long.MaxValue ? null : search._best;
    }

    private IEnumerable<int[]> Vectors(BlankFit?[] fits)
    {
        IEnumerable<int[]> all = [[]];
        for (var i = 0; i < fits.Length; i++)
        {
            var most = fits[i] is null ? 0 : _demand[i];
            all = all.SelectMany(head => Enumerable.Range(0, most + 1).Select(n => (int[])[.. head, n]));
        }

        return all.Where(counts => counts.Sum() > 0);
    }

    /// <summary>What a piece of stock cut so costs beside its price; null when it cannot be cut so.</summary>
    private long? Cost(Stock stock, BlankFit?[] fits, int[] counts, Dictionary<(long X, long Y, int Counts), bool> known)
    {
        long facing = 0;
        for (var i = 0; i < counts.Length; i++)
        {
            facing += counts[i] == 0 ? 0 : fits[i]!.ExtraCost.Units * counts[i];
        }

        if (stock.CutFor is not null)
        {
            return counts.Sum() == 1 ? facing : null;
        }

        var saw = _job.SawFor(stock)!;
        if (stock.Form == Form.Plate)
        {
            var sizes = fits.Select(fit => (X: fit?.SizeX.Nanometres ?? 0, Y: fit?.SizeY.Nanometres ?? 0)).ToArray();
            return Guillotine(stock.MinLength.Nanometres, stock.MinWidth.Nanometres, saw.Kerf.Nanometres, sizes, counts, known) ? facing : null;
        }

        // A bar: trims at both ends, a kerf behind each piece where anything is left.
        var length = stock.MinLength.Nanometres - saw.Trims.Left.Nanometres - saw.Trims.Right.Nanometres;
        var number = counts.Sum();
        long used = 0;
        for (var i = 0; i < counts.Length; i++)
        {
            used += counts[i] == 0 ? 0 : fits[i]!.SizeX.Nanometres * counts[i];
        }

        if (used + (saw.Kerf.Nanometres * (number - 1)) > length)
        {
            return null;
        }

        var rest = length - used - (saw.Kerf.Nanometres * number);
        var cuts = CostModel.BarCut(_job, stock, saw).Units * (number + 1);
        var rule = _job.OffcutRules.First(rule => rule.Form == Form.FlatBar);
        var keep = rest >= rule.KeepLength.Nanometres
            ? (long)((Int128)KeepWorth(stock) * rest / stock.MinLength.Nanometres)
            : 0;
        return facing + cuts - keep;
    }

    private long KeepWorth(Stock stock)
    {
        if (stock.Form == Form.Plate)
        {
            return 0;
        }

        var rule = _job.OffcutRules.First(rule => rule.Form == Form.FlatBar);
        var lowest = stock.Terms.Breaks.Select(step => step.PiecePrice.Amount).Append(stock.PiecePrice.Amount).Min();
        return (long)decimal.Floor(lowest * (stock.IsLeftover ? rule.LeftoverFraction : rule.Fraction) * 10_000m);
    }

    /// <summary>Value of a whole piece bought for the rack; −1: it would not be kept.</summary>
    private long KeepWhole(Stock stock) =>
        stock.Form == Form.Plate || stock.IsLeftover || stock.CutFor is not null ? -1 : KeepWorth(stock);

    private void Next(int at, int[] left, long cost)
    {
        if (at == _stocks.Count)
        {
            if (Orders() is { } orders && cost + orders < _best)
            {
                _best = cost + orders;
            }

            return;
        }

        var (stock, _, keep, supplier) = _stocks[at];
        foreach (var (rest, number, price) in Fill(at, left))
        {
            if (!CanBeMet(at + 1, rest))
            {
                continue;
            }

            var more = keep < 0 ? 0 : Math.Min(6, (stock.Available ?? int.MaxValue) - number);
            for (var extra = 0; extra <= more; extra++)
            {
                var (count, now) = (number + extra, cost + price - (Math.Max(0, keep) * extra));
                if (count == 0 || stock.IsLeftover)
                {
                    Next(at + 1, rest, now + (stock.PiecePrice.Units * count));
                    continue;
                }

                var line = Line(at, count);
                (_goods[supplier], _lines[supplier]) = (_goods[supplier] + line, _lines[supplier] + 1);
                Next(at + 1, rest, now);
                (_goods[supplier], _lines[supplier]) = (_goods[supplier] - line, _lines[supplier] - 1);
            }
        }
    }

    /// <summary>Whether the stocks from here on can cut exactly what is left: where they cannot, nothing needs to be tried.</summary>
    private bool CanBeMet(int at, int[] left)
    {
        var key = (at, Code(left));
        if (!_met.TryGetValue(key, out var can))
        {
            _met[key] = can = at == _stocks.Count ? left.All(n => n == 0) : Fill(at, left).Any(way => CanBeMet(at + 1, way.Then));
        }

        return can;
    }

    /// <summary>Every multiset of a stock's ways that cuts no more than is left; of those that cut the same with the same number of pieces only
    /// the cheapest. It depends on nothing else, so it is worked out once.</summary>
    private List<(int[] Then, int Number, long Cost)> Fill(int at, int[] left)
    {
        if (_filled.TryGetValue((at, Code(left)), out var known))
        {
            return known;
        }

        // By number of pieces: what is left then, and the least that it costs. Way by way, each as often as it may.
        var (stock, ways, _, _) = _stocks[at];
        List<Dictionary<int, (int[] Then, long Cost)>> layers = [new() { [Code(left)] = (left, 0) }];
        foreach (var (counts, price) in ways)
        {
            for (var number = 0; number < layers.Count && number < (stock.Available ?? int.MaxValue); number++)
            {
                foreach (var (rest, cost) in layers[number].Values)
                {
                    if (!Fits(counts, rest))
                    {
                        continue;
                    }

                    int[] next = [.. rest];
                    for (var i = 0; i < next.Length; i++)
                    {
                        next[i] -= counts[i];
                    }

                    if (number + 1 == layers.Count)
                    {
                        layers.Add([]);
                    }

                    if (!layers[number + 1].TryGetValue(Code(next), out var old) || cost + price < old.Cost)
                    {
                        layers[number + 1][Code(next)] = (next, cost + price);
                    }
                }
            }
        }

        return _filled[(at, Code(left))] = [.. layers.SelectMany((layer, number) => layer.Values.Select(one => (one.Then, number, one.Cost)))];
    }

    private static bool Fits(int[] counts, int[] left)
    {
        for (var i = 0; i < counts.Length; i++)
        {
            if (counts[i] > left[i])
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>One number for what is left of the demand.</summary>
    private int Code(int[] left)
    {
        var code = 0;
        for (var i = 0; i < left.Length; i++)
        {
            code = (code * (_demand[i] + 1)) + left[i];
        }

        return code;
    }

    /// <summary>What the orders cost; null when they go to too many suppliers.</summary>
    private long? Orders()
    {
        var (sum, orders) = (0L, 0);
        for (var supplier = 0; supplier < _lines.Length; supplier++)
        {
            if (_lines[supplier] == 0)
            {
                continue;
            }

            orders++;
            var terms = _job.Suppliers[supplier];
            var charged = Math.Max(_goods[supplier], terms.MinimumOrder.Units);
            sum += charged + (terms.FreeDeliveryFrom is { } free && charged >= free.Units ? 0 : terms.Delivery.Units);
        }

        return orders > _job.MostSuppliers ? null : sum;
    }

    private long Line(int at, int count)
    {
        if (!_lineCosts.TryGetValue((at, count), out var cost))
        {
            _lineCosts[(at, count)] = cost = LineCost(_stocks[at].Stock, count);
        }

        return cost;
    }

    private static long LineCost(Stock stock, int count)
    {
        // Piece by piece, or all at the price of the last break reached.
        long cost = 0;
        for (var n = 1; n <= count; n++)
        {
            var at = stock.Terms.Rule == BreakRule.Incremental ? n : count;
            cost += stock.Terms.Breaks.Where(step => step.From <= at).Select(step => step.PiecePrice.Units).LastOrDefault(stock.PiecePrice.Units);
        }

        return Math.Max(cost, stock.Terms.LineMinimum.Units);
    }

    /// <summary>Whether so many pieces of each size, not turned, come out of a rectangle by through-cuts: every way to split them
    /// between the two sides of a first cut whose place is a sum of sizes and kerfs, all the way down.</summary>
    private bool Guillotine(
        long x, long y, long kerf, (long X, long Y)[] sizes, int[] counts, Dictionary<(long X, long Y, int Counts), bool> known)
    {
        var number = counts.Sum();
        if (number <= 1)
        {
            return number == 0 || sizes.Where((size, i) => counts[i] > 0 && size.X <= x && size.Y <= y).Any();
        }

        if (counts.Select((n, i) => (Int128)n * sizes[i].X * sizes[i].Y).Aggregate((Int128)0, (sum, area) => sum + area) > (Int128)x * y)
        {
            return false;
        }

        var key = (x, y, Code(counts));
        if (!known.TryGetValue(key, out var fits))
        {
            known[key] = fits = Splits(counts).Any(first => Sides(first, [.. counts.Select((n, i) => n - first[i])]));
        }

        return fits;

        bool Sides(int[] first, int[] second) =>
            Sums(first, size => size.X).Any(cut => cut + kerf < x
                && Guillotine(cut, y, kerf, sizes, first, known) && Guillotine(x - cut - kerf, y, kerf, sizes, second, known))
            || Sums(first, size => size.Y).Any(cut => cut + kerf < y
                && Guillotine(x, cut, kerf, sizes, first, known) && Guillotine(x, y - cut - kerf, kerf, sizes, second, known));

        IEnumerable<long> Sums(int[] of, Func<(long X, long Y), long> along)
        {
            var sums = new HashSet<long> { -kerf };
            for (var i = 0; i < of.Length; i++)
            {
                for (var n = 0; n < of[i]; n++)
                {
                    sums.UnionWith(sums.Select(sum => sum + kerf + along(sizes[i])).ToArray());
                }
            }

            return sums.Where(sum => sum > 0).Order();
        }
    }

    /// <summary>Every way to take some of the pieces, but not all.</summary>
    private static IEnumerable<int[]> Splits(int[] counts)
    {
        IEnumerable<int[]> all = [[]];
        foreach (var most in counts)
        {
            all = all.SelectMany(head => Enumerable.Range(0, most + 1).Select(n => (int[])[.. head, n]));
        }

        return all.Where(split => split.Sum() > 0 && split.Sum() < counts.Sum());
    }
}
