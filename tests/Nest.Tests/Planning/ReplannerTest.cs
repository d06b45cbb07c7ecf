using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Planning;
using Nest.Tests.Desk;

namespace Nest.Tests.Planning;

/// <summary>Planned again from a plan that is there.</summary>
public class ReplannerTest
{
    private static readonly PlanOptions Options = new() { Work = 2000, Threads = 1 };

    [Fact]
    public void The_first_answer_keeps_what_is_right_and_the_last_is_no_dearer()
    {
        var from = SignedShop.Plan;
        // One plate more a set: what is there may stay, three are to be added.
        var job = from.Job with { Parts = [.. from.Job.Parts.Select(part => part.Id == "base plate" ? part with { Quantity = 3 } : part)] };
        Plan? first = null;

        var last = Replanner.Plan(new() { Job = job }, from, Options, answer => first = answer.Plan).Plan!;

        first!.Layouts.Should().NotContain(layout => layout.Kept, "nothing was told to stay");
        first.Bound.IsKnown.Should().BeFalse("a bound for plans with these layouts says nothing of the job");
        Planner.Check(first).Should().BeEmpty();
        Planner.Check(last).Should().BeEmpty();
        last.TotalCost.Should().BeLessThanOrEqualTo(first.TotalCost);
        last.Layouts.Sum(layout => layout.Count * layout.Pieces.Count(piece => piece.PartId == "base plate")).Should().Be(9);
    }

    [Fact]
    public void A_layout_that_must_stay_is_in_every_answer()
    {
        var from = SignedShop.Plan;
        var stays = from.Layouts.First(layout => !layout.Pieces.IsEmpty);
        var job = from.Job with { Batch = 4 };
        var kept = KeptLayouts.On(job, from, [stays.Number]).Job!;
        Plan? first = null;

        var last = Replanner.Plan(new() { Job = kept }, from, Options, answer => first = answer.Plan).Plan!;

        foreach (var plan in new[] { first!, last })
        {
            plan.Layouts.Where(layout => layout.Kept).Should().ContainSingle().Which.Pieces.Should().BeEquivalentTo(stays.Pieces);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void As_many_layouts_stay_as_when_each_is_tried_after_the_others(int batch)
    {
        var from = SignedShop.Plan;
        var job = from.Job with { Batch = batch };
        var cut = from.Layouts.Where(layout => !layout.Pieces.IsEmpty).Select(layout => layout.Number).ToList();
        List<int> stay = [];
        Job? expected = null;
        foreach (var number in cut)
        {
            if (KeptLayouts.On(job, from, [.. stay, number]).Job is { } more)
            {
                stay.Add(number);
                expected = more;
            }
        }

        var kept = KeptLayouts.AsMany(job, from, [], cut);

        (kept is null).Should().Be(expected is null);
        (kept?.Kept ?? []).Select(layout => (layout.Number, layout.Cost)).Should().Equal((expected?.Kept ?? []).Select(layout => (layout.Number, layout.Cost)));
        KeptLayouts.AsMany(job, from, [99], cut).Should().BeNull("a layout that must stay is not there");
        if (stay is [.., var last])
        {
            KeptLayouts.AsMany(job, from, [last], cut)!.Kept.Should().Contain(layout => layout.Number == last);
        }
    }
}
