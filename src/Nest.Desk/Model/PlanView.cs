using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Plans;

namespace Nest.Desk.Model;

/// <summary>What the page says of a plan.</summary>
internal static class PlanView
{
    public static IReadOnlyList<(string Name, string Value)> Facts(Plan plan, WorkOrder work)
    {
        var currency = plan.Job.Currency;
        var minutes = work.Items.Sum(item => item.Minutes);
        return
        [
            (DeskTexts.Cost, Text($"{currency} {plan.TotalCost.Amount:0.00}")),
            (DeskTexts.Bound, Text($"{currency} {plan.LowerBound.Amount:0.00}")),
            (DeskTexts.Gap, plan.Status == SolveStatus.Proven ? "proven: nothing is cheaper" : Text($"{Math.Ceiling(plan.Gap * 1000m) / 10m:0.0} %")),
            ("To pay for orders", Text($"{currency} {plan.Orders.Sum(order => order.Total.Amount):0.00}")),
            ("From suppliers", Text($"{plan.Orders.Length}")),
            ("At the saw", Text($"{(int)minutes / 60} h {(int)Math.Ceiling(minutes) % 60:00} min")),
            ("Pieces placed", Text($"{plan.Layouts.Sum(layout => (long)layout.Count * layout.Pieces.Length)}")),
            ("Leftovers used", Text($"{CostSheet.BuyLines(plan).Where(line => line.FromRack).Sum(line => line.Count)}")),
        ];
    }

    /// <summary>The gap in two sentences.</summary>
    public static string Sentence(Plan plan) => plan.Status switch
    {
        SolveStatus.Proven => "No other way to cut and buy this batch costs less by a cent: that is proven for these parts, stocks, prices and rules. Nothing is gained by searching longer.",
        SolveStatus.NotFound or SolveStatus.Impossible => "Not all parts can be cut from what is listed. See the parts for the reason.",
        _ => Text($"It is proven that nothing costs less than {plan.Job.Currency} {plan.LowerBound.Amount:0.00}, so at most {Math.Max(0, plan.TotalCost.Amount - plan.LowerBound.Amount):0.00} could still be saved. Searching longer may find some of it, or prove that there is none."),
    };

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
