using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Output.Sheets;

/// <summary>One thing that somebody has to lift: a stock piece as it comes.</summary>
internal sealed record Heaviest(Stock Stock, Mass Mass);

/// <summary>What to be careful with, chosen by what the plan cuts.</summary>
internal static class Cautions
{
    public static Heaviest? HeaviestOf(Plan plan)
    {
        Heaviest? heaviest = null;
        foreach (var layout in plan.Layouts)
        {
            var stock = plan.StockOf(layout);
            var mass = stock.PieceMass(plan.Job.MaterialOf(stock.MaterialId));
            if (heaviest is null || mass > heaviest.Mass)
            {
                heaviest = new(stock, mass);
            }
        }

        return heaviest;
    }

    /// <summary>For the one at the saw: all that applies; lifting only where something is heavy.</summary>
    public static List<string> OfSaw(SheetContext context) => Of(context, false);

    /// <summary>All of it, with the heaviest piece whatever it weighs.</summary>
    public static List<string> Of(SheetContext context) => Of(context, true);

    private static List<string> Of(SheetContext context, bool always)
    {
        var texts = context.Texts;
        var plan = context.Plan;
        var lines = new List<string> { texts.CautionManual, texts.CautionSaw, texts.CautionClamp, texts.CautionSmall };
        if (HeaviestOf(plan) is { } heaviest && (always || heaviest.Mass > plan.Job.LiftLimit))
        {
            var stock = $"{context.FormOf(heaviest.Stock)} {heaviest.Stock.MaterialId}, {context.SizeOf(heaviest.Stock)}";
            var where = SheetContext.Text(plan.Layouts.First(layout => layout.StockId == heaviest.Stock.Id).Number);
            lines.Add(heaviest.Mass > plan.Job.LiftLimit
                ? SheetContext.Fill(texts.CautionLift, context.MassOf(plan.Job.LiftLimit), texts.LiftShort, stock, context.MassOf(heaviest.Mass), where)
                : SheetContext.Fill(texts.CautionLiftNone, stock, context.MassOf(heaviest.Mass), where));
        }

        if (plan.Layouts.Select(plan.StockOf).Any(stock => IsLong(plan.Job, stock)))
        {
            lines.Add(SheetContext.Fill(texts.CautionLong, context.Length(plan.Job.LongBar)));
        }

        if (plan.Layouts.Select(plan.StockOf).Any(stock => stock.Form == Form.Plate && stock.CutFor is null))
        {
            lines.Add(texts.CautionPlates);
        }

        lines.Add(texts.CautionEdges);
        var materials = plan.Layouts.Select(layout => plan.Job.MaterialOf(plan.StockOf(layout).MaterialId)).Distinct().ToArray();
        var burning = materials.Where(material => Burns(material.Family)).Select(material => material.Id).ToArray();
        if (burning.Length > 0)
        {
            lines.Add(SheetContext.Fill(texts.CautionChips, string.Join(", ", burning)));
        }

        var plastics = materials.Where(material => Is(material.Family, "plastic")).Select(material => material.Id).ToArray();
        if (plastics.Length > 0)
        {
            lines.Add(SheetContext.Fill(texts.CautionPlastic, string.Join(", ", plastics)));
        }

        return lines;
    }

    public static bool IsLong(Job job, Stock stock) => stock.Form.IsBar() && stock.Length >= job.LongBar;

    /// <summary>Layout numbers that a stock is used in, and the lines to fetch and to take, in the job's order.</summary>
    public static (List<BuyLine> Rack, List<BuyLine> Delivery) Lines(Plan plan)
    {
        var lines = CostSheet.BuyLines(plan);
        return ([.. lines.Where(line => line.FromRack)], [.. lines.Where(line => !line.FromRack)]);
    }

    // Magnesium and titanium chips are combustible metal (fire class D). Fine aluminium chips are too, but a saw hardly makes them.
    private static bool Burns(string family) => Is(family, "magnesium") || Is(family, "titanium");

    private static bool Is(string family, string name) => string.Equals(family, name, StringComparison.OrdinalIgnoreCase);
}
