using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>How many cuts layouts of plates can have for their money.</summary>
internal static class CutLimit
{
    /// <summary>Most cuts of a layout with these pieces that costs no more than this beside the stock's price, in grains: all but the cuts at their least, all metal that is no piece as rest.</summary>
    /// <remarks>Each cut runs through a rectangle with a piece in it, as waste is not divided; so it is as long as the shortest side at least.</remarks>
    public static long Of(PlateShape shape, StockFrame frame, double cost, ReadOnlySpan<int> counts) => Of([(shape, frame, 1)], cost, counts);

    /// <summary>The same of several plates that have these pieces between them.</summary>
    /// <param name="plates">Of one component, each so often.</param>
    public static long Of(IReadOnlyList<(PlateShape Shape, StockFrame Frame, int Count)> plates, double cost, ReadOnlySpan<int> counts)
    {
        foreach (var (shape, frame, count) in plates)
        {
            cost += count * ((RateOf(shape) * shape.SizeX * shape.SizeY * (frame.Sheet.SizeX.Nanometres / (double)frame.Usable.SizeX.Nanometres)
                * (frame.Sheet.SizeY.Nanometres / (double)frame.Usable.SizeY.Nanometres)) - shape.Prices.Fixed);
        }

        var perCut = double.PositiveInfinity;
        for (var k = 0; k < counts.Length; k++)
        {
            var metal = double.PositiveInfinity;
            foreach (var (shape, _, _) in plates)
            {
                var piece = shape.Pieces[k];
                if (counts[k] > 0 && piece.SizeX > 0)
                {
                    metal = Math.Min(metal, piece.Facing + (RateOf(shape) * piece.SizeX * piece.SizeY));
                    perCut = Math.Min(perCut, CutOf(shape, Math.Min(piece.SizeX, piece.SizeY)));
                }
            }

            cost -= counts[k] > 0 && double.IsFinite(metal) ? counts[k] * metal : 0;
        }

        perCut = double.IsFinite(perCut) ? perCut : plates.Min(plate => CutOf(plate.Shape, Math.Min(plate.Shape.SizeX, plate.Shape.SizeY)));
        return perCut <= 0 ? long.MaxValue : (long)(cost / perCut);
    }

    private static double CutOf(PlateShape shape, int length) => shape.Prices.PerCut + (shape.Prices.PerUnit * length);

    private static double RateOf(PlateShape shape) => Math.Max(shape.Prices.Keep, shape.Prices.Scrap);
}
