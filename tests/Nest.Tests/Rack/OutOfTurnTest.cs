using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Plans;
using Nest.Rack.StockTake;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>What people do in another order than a plan's life has it.</summary>
public sealed class OutOfTurnTest : IDisposable
{
    private static readonly Part Bracket = SamplePlans.Part("bracket", "6061-T651", 120, 80, 10, 8);

    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    public void Dispose() => rack.Dispose();

    /// <summary>Two plates of 600 × 300 to buy, four brackets from each.</summary>
    private static Plan Plan(int plates = 2)
    {
        var part = Bracket with { Quantity = 4 * plates };
        var job = SamplePlans.Job("brackets", [part], [SamplePlans.Plate("plate", 600, 300, 10, 40)]);
        return SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, plates, part, 2, 2));
    }

    private static void Refused(Action action, string words) => action.Should().Throw<RackException>().Where(fault => fault.Fault == RackFault.Refused)
        .Where(fault => (fault.Message + " — " + fault.Advice).Contains(words), words);

    [Fact]
    public void A_leftover_keeps_the_condition_and_the_damage_is_spoken_of()
    {
        var hole = new Core.Geometry.Rect(SamplePlans.Mm(500), SamplePlans.Mm(200), SamplePlans.Mm(50), SamplePlans.Mm(50));
        var piece = Store.Add(RackFixture.Plate(600, 300) with { Condition = PieceCondition.Fair, KeepOuts = [hole] });
        var job = SamplePlans.Job("one", [Bracket with { Quantity = 4 }], [piece.ToStock(piece.Value)]);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, job.Parts[0], 2, 2)));
        MiscutEntry Slipped(ActualLeftover left) => new() { PlanId = id, Layout = 1, Note = "slipped", Leftovers = [left] };
        var left = new ActualLeftover(SamplePlans.Mm(300), SamplePlans.Mm(290));

        Refused(() => Store.Miscut(Slipped(left)), "say --sound where no damage is left on it");
        Refused(() => Store.Miscut(Slipped(new(SamplePlans.Mm(601), SamplePlans.Mm(100)) { Sound = true })), "cannot come out of");
        Refused(() => Store.Miscut(Slipped(new(SamplePlans.Mm(300), SamplePlans.Mm(301)) { Sound = true })), "cannot come out of");
        var kept = Store.Miscut(Slipped(left with { KeepOuts = [hole with { X = SamplePlans.Mm(200) }] })).Leftovers.Single();
        (kept.Condition, kept.KeepOuts.Length).Should().Be((PieceCondition.Fair, 1));
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void A_reserved_piece_that_no_longer_fits_its_plan_says_so_at_once()
    {
        var piece = Store.Add(RackFixture.Plate(600, 300));
        Store.MisfitOf(piece.Mark).Should().BeNull("nothing reserved it");
        var job = SamplePlans.Job("one", [Bracket with { Quantity = 4 }], [piece.ToStock(piece.Value)]);
        Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, job.Parts[0], 2, 2)));
        Store.MisfitOf(piece.Mark).Should().BeNull();
        Store.Adjust(piece.Mark, new() { Length = SamplePlans.Mm(590) });
        Store.MisfitOf(piece.Mark).Should().Contain("not the stock that layout 1 was made for");

        var plan = Store.Reserve(Plan());
        var came = Store.Receive(new() { PlanId = plan }).Pieces[0].Piece.Mark;
        Store.MisfitOf(came).Should().BeNull();
        Store.Adjust(came, new() { KeepOuts = [new(SamplePlans.Mm(20), SamplePlans.Mm(20), SamplePlans.Mm(9), SamplePlans.Mm(9))] });
        Store.MisfitOf(came).Should().Contain("has a keep-out where layout 1 has bracket");
    }

    [Fact]
    public void A_cut_taken_back_out_of_turn_leaves_the_plan_begun()
    {
        var id = Store.Reserve(Plan(3));
        var first = Store.ConfirmCut(id, 1);
        Store.ConfirmCut(id, 1);
        Refused(() => Store.Undo(first.Change), "undo change");
        var second = Store.History(1)[0].Id;
        Store.Undo(second);
        Store.Plan(id).State.Should().Be(PlanState.Cutting);
        Store.Undo(first.Change);
        Store.Plan(id).State.Should().Be(PlanState.Reserved);

        // Two layouts: the first cut is taken back, the second stands.
        var part = Bracket with { Quantity = 8 };
        var job = SamplePlans.Job("two", [part], [SamplePlans.Plate("plate", 600, 300, 10, 40)]);
        var two = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, part, 2, 2), SamplePlans.Grid(job, job.Stocks[0], 2, 1, part, 2, 2)));
        var one = Store.ConfirmCut(two, 1);
        Store.Miscut(new() { PlanId = two, Layout = 2, Note = "slipped" });
        Store.Undo(one.Change);
        Store.Plan(two).State.Should().Be(PlanState.Cutting);
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void What_a_replaced_plan_cut_stays_cut()
    {
        var id = Store.Reserve(Plan());
        var cut = Store.ConfirmCut(id, 1);
        var next = Store.Replan(id, Plan(1));
        var replan = Store.History(1)[0].Id;

        Refused(() => Store.Undo(cut.Change), $"undo change {replan} first");
        Store.Check().Should().BeEmpty();
        Store.Undo(replan);
        Store.Undo(cut.Change);
        Store.Check().Should().BeEmpty();
        Store.Plan(id).State.Should().Be(PlanState.Reserved);
        next.Should().BeGreaterThan(id);
    }

    [Fact]
    public void A_cancelled_plan_may_be_gone_on_with()
    {
        var id = Store.Reserve(Plan());
        Store.ConfirmCut(id, 1);
        Store.Cancel(id);
        Store.Remaining(id).Should().ContainSingle().Which.Missing.Should().Be(4);

        var next = Store.Replan(id, Plan(1));
        Store.Plan(id).State.Should().Be(PlanState.Replaced);
        Store.ConfirmCut(next, 1).State.Should().Be(PlanState.Finished);
        Refused(() => Store.Replan(id, Plan(1)), "replaced");
        Store.TraceBatch("P1").Sum(blanks => blanks.Count).Should().Be(8);
    }

    [Fact]
    public void A_rest_is_not_entered_as_a_plan_of_its_own()
    {
        var id = Store.Reserve(Plan());
        Store.ConfirmCut(id, 1);
        Refused(() => Store.Reserve(Plan(1)), $"'nest replan {PlanNumber.Format(id)} PLAN-FILE'");
        Store.Reserve(Plan(1), again: true).Should().BeGreaterThan(id);
        Store.Reserve(Plan(3)).Should().BeGreaterThan(id, "another number is another batch");
    }

    [Fact]
    public void In_a_stock_take_the_later_word_counts()
    {
        var thrown = Store.Add(RackFixture.Plate(500, 300)).Mark;
        var moved = Store.Add(RackFixture.Plate(510, 300)).Mark;
        var gone = Store.Add(RackFixture.Plate(520, 300)).Mark;
        var lost = Store.Add(RackFixture.Plate(530, 300)).Mark;
        Store.Scrap([gone], "bent");
        var count = Store.StartCount();
        Store.EnterFound(count, [(thrown, ""), (moved, "B7"), (gone, "B8")]);
        Store.Scrap([thrown], "cracked");
        Store.Move([moved], "C1");

        Store.Count(count).Differences.Select(line => (line.Mark, line.Verdict)).Should()
            .BeEquivalentTo([(gone, CountVerdict.Returned), (lost, CountVerdict.Missing)]);
        Store.ApplyCount(count).Should().Be(2);
        (Store.Show(thrown).State, Store.Show(moved).Place, Store.Show(gone).State).Should().Be((PieceState.Scrapped, "C1", PieceState.OnRack));

        var other = Store.StartCount();
        Store.DropCount(other);
        Store.Counts().Select(take => take.State).Should().Equal(StockTakeState.Dropped, StockTakeState.Applied);
        Refused(() => Store.ApplyCount(other), "closed");
    }

    [Fact]
    public void A_delivery_is_of_a_supplier_that_the_plan_knows_and_a_heat_of_one_material()
    {
        var bar = SamplePlans.FlatBar("bar", 3000, 40, 12, 30);
        var plate = SamplePlans.Plate("plate", 600, 300, 10, 40) with { Supplier = "Gannet Steel (invented)" };
        var foot = SamplePlans.Part("foot", SamplePlans.Steel.Id, 300, 40, 12, 6);
        var job = SamplePlans.Job("both", [Bracket with { Quantity = 4 }, foot], [plate, bar]);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, plate, 1, 1, job.Parts[0], 2, 2), SamplePlans.Grid(job, bar, 2, 1, foot, 6, 1)));

        Refused(() => Store.Receive(new() { PlanId = id, Supplier = "Nobody" }), "buys nothing from 'Nobody' — its suppliers are Gannet Steel (invented), Kestrel Metals (invented)");
        Refused(() => Store.Receive(new() { PlanId = id, Heat = "H7" }), "one heat, H7, cannot be that of 6061-T651 and 1018");
        Store.Receive(new() { PlanId = id, Heat = "H7", Layouts = [1] }).Pieces.Single().Piece.Heat.Should().Be("H7");
    }

    [Fact]
    public void Only_ones_own_newest_change_is_taken_back_without_its_number()
    {
        var piece = Store.Add(RackFixture.Plate(500, 300));
        using (var other = RackStore.Open(rack.File, rack.Options with { Who = "anna" }))
        {
            other.Move([piece.Mark], "Z9");
        }

        var newest = Store.History(1)[0].Id;
        Refused(() => Store.Undo(), $"is of anna: moved {piece.Mark} to Z9");
        Store.Undo(newest);
        Store.Show(piece.Mark).Place.Should().Be("A1");
    }

    [Fact]
    public void A_change_that_others_build_on_names_them()
    {
        var piece = Store.Add(RackFixture.Plate(600, 300));
        var added = Store.History(1)[0].Id;
        var job = SamplePlans.Job("one", [Bracket with { Quantity = 4 }], [piece.ToStock(piece.Value)]);
        var id = Store.Enter(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, job.Parts[0], 2, 2)));
        var entered = Store.History(1)[0].Id;

        Refused(() => Store.Undo(added), $"undo change {entered} first");
        id.Should().Be(1);
    }

    [Fact]
    public void The_note_and_what_was_spoiled_are_in_the_history()
    {
        var id = Store.Reserve(Plan());
        Store.ConfirmCut(new CutEntry { PlanId = id, Layout = 1, Spoiled = [new("bracket", 1)], Note = "blade wandered" });
        Store.History(1)[0].Summary.Should().Contain("spoiled 1 × bracket").And.EndWith("(blade wandered)");
    }
}
