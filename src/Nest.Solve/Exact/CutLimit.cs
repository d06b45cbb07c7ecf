using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>How many cuts a layout of a plate can have for its money.</summary>
internal static class CutLimit
{
    /// <summary>Most cuts of a layout with these pieces that costs no more than this beside the stock's price, in grains: all but the cuts at their least, all metal that is no piece as rest.</summary>
    /// <remarks>Each cut runs through a rectangle with a piece in it, as waste is not divided; so it is as long as the shortest side at least.</remarks>
    public static long Of(PlateShape shape, StockFrame frame, double cost, ReadOnlySpan<int> counts)
    {
        var prices = shape.Prices;
        var shortest = Math.Min(shape.SizeX, shape.SizeY);
        var rest = (double)shape.SizeX * shape.SizeY * (frame.Sheet.SizeX.Nanometres / (double)frame.Usable.SizeX.Nanometres) * (frame.Sheet.SizeY.Nanometres / (double)frame.Usable.SizeY.Nanometres);
        for (var k = 0; k < counts.Length; k++)
        {
            rest -= (double)counts[k] * shape.Pieces[k].SizeX * shape.Pieces[k].SizeY;
            cost -= (double)counts[k] * shape.Pieces[k].Facing;
            shortest = counts[k] > 0 ? Math.Min(shortest, Math.Min(shape.Pieces[k].SizeX, shape.Pieces[k].SizeY)) : shortest;
        }

        var perCut = prices.PerCut + (prices.PerUnit * shortest);
        return perCut <= 0 ? long.MaxValue : (long)((cost - prices.Fixed + (Math.Max(prices.Keep, prices.Scrap) * rest)) / perCut);
    }
}
