using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Free spares are as many as were wanted at most, and cost what the job allows: time, and no metal.</summary>
internal static class RulesSpares
{
    /// <summary>Of each part no more spares than were wanted, and none where a needed piece is missing.</summary>
    public static void Counts(PlanFacts facts)
    {
        foreach (var part in facts.Parts.Values)
        {
            var spares = facts.Plan.Layouts.Sum(layout => (long)layout.Count * layout.Pieces.Count(piece => piece.Spare && piece.PartId == part.Id));
            var where = $"part {part.Id}";
            if (part.FreeSpares < 0 || (part.FreeSpares > 0 && part.PerBlank is not null))
            {
                facts.Add("job-value", where, "its free spares are below zero, or it is milled several from one blank");
            }

            if (spares > part.FreeSpares)
            {
                facts.Add("spares-too-many", where, $"{spares} pieces are marked as free spares, {part.FreeSpares} are wanted");
            }

            if (spares > 0 && facts.Plan.Unplaced.Any(missing => missing.PartId == part.Id))
            {
                facts.Add("spares-too-many", where, "it has free spares, and needed pieces are missing");
            }
        }
    }

    /// <summary>No spare has a stock piece to itself, takes metal from an offcut that would be kept, or makes a further size.</summary>
    /// <param name="bare">The layouts without spares.</param>
    public static void Metal(PlanFacts facts, IReadOnlyList<LayoutFacts> layouts, IReadOnlyList<LayoutFacts> bare, long sizes, long bareSizes)
    {
        foreach (var one in layouts.Where(one => !one.Layout.Pieces.IsEmpty && one.Layout.Pieces.All(piece => piece.Spare)))
        {
            facts.Add("spare-takes-metal", one.Name, $"a piece of {one.Stock.Id} is taken for free spares alone");
        }

        if (Credit(layouts) < Credit(bare))
        {
            facts.Add("spare-takes-metal", "plan", "a free spare is cut from an offcut that would be kept without it");
        }

        if (sizes > bareSizes)
        {
            facts.Add("spare-further-size", "plan", "a free spare has a size of blank that its part has nowhere else, and further sizes cost");
        }

        static Int128 Credit(IEnumerable<LayoutFacts> all) => all.Aggregate((Int128)0, (sum, one) => sum + ((Int128)one.Layout.Cost.OffcutCredit.Units * one.Layout.Count));
    }

    /// <summary>What the spares cost: the layouts as they are cut, less the layouts without spares; on average no more than the job allows.</summary>
    public static void Cost(PlanFacts facts, Int128 more)
    {
        var plan = facts.Plan;
        if (plan.SpareCost.Units != more)
        {
            facts.Add("spare-cost", "plan", $"the free spares are said to cost {plan.SpareCost.Amount}, they cost {(decimal)more / Money.UnitsPerCurrency}");
        }

        var spares = plan.Layouts.Sum(layout => (long)layout.Count * layout.Pieces.Count(piece => piece.Spare));
        if (spares > 0 && plan.Job.FreeSparesUpTo is { } most && more > (Int128)most.Units * spares)
        {
            facts.Add("spare-cost", "plan", $"{spares} free spares cost {(decimal)more / Money.UnitsPerCurrency}, allowed are {most.Amount} each");
        }
    }
}
