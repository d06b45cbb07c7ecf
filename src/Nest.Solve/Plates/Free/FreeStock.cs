namespace Nest.Solve.Plates.Free;

/// <summary>One kind of plate, inflated by the gap, with its empty maximal spaces beside the keep-outs.</summary>
internal sealed class FreeStock
{
    public FreeStock(int index, PlateStock stock, long kerf)
    {
        Index = index;
        SizeX = stock.SizeX + kerf;
        SizeY = stock.SizeY + kerf;
        Cost = stock.Cost;
        Limit = stock.Limit ?? int.MaxValue;
        Stock = stock;
        var spaces = new MaximalSpaces();
        spaces.Reset([new FreeSpace(0, 0, SizeX, SizeY)]);
        foreach (var k in stock.KeepOuts)
        {
            // The gap is kept left and below by the piece's own inflation, right and above by the keep-out's. Clipped to the plate
            // only after that, since a keep-out just outside still asks for its gap.
            var (x1, y1) = (Math.Max(0, k.X), Math.Max(0, k.Y));
            var (x2, y2) = (Math.Min(SizeX, k.X + k.SizeX + kerf), Math.Min(SizeY, k.Y + k.SizeY + kerf));
            if (x1 < x2 && y1 < y2)
            {
                spaces.Take(x1, y1, x2, y2, 1, 1);
            }
        }

        Start = spaces.Spaces.ToArray();
        Area = AreaOf(Start);
    }

    public int Index { get; }

    public PlateStock Stock { get; }

    public long SizeX { get; }

    public long SizeY { get; }

    public long Cost { get; }

    public int Limit { get; }

    public FreeSpace[] Start { get; }

    /// <summary>Inflated area without the inflated keep-outs.</summary>
    public Int128 Area { get; }

    public bool Holds(long sizeX, long sizeY)
    {
        foreach (ref readonly var s in Start.AsSpan())
        {
            if (s.SizeX >= sizeX && s.SizeY >= sizeY)
            {
                return true;
            }
        }

        return false;
    }

    /// <summary>Area of the union of rectangles, by strips between all their Y.</summary>
    private static Int128 AreaOf(FreeSpace[] spaces)
    {
        var levels = spaces.SelectMany(s => new[] { s.Y1, s.Y2 }).Distinct().Order().ToArray();
        Int128 area = 0;
        for (var l = 0; l + 1 < levels.Length; l++)
        {
            var (low, high) = (levels[l], levels[l + 1]);
            long covered = 0;
            var end = long.MinValue;
            foreach (var s in spaces.Where(s => s.Y1 <= low && s.Y2 >= high).OrderBy(s => s.X1))
            {
                covered += Math.Max(0, s.X2 - Math.Max(s.X1, end));
                end = Math.Max(end, s.X2);
            }

            area += (Int128)covered * (high - low);
        }

        return area;
    }
}
