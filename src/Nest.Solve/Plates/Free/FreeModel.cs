namespace Nest.Solve.Plates.Free;

/// <summary>A problem as the free kernel sees it: gap added to pieces and plates, keep-outs taken out of the plates.</summary>
/// <remarks>Adding the gap at the right and the top of every piece, keep-out and plate is exact: two pieces are a gap apart in X or in
/// Y exactly when the inflated rectangles do not overlap, and the border asks for no gap.</remarks>
internal sealed class FreeModel
{
    public FreeModel(PlateProblem problem)
    {
        Problem = problem;
        var kerf = problem.Kerf;
        Kinds = problem.Items.Length;
        SizeX = [.. problem.Items.Select(i => i.SizeX + kerf)];
        SizeY = [.. problem.Items.Select(i => i.SizeY + kerf)];
        Turns = [.. problem.Items.Select(i => i.MayTurn && i.SizeX != i.SizeY)];
        Demand = [.. problem.Items.Select(i => i.Demand)];
        Area = [.. SizeX.Zip(SizeY, (x, y) => (double)x * y)];
        Stocks = [.. problem.Stocks.Select((s, i) => new FreeStock(i, s, kerf))];
        Allowed = new bool[Stocks.Length, Kinds];
        for (var s = 0; s < Stocks.Length; s++)
        {
            for (var k = 0; k < Kinds; k++)
            {
                Allowed[s, k] = problem.PieceCost?[s, k] != PlateProblem.Forbidden && Stocks[s].Limit > 0
                    && (Stocks[s].Holds(SizeX[k], SizeY[k]) || (Turns[k] && Stocks[s].Holds(SizeY[k], SizeX[k])));
            }
        }
    }

    public PlateProblem Problem { get; }

    public int Kinds { get; }

    /// <summary>Inflated sizes.</summary>
    public long[] SizeX { get; }

    /// <inheritdoc cref="SizeX"/>
    public long[] SizeY { get; }

    /// <summary>Whether turning makes a difference and is allowed.</summary>
    public bool[] Turns { get; }

    public int[] Demand { get; }

    /// <summary>Inflated areas; only steer the search.</summary>
    public double[] Area { get; }

    public FreeStock[] Stocks { get; }

    /// <summary>Whether the piece may and can be cut from the stock.</summary>
    public bool[,] Allowed { get; }

    public long PieceCost(int stock, int kind) => Problem.PieceCost?[stock, kind] ?? 0;
}
