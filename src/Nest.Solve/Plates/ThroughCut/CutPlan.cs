namespace Nest.Solve.Plates.ThroughCut;

/// <summary>A complete plan as sheets, with its exact cost.</summary>
internal sealed class CutPlan
{
    public CutPlan(ThroughModel model, IEnumerable<CutSheet> sheets)
    {
        Sheets = [.. sheets];
        foreach (var sheet in Sheets)
        {
            Cost = checked(Cost + SheetCost(model, sheet));
        }
    }

    public List<CutSheet> Sheets { get; }
    public long Cost { get; }

    public static long SheetCost(ThroughModel model, CutSheet sheet)
    {
        var cost = model.StockCost[sheet.Stock];
        if (model.HasPieceCost)
        {
            foreach (ref readonly var node in sheet.Nodes)
            {
                if (node.Item >= 0)
                {
                    cost = checked(cost + model.CostOf(sheet.Stock, node.Item));
                }
            }
        }

        return cost;
    }
}
