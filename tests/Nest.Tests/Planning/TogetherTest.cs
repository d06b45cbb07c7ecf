using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Planning;
using Nest.Tests.Check;

namespace Nest.Tests.Planning;

/// <summary>Several jobs in one plan: pieces named by job, cost split by use, and what it saves against plans apart, worked by hand.</summary>
/// <remarks>Worked by hand: bars of 1003 mm at 10.00, kerf 1 mm, no trims, no saw cost. Job one wants two blanks of 400 mm, job two one of 200 mm. Apart they take
/// a bar each; together 401 + 401 + 201 fill one.</remarks>
public class TogetherTest
{
    [Fact]
    public void What_fills_one_bar_together_saves_the_second_bar_and_that_is_proven()
    {
        var joined = TogetherStudy.Join([("one", Input(400, 2, 1)), ("two", Input(200, 1, 1))]);
        joined.Findings.Should().BeEmpty();
        var whole = Planner.Plan(joined.Value!, new() { Work = 1000 }).Plan!;

        whole.TotalCost.Amount.Should().Be(10m);
        whole.Job.Parts.Select(part => part.Id).Should().Equal("one/p", "two/p");
        TogetherResult.Shares(whole).Select(share => (share.Job.Name, share.Pieces, share.Total.Amount)).Should().Equal(("one", 2, 8m), ("two", 1, 2m));
        var result = TogetherStudy.Of(joined.Value!.Job, whole, (job, _) => Planner.Plan(job, new() { Work = 1000 }).Plan, CancellationToken.None)!;
        result.CostApart.Amount.Should().Be(20m);
        result.Saves.Amount.Should().Be(10m);
        result.ProvenSaving!.Value.Amount.Should().Be(10m);
        result.WaitingIsWorth!.Value.Amount.Should().Be(10m, "nothing is kept of the first bar, so the second job buys its own");
        result.ProvenWaiting!.Value.Amount.Should().Be(10m);
    }

    [Fact]
    public void What_the_first_job_leaves_on_the_rack_serves_the_second_later()
    {
        // A kept rest is worth half of its price: 201 of 1003 mm are 1.0019 of 5.00, and the second job takes just them; by itself it would leave 802 mm, 3.9980.
        var keep = new OffcutRule { KeepLength = Mm(100), Fraction = 0.5m, LeftoverFraction = 0.5m };
        var joined = TogetherStudy.Join([("one", Input(400, 2, 1, keep)), ("two", Input(200, 1, 1, keep))]);
        var whole = Planner.Plan(joined.Value!, new() { Work = 1000 }).Plan!;

        var result = TogetherStudy.Of(joined.Value!.Job, whole, (job, _) => Planner.Plan(job, new() { Work = 1000 }).Plan, CancellationToken.None)!;

        whole.TotalCost.Amount.Should().Be(10m);
        result.Apart.Select(plan => plan.TotalCost.Amount).Should().Equal(8.9981m, 6.002m);
        result.Later!.TotalCost.Amount.Should().Be(1.0019m);
        result.Saves.Amount.Should().Be(5.0001m);
        result.WaitingIsWorth!.Value.Should().Be(Money.Zero);
        result.ProvenWaiting.Should().BeNull();
    }

    [Fact]
    public void A_leftover_that_both_would_take_is_taken_once()
    {
        var rest = Bar() with { Id = "rest", RackMark = "A1", Available = 1, Supplier = null, PiecePrice = Money.FromAmount(1), UnitPrice = 1 };
        var joined = TogetherStudy.Join([("one", Input(600, 1, 1, more: rest)), ("two", Input(600, 1, 1, more: rest))]);
        var whole = Planner.Plan(joined.Value!, new() { Work = 1000 }).Plan!;

        var result = TogetherStudy.Of(joined.Value!.Job, whole, (job, _) => Planner.Plan(job, new() { Work = 1000 }).Plan, CancellationToken.None)!;

        whole.TotalCost.Amount.Should().Be(11m);
        result.CostApart.Amount.Should().Be(11m);
        result.Saves.Should().Be(Money.Zero);
        result.ProvenSaving.Should().BeNull("each bound alone may use the leftover");
    }

    [Fact]
    public void Sets_multiply_and_percent_of_spares_stay_right()
    {
        var one = Input(100, 2, 3) with { };
        var spare = one with { Job = one.Job with { Parts = [one.Job.Parts[0] with { ExtraPercent = 10m, Extra = 1 }] } };

        var joined = TogetherStudy.Join([("one", spare), ("two", Input(200, 1, 1))]).Value!.Job;

        joined.Batch.Should().Be(1);
        joined.DemandOf(joined.Parts[0]).Should().Be(7);
        Planner.Check(Planner.Plan(joined, new() { Work = 1000 }).Plan!).Should().BeEmpty();
    }

    [Fact]
    public void What_one_plan_has_once_must_be_the_same_in_all_jobs()
    {
        var other = Input(200, 1, 1);
        other = other with { Job = other.Job with { Stocks = [Bar() with { PiecePrice = Money.FromAmount(11) }], Mill = new() { HourlyRate = 1 } } };

        var joined = TogetherStudy.Join([("one", Input(400, 2, 1)), ("two", other)]);

        joined.Value.Should().BeNull();
        joined.Findings.Select(finding => finding.Message).Should().Equal("[mill] is not what it is in one, and one plan has one", "stock 'bar' is another one in one");
    }

    private static Length Mm(int millimetres) => Length.FromMillimetres(millimetres);

    private static Stock Bar() => TestShop.Bar("bar", Form.FlatBar, 20, 10, 1003, 10m, 0);

    private static JobInput Input(int length, int quantity, int batch, OffcutRule? keep = null, Stock? more = null) => new()
    {
        Job = new()
        {
            Name = "any",
            Batch = batch,
            Materials = [TestShop.Aluminium with { ScrapPricePerKilogram = 0m }],
            Parts = [TestShop.Flat("p", length, 20, 10, quantity) with { MillFaces = true, MillSides = true, Forms = Forms.FlatBar, MayTurn = false }],
            Stocks = more is null ? [Bar()] : [Bar(), more],
            Saws = [new() { Id = "saw", Kind = SawKind.BarSaw, Kerf = Mm(1), DefaultCutRate = 1m }],
            OffcutRules = keep is null ? [] : [keep],
        },
    };
}
