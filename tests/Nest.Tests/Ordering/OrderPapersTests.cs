using System.Text.Json;
using Nest.Cli;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Output;
using Nest.Output.Orders;
using Nest.Output.Scenes;
using Nest.Output.Sheets;
using Nest.Solve.Choose;
using Nest.Solve.Why;
using Nest.Tests.Makers;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Ordering;

/// <summary>What is told to people of an order: sheets for suppliers, reasons, quotes, comparisons. Expected amounts are worked by hand.</summary>
public sealed class OrderPapersTests : IDisposable
{
    private const string Metal = "Invented Metals";
    private readonly string folder = Directory.CreateTempSubdirectory("nest-orders-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    // Two kinds of part, twelve pieces in three sets: P cut to size by a British supplier at 11.60 each, B from bars at 20, from the third on 15.
    private static Job Made() => Job(
        [Part("P", 100, 40, 10, 2, Forms.Plate) with { MayTurn = false }, Part("B", 300, 40, 10, 2, Forms.FlatBar) with { MayTurn = false }],
        [
            Plate("P-cut", 103, 43, 15, 11.60m) with { CutFor = "P", CleanEdges = new(true, true, true, true), Supplier = "Cut (invented)" },
            Bar("bar", 50, 20, 1000, 20) with { Terms = new() { Rule = BreakRule.Incremental, Breaks = [new(3, Money.FromAmount(15))] } },
        ]) with
    {
        Batch = 3,
        WantedInDays = 8,
        Suppliers =
        [
            new() { Name = "Cut (invented)", Currency = "GBP", Rate = 1.16m, Delivery = Money.FromAmount(5), CutPlus = Mm(1) },
            new() { Name = Metal, MinimumOrder = Money.FromAmount(50), Delivery = Money.FromAmount(12), FreeDeliveryFrom = Money.FromAmount(60) },
        ],
    };

    private static SheetContext Context(Plan plan) => new(plan, new());

    private static object[][] Rows(SheetContext context, Order order) =>
        [.. OrderSheet.Csv(context, order).Rows.Select(row => row.Select(cell => cell ?? "").ToArray())];

    private static object? Cell(SheetContext context, Order order, int row, string head) =>
        OrderSheet.Csv(context, order).Rows[row][OrderSheet.Csv(context, order).Heads.ToList().IndexOf(head)];

    // Six pieces of P at 11.60 are 69.60 EUR: 60 GBP; delivery 5 / 1.16 = 4.3103: 4.31; total 64.31. 103 × 43 × 15 mm at 2700 kg/m³ are 0.1794 kg.
    [Fact]
    public void Cut_to_size_list_in_the_suppliers_currency()
    {
        var context = Context(JointSolverTests.Solve(Made()));
        var order = context.Plan.Orders.Single(order => order.Supplier.StartsWith("Cut", StringComparison.Ordinal));

        (Cell(context, order, 0, "count"), Cell(context, order, 0, "cut_to_size_for")).Should().Be((6, "P"));
        (Cell(context, order, 0, "tolerance_minus_mm"), Cell(context, order, 0, "tolerance_plus_mm")).Should().Be((0, 1m));
        (Cell(context, order, 0, "length_mm"), Cell(context, order, 0, "width_mm"), Cell(context, order, 0, "thickness_mm")).Should().Be((103m, 43m, 15m));
        (Cell(context, order, 0, "mass_each_kg"), Cell(context, order, 0, "wanted_in_days")).Should().Be((0.1794m, 8));
        Cell(context, order, 0, "price_each").Should().Be(10m);
        (Cell(context, order, 0, "price_listed_each"), Cell(context, order, 0, "line_total"), Cell(context, order, 0, "currency")).Should().Be((10m, 60m, "GBP"));
        Rows(context, order).Skip(1).Select(row => (row[3], row[15])).Should().Equal(("Goods", (object)60m), ("Delivery", 4.31m), ("Total", 64.31m));
        Texts(OrderSheet.Pages(context, order, Paper.A4)).Replace('\n', ' ').Should().ContainAll("Wanted within 8 days", "CUT TO SIZE for P", "rolling direction along 103 mm", "tolerance −0 / +1 mm on length and width", "GBP 64.31", "1 GBP = 1.16 EUR");
    }

    // Two lugs, left and right, from blanks of one size: for the supplier six pieces, for the shop three and three.
    [Fact]
    public void Pieces_that_are_the_same_to_the_supplier_are_one_line()
    {
        var made = Made();
        var both = made with
        {
            Parts = [made.Parts[0] with { Id = "left", Quantity = 1 }, made.Parts[0] with { Id = "right", Quantity = 1 }],
            Stocks = [made.Stocks[0] with { Id = "left-cut", CutFor = "left" }, made.Stocks[0] with { Id = "right-cut", CutFor = "right" }],
        };
        var plan = JointSolverTests.Solve(both);
        var shop = new Correspondence
        {
            Shop = new() { Name = "Shop (invented)", Address = ["1 Yard"], DeliveryAddress = ["Gate 2"] },
            Suppliers = [new() { Supplier = "Cut (invented)", Email = "cut@example.org", CustomerNumber = "77", Certificates = "EN 10204 3.1" }],
        };
        var context = new SheetContext(plan, new() { Correspondence = shop, Date = new DateOnly(2026, 11, 28) });
        var order = plan.Orders.Single();
        order.Lines.Should().HaveCount(2);

        var item = OrderItem.Of(context, order, new OwnAmounts(context, order)).Should().ContainSingle().Subject;
        (item.Count, item.Amount, item.Parts(context)).Should().Be((6, 60m, "3 × left, 3 × right"));
        Rows(context, order).Skip(1).Select(row => (row[3], row[15])).Should().Contain(("Goods", (object)60m));

        var mail = System.Text.Encoding.UTF8.GetString(OrderWords.Mail(context, order));
        foreach (var text in new[] { mail, Texts(OrderSheet.Pages(context, order, Paper.A4)).Replace('\n', ' ') })
        {
            text.Should().Contain($"{context.Print}-1").And.Contain("Wanted within 8 days of this order, by 2026-12-06").And.Contain("Gate 2").And.Contain("Certificates wanted: EN 10204 3.1")
                .And.Contain("3 × left, 3 × right").And.Contain("Shop (invented)");
        }

        mail.Should().StartWith("To: cut@example.org\nSubject: order");
        var fast = plan with { Job = plan.Job with { Suppliers = [.. plan.Job.Suppliers.Select(supplier => supplier with { LeadDays = 1 })] } };
        OrderWords.Wishes(new(fast, new()), order, []).First().Should().StartWith("Wanted within 1 day of this order.");
        OrderWords.Wishes(new(fast, context.Options), order, []).First().Should().StartWith("Wanted within 1 day of this order, by 2026-11-29.");
    }

    // Six blanks of 302 mm, three to a bar: two bars at 20, 40 of goods, 10 up to the smallest order; 50 do not reach 60, so delivery is paid.
    // A third bar, kept whole, would cost 15 less its worth, and 55 still pay delivery.
    [Fact]
    public void Sums_of_an_order_add_up_to_the_cent()
    {
        var context = Context(JointSolverTests.Solve(Made()));
        var order = context.Plan.Orders.Single(order => order.Supplier == Metal);

        var sums = Rows(context, order).Skip(order.Lines.Length).ToDictionary(row => (string)row[3], row => (decimal)row[15]);
        sums.Should().Contain("Goods", order.Lines.Sum(line => line.Cost.Amount)).And.Contain("Total", sums.Values.Sum() - sums["Total"]);
        sums["Total"].Should().Be(order.Total.Amount);
        context.Plan.Orders.Sum(one => one.Total.Amount).Should().Be(order.Total.Amount + (6 * 11.60m) + 5);
    }

    [Fact]
    public void Reasons_name_break_minimum_delivery_and_others()
    {
        var job = Made();
        var plan = JointSolverTests.Solve(job);
        var context = Context(plan);
        var order = new Order(Metal, [new("bar", 4, Money.FromAmount(80), Money.FromAmount(70))], Money.FromAmount(70), Money.Zero, Money.Zero);
        OrderReasons.Of(context, order, order.Lines[0]).Should().Contain("for 6 × B", "six blanks come from bars").And.Contain("the pieces from the 3. on cost EUR 15.00 each, those before EUR 20.00");
        OrderReasons.Sums(context, order).Should().Contain("free delivery: the goods reach EUR 60.00").And.EndWith("total EUR 70.00");

        var small = new Order(Metal, [new("bar", 1, Money.FromAmount(20), Money.FromAmount(20))], Money.FromAmount(20), Money.FromAmount(30), Money.FromAmount(12));
        OrderReasons.Of(context, small, small.Lines[0]).Should().HaveCount(2).And.Contain("for 6 × B").And.NotContain(reason => reason.Contains("cheaper"), "what holds for every line is not said");
        OrderReasons.Sums(context, small).Should().Be("goods EUR 20.00; EUR 30.00 up to the smallest order of EUR 50.00; delivery EUR 12.00 (free from EUR 60.00, EUR 10.00 short); total EUR 62.00");
    }

    // 1 USD = 0.9 EUR; 10 and 20 and 0.05 EUR are 11.11, 22.22 and 0.06 USD (11.111…, 22.222…, 0.0555… half away from zero), together 33.39.
    [Fact]
    public void Own_amounts_are_rounded_once_and_their_sum_is_theirs()
    {
        var job = Made() with { Suppliers = [new() { Name = Metal, Currency = "USD", Rate = 0.9m }] };
        var plan = JointSolverTests.Solve(job);
        var order = new Order(
            Metal, [new("bar", 1, Money.FromAmount(10), Money.FromAmount(10)), new("bar", 1, Money.FromAmount(20), Money.FromAmount(20))],
            Money.FromAmount(30), Money.Zero, Money.FromAmount(0.05m));
        var own = new OwnAmounts(Context(plan), order);
        own.Lines.Should().Equal(11.11m, 22.22m);
        (own.Goods, own.Delivery, own.Total, own.Currency, own.RateText).Should().Be((33.33m, 0.06m, 33.39m, "USD", "1 USD = 0.9 EUR"));
    }

    // The truth of the difference is the enumerated optimum of the job in each form alone.
    [Theory]
    [InlineData(1, 18), InlineData(2, 30), InlineData(3, 45)]
    public void Why_the_next_best_form_costs_what_trying_everything_finds(int quantity, int platePrice)
    {
        var saw = PlateSaw with { HourlyRate = 0, ChargePerCut = 0, HandlingMinutes = 0, Trims = default };
        var bar = Bar("bar", 50, 20, 700, 25);
        var plate = Plate("plate", 400, 150, 15, platePrice);
        var job = Job([Part("P", 200, 40, 10, quantity) with { MayTurn = false }], [bar, plate], BarSaw, saw) with
        {
            Materials = [Aluminium with { ScrapPricePerKilogram = 0 }],
            OffcutRules = [new() { Form = Form.FlatBar, KeepLength = Mm(150), Fraction = 0.5m }],
            Suppliers = [new() { Name = Metal }],
        };
        var bars = OrderBruteForce.Least(job with { Stocks = [bar] })!.Value;
        var plates = OrderBruteForce.Least(job with { Stocks = [plate] })!.Value;
        var plan = JointSolverTests.Solve(job);
        plan.TotalCost.Units.Should().Be(OrderBruteForce.Least(job));

        var reason = FormReasons.Of(plan, BlankSizer.Size(job), new() { Seconds = 60, Work = 50_000 }).Single();
        if (plan.TotalCost.Units == Math.Min(bars, plates))
        {
            reason.NextBest.Should().Be(bars < plates ? "plate" : "flat bar");
            reason.Difference!.Value.Units.Should().Be(Math.Abs(bars - plates));
        }
        else
        {
            reason.NextBest.Should().BeNull("both forms are used");
        }
    }

    [Fact]
    public void Rules_of_thumb_keep_what_they_say_and_the_solver_is_no_dearer_than_any()
    {
        var bar = Bar("bar", 50, 20, 1000, 20);
        var plate = Plate("plate", 600, 300, 15, 40) with { Supplier = "Other (invented)" };
        var job = Job([Part("P", 200, 40, 10, 5), Part("Q", 120, 60, 10, 3, Forms.Plate)], [bar, plate]);
        var blanks = BlankSizer.Size(job);
        var rules = Restrictions.Of(job, blanks);

        rules.Should().OnlyHaveUniqueItems(rule => Restrictions.Key(rule.Blanks));
        rules.Single(rule => rule.Name == "plates where they serve").Blanks.SelectMany(blank => blank.Fits).Should().OnlyContain(fit => fit.StockId == "plate");
        var bars = rules.Single(rule => rule.Name == "bars where they serve").Blanks;
        bars[0].Fits.Select(fit => fit.StockId).Should().Equal("bar");
        bars[1].Fits.Select(fit => fit.StockId).Should().Equal(["plate"], "no bar serves it");

        var component = Components.Of(job, blanks).Single();
        var solver = new RuleSolver(component, rules, new() { Seconds = 60, Work = 200_000 }, (_, _) => { }, CancellationToken.None);
        solver.Run();
        solver.Best!.MissingCount.Should().Be(0);
        solver.Bound.Value!.Value.Units.Should().BeLessThanOrEqualTo(solver.Best.Cost);
        foreach (var rule in rules)
        {
            var own = Components.Of(job, rule.Blanks).Sum(part =>
            {
                var alone = new ComponentSolver(part, new() { Seconds = 60, Work = 50_000 }, (_, _) => { }, CancellationToken.None);
                alone.Run();
                return alone.Best!.Cost;
            });
            solver.Best.Cost.Should().BeLessThanOrEqualTo(own, rule.Name);
        }
    }

    // Cost, set-up 30 shared by cost, margin 20 %: (cost + 30) × 1.2, each price rounded up to the cent.
    [Fact]
    public void A_quote_covers_cost_and_margin_and_shows_no_cost()
    {
        var plan = JointSolverTests.Solve(Made());
        var quote = Quote.Of(plan, new(20, 30));

        quote.Lines.Select(line => (line.Part.Id, line.Pieces)).Should().Equal(("P", 6), ("B", 6));
        var wanted = (plan.TotalCost.Amount + 30) * 1.2m;
        quote.Total.Should().BeInRange(wanted, wanted + (12 * 0.01m));
        quote.Lines.Should().OnlyContain(line => line.Each == decimal.Round(line.Each, 2));
        var text = Texts(QuoteSheet.Pages(Context(plan), [(6, quote)], new("Shop (invented)", "Buyer (invented)", new(2026, 11, 25), 30), Paper.A4));
        text.Should().Contain("From: Shop (invented)").And.Contain("For: Buyer (invented)").And.Contain("hold until 2026-12-25")
            .And.Contain($"EUR {quote.Total:0.00}").And.NotContain(plan.TotalCost.ToString()).And.NotContain(Metal);
    }

    [Fact]
    public void Why_and_quote_by_command()
    {
        var path = Path.Combine(folder, "plan.json");
        PlanFile.Write(JointSolverTests.Solve(Made()), path).Should().BeEmpty();

        using var json = JsonDocument.Parse(Good("why", path, "--work", "20000", "--json", "--margin", "20", "--set-up", "30"));
        json.RootElement.GetProperty("parts").EnumerateArray().Select(part => part.GetProperty("part").GetString()).Should().Equal("P", "B");
        var total = json.RootElement.GetProperty("quote_total").GetDecimal();
        Good("quote", path, "--margin", "20", "--set-up", "30", "--out", Path.Combine(folder, "q.pdf")).Should().Contain($"{total:0.00}");
        File.ReadAllBytes(Path.Combine(folder, "q.pdf")).Take(5).Should().Equal("%PDF-"u8.ToArray());
    }

    // Bars only, so both plans are proven: the whole difference remains. Three blanks of 302 mm to a bar of 1000; without that bar one of 700 gives
    // two. A kerf that changes nothing of the counts costs the same.
    [Fact]
    public void A_difference_is_told_against_the_proven_gap()
    {
        File.WriteAllText(Path.Combine(folder, "parts.csv"), "part,material,length,width,thickness,quantity,forms\nB,6082-T6,300,38,10,6,flat bar\n");
        File.WriteAllText(
            Path.Combine(folder, "metal.csv"),
            "id,form,material,thickness,width,length,price\nlong,flat bar,6082-T6,20,50,1000,20\nshort,flat bar,6082-T6,20,50,700,19\n");
        var job = Path.Combine(folder, "job.toml");
        File.WriteAllText(job, "parts = \"parts.csv\"\nsaws = \"starter\"\n[[supplier]]\nname = \"Invented Metals\"\nprice_list = \"metal.csv\"\n");

        var text = Good("compare", job, "--set", "without_stock=long", "--work", "50000");
        text.Should().MatchRegex(@"without_stock=long against \S+: costs \d+\.\d\d EUR more \(proven: at least (\d+\.\d\d) of it remains");
        var match = System.Text.RegularExpressions.Regex.Match(text, @"costs (\d+\.\d\d) EUR more \(proven: at least (\d+\.\d\d)");
        match.Groups[1].Value.Should().Be(match.Groups[2].Value, "both plans are proven");
        text.Should().Contain("+3 short").And.Contain("−2 long");

        Good("compare", job, "--set", "batch=1", "--work", "50000").Should().Contain("costs the same (both are proven)");
    }

    private static string Texts(IEnumerable<Scene> pages) =>
        string.Join('\n', pages.SelectMany(page => page.Elements.OfType<TextElement>()).Select(text => text.Text));

    private static string Good(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        App.Run(args, new(output, error, Quiet: true, TimeProvider.System, CancellationToken.None)).Should().Be(0, error.ToString());
        return output.ToString();
    }
}
