namespace Nest.Solve.Exact;

/// <summary>A bound on what any load of a plate is worth at given values of the blanks, without a table.</summary>
/// <remarks>
/// Blanks and rests, each grown by a kerf, fit into the plate grown by a kerf; every edge of a blank lies on the plate's boundary or on a cut,
/// which has two sides, and n blanks need n − 1 cuts. So a load is worth at most a constant and so much per piece, and the pieces are a
/// continuous knapsack within the demand (Dantzig 1957).
/// </remarks>
internal static class QuickWorth
{
    /// <summary>In grains, beside the plate's fixed cost and its price.</summary>
    public static long Of(PlateShape shape, ReadOnlySpan<int> values)
    {
        var (kerf, prices) = (shape.Kerf, shape.Prices);
        var room = (shape.SizeX + (double)kerf) * (shape.SizeY + (double)kerf);
        var rate = shape.IsKept(shape.SizeX, shape.SizeY) ? prices.Keep : prices.Scrap;
        var worth = (rate * room) + ((shape.SizeX + shape.SizeY) * prices.PerUnit) + prices.PerCut;
        var gains = new List<(double Gain, double Size, int Most)>();
        for (var k = 0; k < values.Length; k++)
        {
            var piece = shape.Pieces[k];
            if (piece.SizeX > 0)
            {
                var size = (piece.SizeX + (double)kerf) * (piece.SizeY + (double)kerf);
                var gain = values[k] - piece.Facing - (rate * size) - ((piece.SizeX + piece.SizeY) * prices.PerUnit) - prices.PerCut;
                if (gain > 0)
                {
                    gains.Add((gain, size, piece.Demand));
                }
            }
        }

        foreach (var (gain, size, most) in gains.OrderByDescending(entry => entry.Gain / entry.Size))
        {
            var pieces = Math.Min(most, room / size);
            worth += pieces * gain;
            room -= pieces * size;
        }

        return (long)Math.Ceiling(worth * (1 + 1e-12)) + 1;
    }
}
