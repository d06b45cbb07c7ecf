namespace Nest.Solve.Plates.Free;

/// <summary>One filled plate.</summary>
internal sealed record FreePlate(int Stock, FreePlaced[] Placed, double Area, long Cost)
{
    public static FreePlate From(FreeModel model, int stock, ReadOnlySpan<FreePlaced> placed)
    {
        var cost = model.Stocks[stock].Cost;
        var area = 0.0;
        foreach (ref readonly var p in placed)
        {
            cost += model.PieceCost(stock, p.Kind);
            area += model.Area[p.Kind];
        }

        return new FreePlate(stock, placed.ToArray(), area, cost);
    }
}
