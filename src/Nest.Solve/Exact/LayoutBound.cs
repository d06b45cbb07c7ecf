namespace Nest.Solve.Exact;

/// <summary>The most that a rectangle of a plate is worth beside the pieces that are cut from it, wherever the cuts may be.</summary>
/// <param name="rules">In units that are <paramref name="finer"/> times as fine as the table's.</param>
/// <param name="table">What rectangles of the plate without raw edges are worth, with a row for every width; null: there is none, and each cut costs something.</param>
/// <param name="slack">Grains that cuts may cost more where sides are rounded up to the table's units.</param>
/// <param name="parts">What is known in coarser units of the parts of the load that all others are parts of; null: nothing.</param>
internal sealed class LayoutBound(CutRules rules, int[][] loads, (int A, int B)[][] shares, LoadTable? table, int finer, int slack, CoarseParts? parts = null)
{
    private const int Never = Grain.Never;

    private readonly PlateShape _shape = rules.Shape;
    private readonly int[] _numbers = table is null ? [] : [.. loads.Select(load => table!.IndexOf(load))];
    private readonly double[] _areas = [.. loads.Select(load => load.Select((count, k) => (double)count * rules.Shape.Pieces[k].SizeX * rules.Shape.Pieces[k].SizeY).Sum())];
    private readonly int[] _facing = [.. loads.Select(load => load.Select((count, k) => count * rules.Shape.Pieces[k].Facing).Sum())];
    private readonly int[] _pieces = [.. loads.Select(load => load.Sum())];
    private readonly LeastRectangles? _sizes = table is null ? new(rules.Shape, loads, shares) : null;
    private readonly LeastCuts? _cuts = table is null ? new(rules, loads, shares) : null;

    /// <summary>Whether a load is one piece.</summary>
    public bool IsSingle(int load) => _pieces[load] == 1;

    /// <summary>In grains; far below zero where the rectangle does not hold the load.</summary>
    /// <param name="terms">Terms that are no piece, in a row that fixes one of its sides (<see cref="LoadExtents"/>).</param>
    /// <remarks>The table is in whole units. A side that is a fraction has a rest in every line along it, as pieces and kerfs are whole, and these may take up what is missing to the next unit: no cut grows by more than that.
    /// Without a table: all metal that is no piece as the best rest, less what the cuts cost at least.</remarks>
    public int Most(Cell cell, int load, int terms = 0)
    {
        if (load == 0)
        {
            return _shape.Worth(cell.W, cell.H);
        }

        if (cell.W < rules.LeastX || cell.H < rules.LeastY)
        {
            return Never;
        }

        if (_cuts is null)
        {
            return table!.Most((cell.W + finer - 1) / finer, (cell.H + finer - 1) / finer, _numbers[load]) + slack;
        }

        var known = parts?.Most(cell, load) ?? int.MaxValue;
        if (known == Never || Area(cell, load) is not (> Never and var area))
        {
            return Never;
        }

        return (int)Math.Min(Math.Min(Grain.Most / 2, known), area - _cuts.Of(cell.W, cell.H, load, RateOf(cell), terms));
    }

    /// <summary>The cuts of a rectangle at positions that are not given (<see cref="LeastCuts.Cuts"/>), but those after which less is left than needed; with a table: none.</summary>
    public IEnumerable<(Cell One, int A, int Terms, Cell Other, int B, int Cost)> Cuts(Cell cell, int load, bool crosscuts, bool rips, bool turns, int need) =>
        _cuts is null || !(crosscuts || rips) ? [] : _cuts.Cuts(cell, load, crosscuts, rips, turns, Area(cell, load) - need, RateOf(cell), parts, need);

    /// <summary>What the metal beside the pieces is worth at most, in grains, facing taken off.</summary>
    private double Area(Cell cell, int load)
    {
        var free = ((double)cell.W * cell.H) - _areas[load];
        return free < 0 || !_sizes!.MayHold(cell.W, cell.H, load) ? Never : Math.Ceiling(free * RateOf(cell) * (1 + 1e-9)) + 1 - _facing[load];
    }

    /// <summary>Of a square unit.</summary>
    private double RateOf(Cell cell) =>
        Math.Max(0, _shape.IsKept(cell.W, cell.H) ? Math.Max(_shape.Prices.Keep, _shape.Prices.Scrap) : _shape.Prices.Scrap);
}
