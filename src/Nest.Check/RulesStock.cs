namespace Nest.Check;

/// <summary>The plan uses no more stock than there is.</summary>
internal static class RulesStock
{
    /// <summary>Layouts are numbered from 1 in their order.</summary>
    public static void Numbers(PlanFacts facts)
    {
        for (var index = 0; index < facts.Plan.Layouts.Length; index++)
        {
            var number = facts.Plan.Layouts[index].Number;
            if (number != index + 1)
            {
                facts.Add("layout-number", $"layout {number}", $"should be number {index + 1}");
            }
        }
    }

    /// <summary>Each leftover once, of every other stock no more than are available.</summary>
    public static void Available(PlanFacts facts)
    {
        foreach (var stock in facts.Stocks.Values)
        {
            var used = facts.Plan.Layouts
                .Where(layout => string.Equals(layout.StockId, stock.Id, StringComparison.Ordinal))
                .Sum(layout => (long)layout.Count);
            var where = $"stock {stock.Id}";
            if (stock.RackMark is not null && used > (stock.Available ?? 1))
            {
                facts.Add("leftover-used-twice", where, $"used {used} times, the rack has {stock.Available ?? 1}");
            }
            else if (stock.RackMark is null && stock.Available is { } available && used > available)
            {
                facts.Add("stock-overdrawn", where, $"{used} used, {available} available");
            }
        }
    }
}
