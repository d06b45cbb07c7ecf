using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Rack;
using Nest.Rack.Plans;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>A job with what the rack gives to it, and the rest of a plan that was begun.</summary>
/// <remarks>A plate of 1000 × 500 gives four brackets of 120 × 80 × 10.</remarks>
public sealed class RackedJobTest : IDisposable
{
    private static readonly Part _bracket = SamplePlans.Part("bracket", SamplePlans.Aluminium.Id, 120, 80, 10, 8);

    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    public void Dispose() => rack.Dispose();

    [Fact]
    public void Leftovers_of_the_rack_stand_before_what_is_sold()
    {
        var (fits, small) = (Store.Add(RackFixture.Plate(500, 300)), Store.Add(RackFixture.Plate(100, 60)));
        var racked = Racked(Job(_bracket));
        racked.Job.Stocks.Select(stock => stock.RackMark).Should().Equal(fits.Mark, null);
        (racked.Fitting, racked.OnRack, racked.Planned, racked.PaidPlanned, racked.OwnToo, racked.Paid.Length).Should().Be((1, 2, 1, 0, false, 0));
        racked.Job.Parts.Single().Quantity.Should().Be(8);

        // A list of leftovers beside the rack may name others, and not the same piece.
        var own = Job(_bracket);
        own = own with { Stocks = [.. own.Stocks, own.Stocks[0] with { Id = "mine", RackMark = "mine", Available = 1 }] };
        Racked(own).OwnToo.Should().BeTrue();
        var both = own with { Stocks = own.Stocks.SetItem(1, own.Stocks[1] with { Id = $"RACK-{fits.Mark}" }) };
        RackedJob.Of(Store, both).Refusal.Should().Contain(fits.Mark).And.NotContain(small.Mark);
    }

    [Fact]
    public void The_rest_of_a_plan_is_what_it_has_not_made()
    {
        var id = Store.Reserve(Plan(Job(_bracket), 2));
        var plates = RackedJob.Of(Store, Job(_bracket), id);
        plates.Racked.Should().BeNull("two plates may be on their way");
        plates.Refusal.Should().Contain("2 pieces (2 × plate)");

        var anew = Racked(Job(_bracket), id, notOrdered: true);
        anew.Job.Parts.Single().Quantity.Should().Be(8);
        Store.Receive(new() { PlanId = id, Heat = "H" });
        Store.ConfirmCut(new() { PlanId = id, Layout = 1 });
        var rest = Racked(Job(_bracket), id);
        rest.Job.Parts.Single().Quantity.Should().Be(4);

        // The other plate is here and paid for; the leftovers of the first plate are free.
        rest.Paid.Should().ContainSingle();
        (rest.PaidPlanned, rest.Planned).Should().Be((1, rest.Job.Stocks.Count(stock => stock.IsLeftover)));
        rest.Planned.Should().BeGreaterThan(1);

        // A lug that is new is asked for beside them; of a job without brackets the plan is no part.
        var lug = SamplePlans.Part("lug", SamplePlans.Aluminium.Id, 50, 40, 10, 3);
        Racked(Job(lug, _bracket), id).Job.Parts.Select(part => (part.Id, part.Quantity)).Should().Equal(("lug", 3), ("bracket", 4));
        RackedJob.Of(Store, Job(lug), id).Refusal.Should().Contain("makes bracket, and nothing that it makes");

        // Half as many are wanted now: nothing is left, and the plan still holds a plate.
        var half = RackedJob.Of(Store, Job(_bracket with { Quantity = 4 }), id);
        half.Racked.Should().BeNull();
        half.Refusal.Should().Contain("nothing left to make").And.Contain($"cancel P{id}");
        half.Against.Single().Serving.Should().Be(4);

        Store.ConfirmCut(new() { PlanId = id, Layout = 1 });
        RackedJob.Of(Store, Job(_bracket), id).Refusal.Should().Contain("nothing left to make").And.NotContain("cancel");
        RackedJob.Of(Store, Job(_bracket with { Quantity = 7 }), id).Refusal.Should().NotContain("cancel", "all is cut, it holds nothing");
        Racked(Job(_bracket with { Quantity = 9 }), id).Job.Parts.Single().Quantity.Should().Be(1);
    }

    [Fact]
    public void Of_two_purchases_both_must_be_known()
    {
        var job = Job(_bracket);
        job = job with { Stocks = [.. job.Stocks, job.Stocks[0] with { Id = "other" }] };
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, _bracket, 2, 2), SamplePlans.Grid(job, job.Stocks[1], 2, 1, _bracket, 2, 2)));
        Store.Receive(new() { PlanId = id, Items = ["plate"] });
        RackedJob.Of(Store, job, id).Refusal.Should().Contain("1 piece (1 × other)");
    }

    [Fact]
    public void The_rest_of_a_plan_that_was_replaced_is_the_other_one_s()
    {
        var before = Store.Reserve(Plan(Job(_bracket with { Id = "other" }), 1));
        var id = Store.Reserve(Plan(Job(_bracket), 1));
        var next = Store.Replan(id, Plan(Job(_bracket) with { Name = "rest" }, 1));
        Store.Reserve(Plan(Job(_bracket with { Id = "third" }), 1));
        var answer = RackedJob.Of(Store, Job(_bracket), id, notOrdered: true);
        answer.Refusal.Should().Contain($"P{next} already");
        answer.Racked.Should().BeNull();
        RackedJob.Of(Store, Job(_bracket with { Id = "other" }), before, notOrdered: true).Refusal.Should().BeEmpty();
    }

    [Theory]
    [InlineData(1, "1 piece (1 × s1)")]
    [InlineData(2, "3 pieces (1 × s1, 2 × s2)")]
    [InlineData(5, "15 pieces (1 × s1, 2 × s2, 3 × s3, 4 × s4, 5 × s5)")]
    [InlineData(6, "21 pieces (1 × s1, 2 × s2, 3 × s3, 4 × s4 and 2 more kinds of stock; 'nest plans P7' lists them)")]
    public void What_is_still_to_come_is_named_as_far_as_a_line_goes(int kinds, string words)
    {
        var plan = new PlanRecord
        {
            Id = 7, Name = "job", State = PlanState.Reserved, Created = default,
            Purchases = [new("all here", "", 2, 2, []), .. Enumerable.Range(1, kinds).Select(kind => new PurchaseProgress($"s{kind}", "", kind + 1, 1, []))],
        };
        RackedJob.ToCome(plan).Should().Be(words);
    }

    private RackedJob Racked(Job job, long? rest = null, bool notOrdered = false)
    {
        var (racked, refusal, _) = RackedJob.Of(Store, job, rest, notOrdered);
        refusal.Should().BeEmpty();
        return racked!;
    }

    private static Plan Plan(Job job, int plates) => SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, plates, job.Parts[0], 2, 2));

    private static Job Job(params Part[] parts) => SamplePlans.Job("job", parts, [SamplePlans.Plate("plate", 1000, 500, 10, 90) with { MinThickness = SamplePlans.Mm(10) }]);
}
