using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve.Exact;
using Nest.Solve.Plates;

namespace Nest.Tests.Plates;

/// <summary>The most value of through-cut pieces on one plate, each kind as often as wanted or at most so often: the guillotine knapsack of the literature, with the tables and
/// lists by which the exact method proves plates (<see cref="WorthTable"/>, <see cref="LoadLabels"/>).</summary>
/// <remarks>Any number of each: the table alone is exact. At most d of each: for any prices λ ≥ 0 no layout is worth more than the table's best at (values − λ) plus Σ λ·d (Lagrange);
/// λ by subgradient steps (Held, Karp 1971). A layout worth V is within that bound − V of the table's best, so the best of all that are listed within a gap is proven when nothing beyond
/// the gap could be worth more.</remarks>
/// <param name="Value">Of the layout; 0 where none was found.</param>
/// <param name="Bound">No layout is worth more.</param>
internal sealed record PlateValues(long Value, long Bound, PlateLayout? Layout)
{
    /// <summary>Grains to a unit of value, so that the prices may be broken numbers.</summary>
    private const int Fine = 200;
    private const int Steps = 300;

    /// <param name="mostJoins">Pairs of partial layouts that a list may look at; where more are needed the bound stays above the value.</param>
    public static PlateValues Of(PlateStock stock, long kerf, ImmutableArray<PlateItem> items, ImmutableArray<long> values, bool unlimited, long mostJoins = 200_000_000)
    {
        var shape = new PlateShape((int)stock.SizeX, (int)stock.SizeY, 1)
        {
            Kerf = (int)kerf, Held = 0, Longest = int.MaxValue, KeepLong = int.MaxValue, KeepShort = int.MaxValue, Prices = new(0, 0, 0, 0, 0),
            Pieces = [.. items.Select(item => Fits(item, stock) ? new PlatePiece((int)item.SizeX, (int)item.SizeY, item.MayTurn, unlimited ? Most(stock, kerf, item) : item.Demand, 0) : default)],
        };
        var table = new WorthTable(new(shape), false);
        if (unlimited)
        {
            var value = table.Run([.. values.Select(one => (int)one)]);
            return new(value, value, WorthTree.Best(table) is { } best ? Laid(shape, best) : null);
        }

        var (bound, prices) = Prices(table, values);
        var top = table.Run(At(values, prices));
        var greatest = 0L;
        PlateNode? tree = null;
        for (var gap = 1 + (bound / 1000); ; gap += 1 + (gap / 3))
        {
            if (LoadLabels.Of(table, top, [.. shape.Pieces.Select(piece => piece.Demand)], gap, new(mostJoins, 1, () => false), out _) is not { } list)
            {
                return new(greatest, bound / Fine, tree is null ? null : Laid(shape, tree));
            }

            foreach (var (counts, _) in list.Loads())
            {
                var value = counts.Zip(values, (n, one) => n * one).Sum();
                if (value > greatest)
                {
                    (greatest, tree) = (value, list.TreeOf(counts.AsSpan()));
                }
            }

            // What is not listed is worth less than this.
            if (greatest >= (bound - gap) / Fine)
            {
                return new(greatest, greatest, tree is null ? null : Laid(shape, tree));
            }
        }
    }

    /// <summary>The lowest bound found, in grains, and its prices.</summary>
    private static (long Bound, int[] Prices) Prices(WorthTable table, ImmutableArray<long> values)
    {
        var demand = table.Shape.Pieces.Select(piece => piece.Demand).ToArray();
        var now = new double[values.Length];
        var (lowest, best) = (long.MaxValue, new int[values.Length]);
        var scale = 1.0;
        for (var (step, idle) = (0, 0); step < Steps; step++)
        {
            int[] prices = [.. now.Select((price, k) => (int)Math.Min(price, values[k] * Fine))];
            var bound = table.Run(At(values, prices)) + prices.Zip(demand, (price, d) => (long)price * d).Sum();
            idle++;
            if (bound < lowest)
            {
                (lowest, best, idle) = (bound, prices, 0);
            }
            else if (idle % 10 == 0)
            {
                scale /= 2;
            }

            var counts = new int[values.Length];
            Count(WorthTree.Best(table), counts);
            var over = counts.Select((n, k) => n - demand[k]).ToArray();
            var square = over.Select((one, k) => one < 0 && now[k] <= 0 ? 0 : (double)one * one).Sum();
            if (square == 0)
            {
                break;
            }

            var move = scale * 0.05 * bound / square;
            now = [.. now.Select((price, k) => Math.Max(0, price + (move * over[k])))];
        }

        return (lowest, best);
    }

    private static int[] At(ImmutableArray<long> values, int[] prices) => [.. values.Select((value, k) => (int)(value * Fine) - prices[k])];

    private static void Count(PlateNode? node, int[] counts)
    {
        if (node is { Kind: PlateNodeKind.Piece })
        {
            counts[node.Item]++;
        }

        foreach (var child in node?.Children ?? [])
        {
            Count(child, counts);
        }
    }

    private static PlateLayout Laid(PlateShape shape, PlateNode tree)
    {
        var placed = WorthTree.Placed(shape, tree);
        var pieces = ImmutableArray.CreateBuilder<PlatePlacement>();
        Collect(placed);
        return new(0, 1, pieces.ToImmutable(), placed);

        void Collect(PlateNode node)
        {
            if (node.Kind == PlateNodeKind.Piece)
            {
                pieces.Add(new(node.Item, node.Area, node.Turned));
            }

            foreach (var child in node.Children)
            {
                Collect(child);
            }
        }
    }

    private static bool Fits(PlateItem item, PlateStock stock) =>
        (item.SizeX <= stock.SizeX && item.SizeY <= stock.SizeY) || (item.MayTurn && item.SizeY <= stock.SizeX && item.SizeX <= stock.SizeY);

    private static int Most(PlateStock stock, long kerf, PlateItem item) => (int)((stock.SizeX + kerf) * (stock.SizeY + kerf) / ((item.SizeX + kerf) * (item.SizeY + kerf)));
}
