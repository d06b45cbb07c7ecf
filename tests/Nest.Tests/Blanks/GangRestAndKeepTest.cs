using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Planning;
using Nest.Rack;
using Nest.Rack.Plans;
using Nest.Tests.Rack;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Blanks;

/// <summary>An open number per blank beside a plan that is there: what was cut counts as parts, layouts that stay keep their number, the rest is chosen anew.</summary>
/// <remarks>By hand: the parts of <see cref="GangBlanksTest"/>, 12 of them from two bars of 500 mm; four in a blank are 140 long, three 104. A bar of 500 with a kerf of 2 holds three blanks of four.</remarks>
public class GangRestAndKeepTest
{
    private static readonly PlanOptions Little = new() { Work = 4000 };

    [Fact]
    public void A_layout_that_stays_keeps_its_number_and_the_rest_is_chosen_anew()
    {
        var old = Planner.Plan(Job([4], 12), Little).Plan!;
        var layout = old.Layouts.Single(one => one.Count == 1);
        layout.Pieces.Should().HaveCount(3);

        var (job, problems) = KeptLayouts.On(Job([2, 4], 18), old, [layout.Number]);
        problems.Should().BeEmpty();
        var plan = Planner.Plan(job!, Little).Plan!;

        plan.Unplaced.Should().BeEmpty();
        plan.Layouts.Where(one => one.Kept).Should().ContainSingle().Which.Pieces.Should().HaveCount(3);
        plan.Job.Parts.Sum(part => part.Gang!.Blanks * part.Gang.Parts).Should().Be(18);
        plan.Job.Parts.First().Gang.Should().BeEquivalentTo(new { Rows = 1, Columns = 4 }, "the blanks that stay are for four");
        Planner.Check(plan).Should().BeEmpty();
        plan.Bound.IsKnown.Should().BeTrue();

        // The same number again is one kind of blank; another one is refused only where nothing stays.
        var two = Planner.Plan(KeptLayouts.On(Job([2, 4], 16), old, [layout.Number]).Job! with { Mill = Job([4], 16).Mill with { TravelX = Mm(145) } }, Little).Plan!;
        two.Job.Parts.Sum(part => part.Gang!.Blanks * part.Gang.Parts).Should().Be(16);
        var three = KeptLayouts.On(Job([2, 4], 14), old, [layout.Number]).Job!;
        var other = Planner.Plan(three, Little).Plan!;
        other.Job.Parts.Select(part => part.Gang!.Parts).Should().Equal(4, 2);
        Planner.Check(other with { Layouts = [.. other.Layouts.Select(one => one with { Kept = false })] }).Should().Contain(finding => finding.Rule == "gang-count");
    }

    [Fact]
    public void Layouts_of_single_blanks_stay_beside_blanks_for_several()
    {
        var old = Planner.Plan(Job([1], 4), Little).Plan!;

        var (job, problems) = KeptLayouts.On(Job([1, 4], 8), old, [1]);
        problems.Should().BeEmpty();
        var plan = Planner.Plan(job!, Little).Plan!;

        plan.Job.Parts.Select(part => (part.Id, part.Gang!.Blanks)).Should().Equal(("p ×1", 4), ("p ×4", 1));
        plan.Unplaced.Should().BeEmpty();
    }

    [Fact]
    public void What_cannot_stay_is_told()
    {
        var old = Planner.Plan(Job([4], 12), Little).Plan!;

        KeptLayouts.On(Job([2, 3], 12), old, [1]).Problems.Should().ContainSingle().Which.Should().Contain("does not allow 4 any more");
        KeptLayouts.On(Job([4], 8), old, [1]).Problems.Should().Contain(problem => problem.Contains("give 12 of p, and 8 are wanted", StringComparison.Ordinal));
    }

    [Fact]
    public void The_rest_of_a_plan_counts_parts_and_chooses_its_own_number()
    {
        using var file = new RackFixture();
        var store = file.Store;
        var old = Planner.Plan(Job([4], 16), Little).Plan!;
        var id = store.Reserve(old);
        var full = old.Layouts[0];
        var cut = full.Pieces.Length * 4;
        store.ConfirmCut(id, full.Number);

        // A changed order: 22 instead of 16.
        var (racked, refusal, against) = RackedJob.Of(store, Job([3, 5], 22), id, notOrdered: true);
        refusal.Should().BeEmpty();
        against.Should().ContainSingle().Which.Should().Be(new PartAgainst("p", 16, 22, cut, cut, null));
        racked!.Job.Parts.Should().ContainSingle().Which.Quantity.Should().Be(22 - cut);
        var rest = Planner.Plan(racked.Job, Little).Plan!;
        rest.Job.Parts.Sum(part => part.Gang!.Blanks * part.Gang.Parts).Should().Be(22 - cut);

        var next = store.Replan(id, rest, changed: true);
        store.Against(next, Job([3, 5], 22)).Single().Should().Be(new PartAgainst("p", 22, 22, cut, cut, null), "what the first plan made is part of the whole");
    }

    private static Job Job(ImmutableArray<int> counts, int quantity) => GangBlanksTest.Four(counts) is var four
        ? four with { Parts = [four.Parts[0] with { Quantity = quantity }], Stocks = [Bar("bar", Form.FlatBar, 26, 12, 500, 50m, 0)] }
        : throw new InvalidOperationException();
}
