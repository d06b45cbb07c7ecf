namespace Nest.Solve.Bars;

/// <summary>The rows of the master: a demand for each type, then an upper and a lower limit for each range of bars.</summary>
internal static class MasterRows
{
    /// <summary>An empty programme over these rows with these right sides.</summary>
    public static LinearProgram Programme(BarModel model, ReadOnlySpan<double> rightSides)
    {
        int rows = Count(model);
        var senses = new RowSense[rows];
        var price = new double[rows];
        long dearest = Enumerable.Range(0, model.Stocks).Max(s => Math.Max(1, model.Stock(s).Cost));
        for (int r = 0; r < rows; r++)
        {
            senses[r] = IsUpper(model, r) ? RowSense.AtMost : RowSense.AtLeast;
            price[r] = r < model.Types ? 2.0 * Emergency(model, r, dearest) : 20.0 * dearest;
        }

        return new LinearProgram(senses, rightSides.ToArray(), price);
    }

    public static int Count(BarModel model) => model.Types + (2 * model.Ranges);

    /// <summary>Small amounts on the right sides against ties: everything a little harder to serve.</summary>
    public static double[] Noise(BarModel model, int seed)
    {
        var random = new Random(seed);
        var noise = new double[Count(model)];
        for (int r = 0; r < noise.Length; r++)
        {
            noise[r] = 1e-6 * (1 + random.NextDouble()) * (r < model.Types || IsUpper(model, r) ? 1 : -1);
        }

        return noise;
    }

    private static bool IsUpper(BarModel model, int row) => row >= model.Types && row < model.Types + model.Ranges;

    /// <summary>About what a piece costs that comes from a bar of its own.</summary>
    private static double Emergency(BarModel model, int type, long dearest)
    {
        double best = double.PositiveInfinity;
        for (int s = 0; s < model.Stocks; s++)
        {
            if (model.MostCopies[s][type] > 0)
            {
                best = Math.Min(best, model.Stock(s).Cost + (double)model.PieceCost(s, type));
            }
        }

        return Math.Max(1, double.IsInfinity(best) ? dearest : best);
    }
}
