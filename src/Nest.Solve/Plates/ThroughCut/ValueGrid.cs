using System.Numerics;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>One way an item may lie, in grid units.</summary>
internal readonly record struct Way(int Item, bool Turned, int Width, int Height);

/// <summary>Grid of a value table: normal patterns along the one side, dense points along the other, and whole values of 29 bits.</summary>
/// <remarks>
/// Where a side has more points than allowed, a coarser unit u is used. Rounded down (pieces and plate) every real layout fits the grid,
/// since Σ⌊wᵢ/u⌋ ≤ ⌊W/u⌋ whenever Σ wᵢ ≤ W: the table's value is an upper bound. Rounded up every layout of the grid is real.
/// Values are divided by a common whole number and rounded up, which keeps upper bounds valid. Pieces that would be nothing on the grid
/// stay out of the table and are bounded by area. No floating point is involved in a bound.
/// </remarks>
internal sealed class ValueGrid
{
    private const int MostBits = 29;

    private readonly ThroughModel _model;
    private readonly int _stock;
    private readonly List<int> _tiny = [];

    public ValueGrid(ThroughModel model, int stock, int mostPoints, bool roundUp)
    {
        _model = model;
        _stock = stock;
        var width = model.StockWidth[stock];
        var height = model.StockHeight[stock];
        var unitX = Math.Max(1, (width + mostPoints - 1) / mostPoints);
        var unitY = Math.Max(1, (height + mostPoints - 1) / mostPoints);
        Exact = unitX == 1 && unitY == 1;
        var ways = new List<Way>();
        for (var i = 0; i < model.ItemCount; i++)
        {
            if (model.CostOf(stock, i) == PlateProblem.Forbidden)
            {
                continue;
            }

            var (w, h) = (model.Width[i], model.Height[i]);
            var least = model.Turns[i] ? Math.Min(w, h) : long.MaxValue;
            if (!roundUp && (Math.Min(w, least) < unitX || Math.Min(h, least) < unitY))
            {
                _tiny.Add(i);
                continue;
            }

            Add(i, false, w, h);
            if (model.Turns[i])
            {
                Add(i, true, h, w);
            }
        }

        var xs = Patterns(ways.Select(w => w.Width), (int)(width / unitX));
        var ys = Patterns(ways.Select(w => w.Height), (int)(height / unitY));
        Swapped = (double)ys.Length * ys.Length * (width / unitX) < (double)xs.Length * xs.Length * (height / unitY);
        Ways = Swapped ? [.. ways.Select(w => w with { Width = w.Height, Height = w.Width })] : [.. ways];
        Points = Swapped ? ys : xs;
        Height = (int)(Swapped ? width / unitX : height / unitY);
        PointAt = new int[(int)(Swapped ? height / unitY : width / unitX) + 1];
        var at = 0;
        for (var x = 0; x < PointAt.Length; x++)
        {
            while (at + 1 < Points.Length && Points[at + 1] <= x)
            {
                at++;
            }

            PointAt[x] = at;
        }

        Values = new int[model.ItemCount];

        void Add(int item, bool turned, long w, long h)
        {
            var x = (int)((roundUp ? w + unitX - 1 : w) / unitX);
            var y = (int)((roundUp ? h + unitY - 1 : h) / unitY);
            if (w <= width && h <= height && x <= width / unitX && y <= height / unitY)
            {
                ways.Add(new Way(item, turned, x, y));
            }
        }
    }

    /// <summary>Whether the sides are exchanged: the points then lie along Y.</summary>
    public bool Swapped { get; }
    public bool Exact { get; }
    public Way[] Ways { get; }

    /// <summary>Sums of piece sizes from 0 up, and for each size the index of the largest point within it.</summary>
    public int[] Points { get; }
    public int[] PointAt { get; }

    /// <summary>Points of the dense side are 0 to this.</summary>
    public int Height { get; }

    public int RowLength => Height + 1 + Vector<int>.Count;

    /// <summary>Value of each item divided by the divisor and rounded up.</summary>
    public int[] Values { get; }
    public long Divisor { get; private set; } = 1;

    /// <summary>Sets the values so that no sum in a table overflows; returns what the pieces left out can add to a bound.</summary>
    public long Scale(ReadOnlySpan<long> values)
    {
        // No layout is worth more than the densest piece everywhere; area on the grid, so that it bounds the table as well.
        double most = 1;
        foreach (var way in Ways)
        {
            if (values[way.Item] > 0)
            {
                var dense = values[way.Item] / Math.Max(1, (double)way.Width * way.Height) * ((double)PointAt.Length * (Height + 1));
                most = Math.Max(most, dense);
            }
        }

        Divisor = Math.Max(1, (long)Math.Ceiling(most / (1L << MostBits)));
        foreach (var way in Ways)
        {
            Values[way.Item] = (int)((Math.Max(0, values[way.Item]) + Divisor - 1) / Divisor);
        }

        BigInteger tiny = 0;
        foreach (var item in _tiny)
        {
            var area = (BigInteger)_model.Width[item] * _model.Height[item];
            var plate = (BigInteger)_model.StockWidth[_stock] * _model.StockHeight[_stock];
            tiny = BigInteger.Max(tiny, ((Math.Max(0, values[item]) * plate) + area - 1) / area);
        }

        return (long)tiny;
    }

    /// <summary>Cut of two parts in true inflated sizes: the parts shrink to what they hold.</summary>
    public GuillotineCut Join(byte direction, GuillotineCut low, GuillotineCut high)
    {
        if (low.Pieces == 0 || high.Pieces == 0)
        {
            return low.Pieces == 0 ? high : low;
        }

        var across = (direction == CutSheet.Across) != Swapped;
        return across
            ? new GuillotineCut(-1, false, CutSheet.Across, low.Width, low.Width + high.Width, Math.Max(low.Height, high.Height), low, high)
            : new GuillotineCut(-1, false, CutSheet.Along, low.Height, Math.Max(low.Width, high.Width), low.Height + high.Height, low, high);
    }

    public GuillotineCut Piece(Way way) => GuillotineCut.Piece(_model, way.Item, way.Turned);

    private static int[] Patterns(IEnumerable<int> sizes, int most)
    {
        var reached = new bool[most + 1];
        reached[0] = true;
        foreach (var size in sizes.Where(s => s > 0).Distinct())
        {
            for (var x = size; x <= most; x++)
            {
                reached[x] |= reached[x - size];
            }
        }

        return [.. Enumerable.Range(0, most + 1).Where(x => reached[x])];
    }
}
