using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>What the rack does not take for a cut, a delivery or a plan: it says so, and nothing is changed.</summary>
/// <remarks>The plan is that of <see cref="BracketShop"/>.</remarks>
public sealed class CutRefusedTest : IDisposable
{
    private readonly BracketShop shop = new(RackFixture.Plate(500, 300, heat: "L-1"));

    private RackStore Store => shop.Store;

    public void Dispose() => shop.Dispose();

    [Fact]
    public void A_cut_that_cannot_have_been()
    {
        var other = Store.Add(RackFixture.Plate(1000, 500) with { Heat = "O-1" });
        var gone = Store.Add(RackFixture.Plate(1000, 500));
        Store.Scrap([gone.Mark], "bent");
        var id = Store.Enter(shop.Plan());
        Refused(new() { PlanId = id, Layout = 1 }, "is planned, so nothing of it can be cut", "reserve it first");
        Store.Reserve(id);

        Refused(new() { PlanId = id, Layout = 1, Count = 0 }, "has 2 pieces still to cut, not 0");
        Refused(new() { PlanId = id, Layout = 1, Count = 3 }, "has 2 pieces still to cut, not 3");
        Refused(new() { PlanId = id, Layout = 1, Count = 2, Leftovers = [new(SamplePlans.Mm(300), SamplePlans.Mm(200))] }, "belong to one stock piece");
        Refused(new() { PlanId = id, Layout = 1, Count = 2, From = [other.Mark] }, "2 pieces were cut, but 1 marks");
        Refused(new() { PlanId = id, Layout = 1, Count = 2, Spoiled = [new("bracket", 9)] }, "9 × bracket cannot be spoiled: layout 1 cuts 8");
        Refused(new() { PlanId = id, Layout = 1, Spoiled = [new("bracket", -1)] }, "-1 × bracket");
        Refused(new() { PlanId = id, Layout = 1, Spoiled = [new("foot", 1)] }, "1 × foot");
        Refused(new() { PlanId = id, Layout = 1, From = [gone.Mark] }, $"{gone.Mark} is scrapped");
        Refused(new() { PlanId = id, Layout = 1, From = [other.Mark], Heat = "O-2" }, "is of heat O-1, not O-2");
        Refused(new() { PlanId = id, Layout = 2, From = [other.Mark] }, $"cuts {shop.Leftover.Mark}, not {other.Mark}");
        Refused(new() { PlanId = id, Layout = 2, Heat = "L-2" }, "is of heat L-1, not L-2");

        // And what can: all eight spoiled, the leftover by its mark and with its heat.
        Store.ConfirmCut(new() { PlanId = id, Layout = 1, Count = 2, Spoiled = [new("bracket", 8)] }).Parts.Should().BeEmpty();
        Store.ConfirmCut(new() { PlanId = id, Layout = 2, From = [shop.Leftover.Mark], Heat = "l-1" }).Parts.Should().Equal(new PartCount("bracket", 2));
        Store.Check().Should().BeEmpty();

        void Refused(CutEntry entry, string why, string advice = "") => CutRefusedTest.Refused(() => Store.ConfirmCut(entry), why, advice);
    }

    [Fact]
    public void A_miscut_that_cannot_have_been()
    {
        var id = Store.Reserve(shop.Plan());
        Refused(() => Store.Miscut(new() { PlanId = id, Layout = 2, Note = " " }), "needs a word");
        Refused(() => Store.Miscut(new() { PlanId = id, Layout = 2, Note = "slipped", Made = [new("bracket", 3)] }), "3 × bracket cannot be good: layout 2 cuts 2");
        Refused(() => Store.Miscut(new() { PlanId = id, Layout = 2, Note = "slipped", Made = [new("bracket", -1)] }), "-1 × bracket");
        Store.Miscut(new() { PlanId = id, Layout = 2, Note = "slipped", Made = [new("bracket", 2)] }).Parts.Should().Equal(new PartCount("bracket", 2));
        Store.Cancel(id);
        Refused(() => Store.Miscut(new() { PlanId = id, Layout = 1, Note = "slipped" }), "is cancelled, so nothing of it can be cut", "see 'nest plans'");
    }

    /// <summary>By hand: eight of ten brackets are spoiled and nothing can be cut any more: parts are missing. A spare that stands in for a lost piece finishes the plan.</summary>
    [Fact]
    public void A_plan_with_nothing_left_to_cut_is_finished_or_has_parts_missing()
    {
        var id = Store.Reserve(shop.Plan());
        Store.ConfirmCut(id, 2);
        Store.ConfirmCut(id, 3);
        Store.ConfirmCut(id, 1).State.Should().Be(PlanState.Cutting);
        Store.ConfirmCut(new() { PlanId = id, Layout = 1, Spoiled = [new("bracket", 4)] }).State.Should().Be(PlanState.Incomplete);

        var spare = BracketShop.Job() with { Parts = [BracketShop.Bracket with { Quantity = 8 }] };
        var second = Store.Reserve(SamplePlans.Plan(spare, SamplePlans.Grid(spare, spare.Stocks[0], 1, 3, BracketShop.Bracket, 2, 2)));
        Store.ConfirmCut(second, 1, 2).State.Should().Be(PlanState.Cutting, "the third plate is not touched");
        Store.Miscut(new() { PlanId = second, Layout = 1, Note = "slipped" }).State.Should().Be(PlanState.Finished, "all eight are made");
    }

    [Fact]
    public void A_delivery_that_is_not_the_plan_s()
    {
        var id = Store.Reserve(shop.Plan());
        Refused(new() { PlanId = id, Layouts = [9] }, "has no layout 9");
        Refused(new() { PlanId = id, Items = ["plate", "tube"] }, "buys no 'tube'");
        Refused(new() { PlanId = id, Supplier = "Owl" }, "buys nothing from 'Owl'");
        Refused(new() { PlanId = id, Count = 1 }, "a count belongs to one stock", "name one layout or item");
        Refused(new() { PlanId = id, Layouts = [1], Count = 3 }, "3 pieces cannot have come: 2 are", "what came on top");
        Refused(new() { PlanId = id, Layouts = [1], Count = 0 }, "0 pieces cannot have come");
        Refused(new() { PlanId = id, Heat = "H" }, "cannot be that of");
        Refused(new() { PlanId = id, Layouts = [2] }, "nothing of this is still to come");
        Store.Receive(new() { PlanId = id, Supplier = "kestrel", Material = SamplePlans.Steel.Id }).Pieces.Should().ContainSingle().Which.StockId.Should().Be("bar");
        Store.Receive(new() { PlanId = id, Items = ["plate"], Count = 2 }).Pieces.Should().HaveCount(2);

        void Refused(ReceiveEntry entry, string why, string advice = "") => CutRefusedTest.Refused(() => Store.Receive(entry), why, advice);
    }

    [Fact]
    public void A_plan_that_cannot_be_entered_reserved_or_gone_on_with()
    {
        Refused(() => Store.Enter(shop.Plan() with { Layouts = [] }), "cuts nothing");
        var twice = shop.Plan();
        Refused(() => Store.Enter(twice with { Layouts = twice.Layouts.SetItem(1, twice.Layouts[1] with { Count = 2 }) }), "2 times", "there is one");
        Store.Plans().Should().BeEmpty();

        var id = Store.Reserve(shop.Plan());
        Refused(() => Store.Reserve(id), "is reserved, not planned");
        Store.ConfirmCut(id, 1, 2);
        Store.ConfirmCut(id, 2);
        Store.ConfirmCut(id, 3);
        var more = SamplePlans.Plan(BracketShop.Job(), SamplePlans.Grid(BracketShop.Job(), BracketShop.Job().Stocks[0], 1, 1, BracketShop.Bracket, 2, 2));
        Refused(() => Store.Replan(id, more), "is finished", "--changed");
        Refused(() => Store.Cancel(id), "is finished");
        Store.Replan(id, more, changed: true).Should().BeGreaterThan(id);
        Refused(() => Store.Replan(id, more, changed: true), "is replaced");
    }

    /// <summary>By hand: of 16 clips four come out of each blank; one blank is cut, three more are just the rest of that plan.</summary>
    [Fact]
    public void What_a_plan_of_blanks_for_several_has_not_made_is_its_rest()
    {
        var first = Clips(4);
        var id = Store.Reserve(SamplePlans.Plan(first, SamplePlans.Grid(first, first.Stocks[0], 1, 4, first.Parts[0], 1, 1)));
        Store.ConfirmCut(id, 1);
        var (rest, other) = (Clips(3), Clips(2));
        Refused(() => Store.Reserve(SamplePlans.Plan(rest, SamplePlans.Grid(rest, rest.Stocks[0], 1, 3, rest.Parts[0], 1, 1))), $"just what P{id} has not made");
        Store.Reserve(SamplePlans.Plan(other, SamplePlans.Grid(other, other.Stocks[0], 1, 2, other.Parts[0], 1, 1))).Should().BeGreaterThan(id);
    }

    /// <summary>By hand: a cutter leaves a skeleton of 1000 × 500 less the blank; none of its edges was sawn through, and there is no kerf beside it.</summary>
    [Fact]
    public void A_cutter_leaves_no_sawn_edge()
    {
        var cutter = new Saw { Id = "router", Kind = SawKind.Cutter, Kerf = SamplePlans.Mm(6), HourlyRate = 60m };
        var job = BracketShop.Job() with { Saws = [cutter], Parts = [BracketShop.Bracket with { Quantity = 1 }] };
        var layout = new Layout
        {
            Number = 1, StockId = "plate", SawId = "router", Count = 1, Sheet = new(default, default, SamplePlans.Mm(1000), SamplePlans.Mm(500)), Trims = default, Cost = default,
            Pieces = [new("bracket", new(default, default, SamplePlans.Mm(120), SamplePlans.Mm(80)), false)],
            Offcuts = [new(new(SamplePlans.Mm(126), default, SamplePlans.Mm(874), SamplePlans.Mm(500)), true, Core.Quantities.Money.FromAmount(20m))],
        };
        var id = Store.Reserve(SamplePlans.Plan(job, layout));
        var left = Store.ConfirmCut(id, 1).Leftovers.Single();
        left.CleanEdges.Should().Be(default(CleanEdges));
        left.Length.Should().Be(SamplePlans.Mm(874));
        Store.Balance().Kerf.Should().Be(0);
        Store.Check().Should().BeEmpty();
    }

    private static void Refused(Action action, string why, string advice = "")
    {
        var fault = action.Should().Throw<RackException>().Which;
        fault.Fault.Should().Be(RackFault.Refused);
        fault.Message.Should().Contain(why);
        fault.Advice.Contains(advice, StringComparison.Ordinal).Should().BeTrue(fault.Advice);
    }

    private static Job Clips(int blanks)
    {
        var kind = BracketShop.Bracket with
        {
            Id = "clip ×4",
            Quantity = blanks * 4,
            PerBlank = new() { Counts = [4], Gap = SamplePlans.Mm(6) },
            Gang = new() { Rows = 2, Columns = 2, Blanks = blanks, Members = [new("clip", 4, blanks * 4)] },
        };
        return BracketShop.Job() with { Parts = [kind] };
    }
}
