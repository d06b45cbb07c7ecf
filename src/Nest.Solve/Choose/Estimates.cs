namespace Nest.Solve.Choose;

/// <summary>Rough costs of one piece on one stock, to know where to look first. Nothing that is proven depends on them.</summary>
internal static class Estimates
{
    /// <summary>Its share of the stock at a middle way between full price (the rest is scrap) and lower cost (the rest is kept), plus
    /// its own sawing and facing; infinite where it does not come from the stock.</summary>
    public static double PieceCost(Component component, int stock, int item)
    {
        if (component.Fits[stock, item] is null)
        {
            return double.PositiveInfinity;
        }

        var frame = component.Stocks[stock];
        var kerf = component.Units(frame.Saw.Kerf);
        var share = (component.SizeX(stock, item) + kerf) / (double)(component.Units(frame.Usable.SizeX) + kerf);
        if (!frame.IsBar)
        {
            share *= (component.SizeY(stock, item) + kerf) / (double)(component.Units(frame.Usable.SizeY) + kerf);
        }

        return component.LowerCosts.Piece[stock, item]
            + (share * (frame.Stock.PiecePrice.Units + component.LowerCosts.Stock[stock]) / 2);
    }

    /// <summary>Stocks worth searching on: for each item, of bars and of plates, its cheapest unlimited ones and its cheapest limited
    /// ones.</summary>
    public static bool[] Shortlist(Component component, int unlimited, int limited)
    {
        var listed = new bool[component.Stocks.Length];
        for (var i = 0; i < component.Items; i++)
        {
            var item = i;
            foreach (var half in Enumerable.Range(0, listed.Length)
                .Where(s => component.Fits[s, item] is not null && component.Stocks[s].Stock.Available != 0)
                .GroupBy(s => (Unlimited: component.Stocks[s].Stock.Available is null, component.Stocks[s].IsBar)))
            {
                foreach (var s in half.OrderBy(s => PieceCost(component, s, item)).Take(half.Key.Unlimited ? unlimited : limited))
                {
                    listed[s] = true;
                }
            }
        }

        return listed;
    }
}
