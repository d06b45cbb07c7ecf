using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Desk.Model;

/// <summary>What the page says of a plan.</summary>
internal static class PlanView
{
    /// <summary>Parts whose free spares are named.</summary>
    private const int NamedSpares = 4;

    public static IReadOnlyList<(string Name, string Value)> Facts(Plan plan, WorkOrder work)
    {
        var currency = plan.Job.Currency;
        var minutes = work.Items.Sum(item => item.Minutes);
        var parts = plan.Job.Parts.ToDictionary(part => part.Id, part => part.Gang?.Parts ?? 1, StringComparer.Ordinal);
        return
        [
            (DeskTexts.Cost, Text($"{currency} {plan.TotalCost.Amount:0.00}")),
            (DeskTexts.Bound, plan.Bound.Value is { } bound ? Text($"{currency} {bound.Amount:0.00}") : "no bound is known"),
            (DeskTexts.Gap, plan.Status == SolveStatus.Proven ? "proven: nothing is cheaper" : plan.Gap is { } gap ? Text($"{Math.Ceiling(gap * 1000m) / 10m:0.0} %") : "not known"),
            ("To pay for orders", Text($"{currency} {plan.Orders.Sum(order => order.Total.Amount):0.00}")),
            ("From suppliers", Text($"{plan.Orders.Length}")),
            ("At the saw", Duration(minutes)),
            ("Pieces placed", Text($"{plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Where(piece => !piece.Spare).Sum(piece => (long)parts[piece.PartId]))}")),
            ("Leftovers used", Text($"{CostSheet.BuyLines(plan).Where(line => line.FromRack).Sum(line => line.Count)}")),
            .. plan.Job.Parts.Any(part => part.FreeSpares > 0) ? [(DeskTexts.FreeSpares, Spares(plan))] : Array.Empty<(string, string)>(),
        ];
    }

    /// <summary>The gap in two sentences, and what the time of free spares costs.</summary>
    public static string Sentence(Plan plan) => Proven(plan) + (plan.SpareCost == Money.Zero ? "" : Text($" The time of the free spares costs {plan.Job.Currency} {plan.SpareCost.Amount:0.00}, which is in no price here."));

    private static string Proven(Plan plan) => plan.Status switch
    {
        SolveStatus.Proven => "No other way to cut and buy this batch costs less by a cent: that is proven for these parts, stocks, prices and rules. Nothing is gained by searching longer.",
        SolveStatus.NotFound or SolveStatus.Impossible => "Not all parts can be cut from what is listed. See the parts for the reason.",
        _ when plan.IsContradicted => "The bound that was found contradicts the plan: that is a fault of Nest. The plan was checked and can be cut; please report the job.",
        _ when plan.Bound.Value is { } bound => Text($"It is proven that nothing costs less than {plan.Job.Currency} {bound.Amount:0.00}, so at most {plan.TotalCost.Amount - bound.Amount:0.00} could still be saved. Searching longer may find some of it, or prove that there is none."),
        _ => "Nothing is proven yet of how much cheaper it could be. Searching longer gives a bound.",
    };

    /// <summary>How many of which part.</summary>
    private static string Spares(Plan plan)
    {
        var laid = SparesOut.Count(plan.Layouts);
        var names = plan.Job.Parts.Where(part => laid.ContainsKey(part.Id)).Select(part => Text($"{laid[part.Id]} × {part.Id}")).ToList();
        var more = names.Count > NamedSpares ? Text($" and {names.Count - NamedSpares} more") : "";
        return Text($"{laid.Values.Sum()} of {plan.Job.Parts.Sum(part => (long)part.FreeSpares)}") + (names.Count == 0 ? "" : $": {string.Join(", ", names.Take(NamedSpares))}{more}");
    }

    /// <summary>Hours and minutes, rounded up.</summary>
    public static string Duration(decimal minutes)
    {
        var whole = (long)Math.Ceiling(minutes);
        return whole < 60 ? Text($"{whole} min") : Text($"{whole / 60} h {whole % 60:00} min");
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
