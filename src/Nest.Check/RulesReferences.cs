using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Check;

/// <summary>Every name that the plan uses exists in the job.</summary>
internal static class RulesReferences
{
    /// <summary>The layout with its names looked up; null with a finding when one is unknown.</summary>
    public static LayoutFacts? Resolve(PlanFacts facts, Layout layout)
    {
        var where = $"layout {layout.Number}";
        var whole = true;
        Saw? saw;
        if (!facts.Stocks.TryGetValue(layout.StockId, out var stock))
        {
            facts.Add("unknown-stock", where, $"the job has no stock {layout.StockId}");
            whole = false;
        }

        if (layout.SawId == Saw.SupplierId && stock is not null)
        {
            // The supplier's saw leaves nothing to do: no kerf, no trims, no cost beside the price.
            saw = new() { Id = Saw.SupplierId, Kind = stock.Form == Form.Plate ? SawKind.PlateSaw : SawKind.BarSaw, Kerf = default };
        }
        else if (!facts.Saws.TryGetValue(layout.SawId, out saw))
        {
            facts.Add("unknown-saw", where, $"the job has no saw {layout.SawId}");
            whole = false;
        }

        foreach (var id in layout.Pieces.Select(piece => piece.PartId).Distinct(StringComparer.Ordinal))
        {
            if (!facts.Parts.ContainsKey(id))
            {
                facts.Add("unknown-part", where, $"the job has no part {id}");
                whole = false;
            }
        }

        if (stock is null || saw is null || !whole)
        {
            return null;
        }

        if (!facts.Materials.TryGetValue(stock.MaterialId, out var material))
        {
            facts.Add("unknown-material", where, $"the job has no material {stock.MaterialId}");
            return null;
        }

        return new(layout, stock, material, saw);
    }
}
