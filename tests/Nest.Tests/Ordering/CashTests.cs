using System.Text.RegularExpressions;
using Nest.Cli.Commands;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output;
using Nest.Output.Files;
using Nest.Output.Orders;
using Nest.Output.Scenes;
using Nest.Output.Sheets;
using Nest.Solve.Batch;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Ordering;

/// <summary>What is paid, as it stands on the screen, on the buying sheet and in the lists. Expected amounts are worked by hand.</summary>
public sealed class CashTests
{
    private const string Metal = "Invented Metals";

    // A bar of 1000 mm less two trims of 10 mm holds three blanks of 302 mm: eight pieces are three bars. From the third on all cost 12.221: 36.663,
    // 36.66 on the order. Delivery 9.50: 46.16. Listed they would be 39.999.
    private static Job WithBreak() => Job(
        [Part("B", 300, 40, 10, 8, Forms.FlatBar) with { MayTurn = false }],
        [Bar("bar", 50, 20, 1000, 13.333m) with { Terms = new() { Breaks = [new(3, Money.FromAmount(12.221m))] } }]) with
    {
        Suppliers = [new() { Name = Metal, Delivery = Money.FromAmount(9.50m) }],
        OffcutRules = [],
    };

    // One bar of 20 is cut; the order costs 90 at least, so that whole bars, worth more than half of their price on the rack, are put to it.
    private static Job WithMinimum() => Job(
        [Part("B", 300, 40, 10, 2, Forms.FlatBar) with { MayTurn = false }], [Bar("bar", 50, 20, 1000, 20)]) with
    {
        Suppliers = [new() { Name = Metal, MinimumOrder = Money.FromAmount(90), Delivery = Money.FromAmount(12) }],
    };

    private static SheetContext Context(Plan plan) => new(plan, new());

    private static string Summary(Plan plan)
    {
        using var text = new StringWriter();
        PlanSummary.Write(plan, text, new());
        return text.ToString();
    }

    [Fact]
    public void Buying_list_adds_up_to_what_the_orders_ask_for()
    {
        var context = Context(JointSolverTests.Solve(WithBreak()));
        var sheet = PlanTables.Buy(context);
        var total = sheet.Heads.ToList().IndexOf("price_total");

        sheet.Rows.Select(row => (row[0], row[total])).Should().Equal(("bar", 36.66m), ("Delivery", 9.5m));
        sheet.Rows[0][sheet.Heads.ToList().IndexOf("price_each")].Should().Be(12.22m);
        sheet.Rows[0][sheet.Heads.ToList().IndexOf("price_listed_each")].Should().Be(13.333m);
        sheet.Rows.Sum(row => (decimal)row[total]!).Should().Be(new OwnAmounts(context, context.Plan.Orders.Single()).Total).And.Be(46.16m);
    }

    [Fact]
    public void A_leftover_is_not_paid_for_in_the_buying_list()
    {
        var job = WithBreak();
        var plan = JointSolverTests.Solve(job with { Stocks = [Bar("rack", 50, 20, 990, 2, 1) with { RackMark = "R1", Supplier = null }, .. job.Stocks] });
        var sheet = PlanTables.Buy(Context(plan));
        var rack = sheet.Rows.Single(row => (string?)row[sheet.Heads.ToList().IndexOf("rack_mark")] == "R1");

        (rack[sheet.Heads.ToList().IndexOf("price_total")], rack[sheet.Heads.ToList().IndexOf("rack_value_total")]).Should().Be(("", 2m));
    }

    [Fact]
    public void Summary_and_buying_sheet_say_what_is_paid_now_and_what_makes_the_cost_of_it()
    {
        var plan = JointSolverTests.Solve(WithBreak());
        var lines = Summary(plan).Split('\n');
        var shown = string.Join('\n', BuyingSheet.Pages(Context(plan), Paper.A4).SelectMany(page => page.Elements.OfType<TextElement>()).Select(text => text.Text));

        lines[1].Should().StartWith($"EUR {plan.TotalCost}, ");
        lines[2].Should().Be("To pay now: EUR 46.16 (orders with delivery)");
        shown.Should().Contain(lines[2]);
        Regex.Replace(string.Join(' ', lines.Skip(3).Take(3)), @"\s+", " ").Should().Contain($"= EUR {plan.TotalCost}, what the batch costs.");
        shown.Replace('\n', ' ').Should().Contain($"= EUR {plan.TotalCost}, what the batch costs.");
    }

    [Theory]
    [InlineData(1), InlineData(2), InlineData(3), InlineData(4), InlineData(5), InlineData(6)]
    public void From_cash_to_cost_the_printed_amounts_add_up(int seed)
    {
        var plan = JointSolverTests.Solve(SmallOrders.Random(seed));
        var cash = Cash.Of(Context(plan));

        (cash.Total + cash.Steps.Sum(step => step.Amount)).Should().Be(cash.Cost);
        cash.Cost.Should().Be(decimal.Round(plan.TotalCost.Amount, 2, MidpointRounding.AwayFromZero));
        cash.Total.Should().BeApproximately(plan.Orders.Sum(order => order.Total.Amount), 0.005m * plan.Job.Stocks.Length);
    }

    [Fact]
    public void Stock_bought_whole_for_the_rack_says_why_and_is_no_work()
    {
        var plan = JointSolverTests.Solve(WithMinimum());
        var whole = plan.Layouts.Where(layout => layout.Pieces.IsEmpty).Sum(layout => layout.Count);
        whole.Should().BeGreaterThan(0, "else there is nothing to tell");
        var text = Summary(plan);
        var sheet = string.Join(' ', BuyingSheet.Pages(Context(plan), Paper.A4).SelectMany(page => page.Elements.OfType<TextElement>()).Select(element => element.Text.Replace('\n', ' ')));

        text.Should().Contain($"{whole} × bar to reach the smallest order of EUR 90.00 at {Metal}").And.NotMatchRegex(@"\b0 × +yield");
        var saw = CutSheet.Pages(Context(plan), Core.Cutting.CutSequencer.Order(plan), Paper.A4)[0].Elements.OfType<TextElement>().Select(element => element.Text);
        string.Join(' ', saw).Should().Contain($"{whole} × whole to the rack", "the one who takes the delivery in reads this sheet");
        sheet.Should().Contain($"{whole} × bar whole for the rack, to reach the smallest order of EUR 90.00 at {Metal}");
    }

    [Fact]
    public void Reasons_are_wrapped_and_never_cut()
    {
        var reason = string.Join(' ', Enumerable.Range(1, 60).Select(n => $"because{n}")) + " " + new string('x', 150) + " end";
        var text = Summary(JointSolverTests.Solve(WithBreak()) with { Unplaced = [new("B", 1, reason)] });

        Regex.Replace(text, @"\s", "").Should().Contain(reason.Replace(" ", "", StringComparison.Ordinal));
        text.Split('\n').Should().OnlyContain(line => line.TrimEnd('\r').Length <= 100);
    }

    // Six pieces of each at 7.13 and 7.95: the mean is 7.54, the total stays 90.48. The third is 10 mm longer and keeps its own price.
    [Fact]
    public void Parts_with_equal_blanks_share_one_price_and_the_total_stays()
    {
        var plan = JointSolverTests.Solve(Job(
            [Part("left", 200, 40, 10, 6, Forms.FlatBar), Part("right", 200, 40, 10, 6, Forms.FlatBar), Part("longer", 210, 40, 10, 6, Forms.FlatBar)], [Bar("bar", 50, 20, 1000, 20)]));
        plan = plan with { PartCosts = [Cost("left", 7.13m), Cost("right", 7.95m), Cost("longer", 9m)] };
        var quote = Quote.Of(plan, new(0));

        quote.Lines.Select(line => (line.Part.Id, line.Each)).Should().Equal(("left", 7.54m), ("right", 7.54m), ("longer", 9m));
        quote.Total.Should().Be(90.48m + 54m);

        static PartCost Cost(string part, decimal each) => new(part, 6, Money.FromAmount(each * 6), Money.Zero, Money.Zero);
    }

    // The one bar of 1000 mm holds three blanks: four and more cannot be cut.
    [Fact]
    public void Numbers_that_cannot_be_cut_entirely_have_no_cost_per_set_and_are_not_best()
    {
        var job = Job([Part("B", 300, 40, 10, 1, Forms.FlatBar) with { MayTurn = false }], [Bar("bar", 50, 20, 1000, 20, available: 1)]) with { OffcutRules = [] };
        var points = BatchCurve.Of(job, 1, 5, new() { Seconds = 600, Work = 20_000, Threads = 2 });

        points.Select(point => point.Complete).Should().Equal(true, true, true, false, false);
        points.Select(point => point.CostPerSet is null).Should().Equal(false, false, false, true, true);
        points.Where(point => point.Best).Select(point => point.Sets).Should().Equal(3);
    }

    [Fact]
    public void A_difference_within_wide_gaps_is_no_figure()
    {
        var plan = JointSolverTests.Solve(WithBreak());
        var cost = plan.TotalCost.Units;
        var dearer = plan with { TotalCost = Money.FromUnits(cost + 10_000), Bound = Bound.Of(Money.FromUnits(cost / 2), "a test") };

        CompareCommand.Verdict(new("a", plan), new("b", dearer)).Should().Contain("the difference is smaller than what is not known yet").And.Contain("--seconds").And.NotContain("costs");
        CompareCommand.Verdict(new("a", plan), new("b", dearer with { Bound = Bound.Of(Money.FromUnits(cost - 1), "a test") })).Should().Contain("costs 1.00 EUR more (not proven");
    }
}
