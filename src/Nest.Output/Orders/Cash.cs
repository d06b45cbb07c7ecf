using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Quantities;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>What has to be paid now, and what lies between that and the cost of the batch: the one place for the summary, the buying sheet and the lists.</summary>
/// <remarks>In the job's currency. Each line, top-up and delivery is rounded to the cent once, as on the order papers, and <see cref="Total"/>
/// is their sum. The steps from there to the cost are rounded to the cent, scrap so that what is
/// printed adds up to the printed cost.</remarks>
internal sealed class Cash
{
    /// <summary>A blank at which no line ends: sign, currency and amount stay together.</summary>
    private const char NoBreak = '\u00A0';

    private Cash(ImmutableArray<(Core.Plans.Order Order, OwnAmounts Amounts)> orders, ImmutableArray<(string Label, decimal Amount)> steps, decimal cost) =>
        (Orders, Steps, Cost) = (orders, steps, cost);

    /// <summary>The orders with their amounts in the job's currency.</summary>
    public ImmutableArray<(Core.Plans.Order Order, OwnAmounts Amounts)> Orders { get; }

    /// <summary>All orders with delivery, in cents.</summary>
    public decimal Total => Orders.Sum(entry => entry.Amounts.Total);

    /// <summary>From what is paid to what the batch costs; those of zero are left out.</summary>
    public ImmutableArray<(string Label, decimal Amount)> Steps { get; }

    /// <summary>What the batch costs, in cents: <see cref="Total"/> and the steps.</summary>
    public decimal Cost { get; }

    public static Cash Of(SheetContext context)
    {
        // Free spares are in no price: their time is told beside it.
        var plan = SparesOut.Of(context.Plan);
        var texts = context.Texts;
        var orders = (plan.Orders.IsEmpty ? Purchasing.Orders(plan.Job, plan.Layouts) : plan.Orders)
            .Select(order => (order, new OwnAmounts(context, order, home: true))).ToImmutableArray();
        var rack = plan.Layouts.Where(layout => plan.StockOf(layout).IsLeftover).Aggregate(Money.Zero, (sum, layout) => sum + (layout.Cost.Metal * layout.Count));
        var settings = SettingCosts.Of(plan.Job, plan.Layouts);
        var fuss = FussCosts.Of(plan.Job, plan.Layouts);
        (string Label, Money Exact)[] exact =
        [
            (texts.CashRack, rack),
            (texts.CashSaw, Sum(layout => layout.Cost.Saw) - fuss.Loading),
            (texts.CashLoading, fuss.Loading),
            (texts.CashSettings, settings.Settings),
            (texts.CashCarried, Money.Zero - settings.CarriedOver),
            (texts.CashFacing, Sum(layout => layout.Cost.Facing)),
            (texts.CashSizes, fuss.FurtherSizes),
            (texts.CashOrdering, fuss.Orders),
            (texts.CashOffcuts, Money.Zero - Sum(layout => layout.Pieces.IsEmpty ? Money.Zero : layout.Cost.OffcutCredit)),
            (texts.CashWhole, Money.Zero - Sum(layout => layout.Pieces.IsEmpty ? layout.Cost.OffcutCredit : Money.Zero)),
            (texts.CashScrap, Money.Zero - Sum(layout => layout.Cost.ScrapCredit)),
        ];
        var cost = decimal.Round(plan.TotalCost.Amount, 2, MidpointRounding.AwayFromZero);
        var cents = Cents([.. exact.Select(step => step.Exact.Amount)], cost - orders.Sum(entry => entry.Item2.Total));
        return new(orders, [.. exact.Zip(cents, (step, amount) => (step.Label, amount)).Where(step => step.amount != 0m)], cost);

        Money Sum(Func<Core.Plans.Layout, Money> of) => plan.Layouts.Aggregate(Money.Zero, (sum, layout) => sum + (of(layout) * layout.Count));
    }

    /// <summary><c>To pay now: EUR 27.51 (orders with delivery)</c>.</summary>
    public static string PayText(SheetContext context) =>
        SheetContext.Fill(context.Texts.CashNow, Amount(context, Of(context).Total));

    /// <summary>What makes the cost of it: <c>+ EUR 3.10 saw − EUR 15.75 offcuts … = EUR 14.86, the cost of the batch</c>.</summary>
    public static string DifferenceText(SheetContext context)
    {
        var cash = Of(context);
        var steps = cash.Steps.Select(step => $"{(step.Amount < 0m ? "−" : "+")}{NoBreak}{Amount(context, Math.Abs(step.Amount)).Replace(' ', NoBreak)} {step.Label}");
        return string.Join(", ", steps) + (cash.Steps.IsEmpty ? "" : " ") + SheetContext.Fill(context.Texts.CashCost, Amount(context, cash.Cost));
    }

    private static string Amount(SheetContext context, decimal amount) => $"{context.Job.Currency} {context.Options.Numbers.Number(amount, 2)}";

    /// <summary>Amounts rounded to the cent so that they add up. What rounding leaves, a cent or two, goes to the last one, scrap, which
    /// stands nowhere else on the page; where there is none, to the largest amount.</summary>
    private static decimal[] Cents(decimal[] exact, decimal sum)
    {
        var cents = exact.Select(amount => decimal.Round(amount, 2, MidpointRounding.AwayFromZero)).ToArray();
        var largest = Enumerable.Range(0, exact.Length).OrderByDescending(at => Math.Abs(exact[at])).First();
        cents[exact[^1] != 0m ? exact.Length - 1 : largest] += sum - cents.Sum();
        return cents;
    }
}
