using System.Collections.Immutable;
using CsCheck;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Cutting;

/// <summary>Steps replayed cut by cut on a simulated saw give exactly the blanks and offcuts of the layout.</summary>
public class CutSequencerTest
{
    [Fact]
    public void Random_plates_replay_exactly() =>
        RandomPlans.Plates.Where(plan => plan.Layouts[0].Pieces.Length > 0).Sample(plan =>
        {
            var layout = plan.Layouts[0];
            var sequence = CutSequencer.Sequence(plan, layout);
            var left = SawSimulator.Run(plan, layout, sequence).Metal.ToList();
            var trimmed = TrimmedEdges.Of(plan.SawOf(layout), plan.StockOf(layout), layout);
            foreach (var area in layout.Pieces.Select(piece => piece.Area).Concat(layout.Offcuts.Select(offcut => trimmed.Metal(layout, offcut.Area))))
            {
                left.Remove(area).Should().BeTrue("{0} is cut", area);
            }

            // Only trims are left.
            left.Where(area => layout.Usable.Overlaps(area)).Should().BeEmpty();
            AllNamed(layout, sequence);
            sequence.Settings.Should().Be(LayoutSettings.Of(plan.StockOf(layout), plan.SawOf(layout), layout, plan.Job.Unit).Count);
            // The same cuts as the cost model counts.
            var work = SawWork.Of(plan.SawOf(layout), plan.StockOf(layout), layout);
            sequence.Steps.Length.Should().Be(work.Cuts);
            sequence.Steps.Aggregate(Length.Zero, (sum, step) => sum + step.CutLength).Should().Be(
                Length.FromNanometres((long)(work.Section.SquareNanometres / plan.StockOf(layout).Thickness.Nanometres)));
        }, iter: 150, threads: 1);

    [Fact]
    public void Random_bars_replay_exactly() =>
        RandomPlans.Bars.Sample(plan =>
        {
            var layout = plan.Layouts[0];
            var sequence = CutSequencer.Sequence(plan, layout);
            var left = SawSimulator.Run(plan, layout, sequence).Metal.ToList();
            foreach (var area in layout.Pieces.Select(piece => piece.Area))
            {
                left.Remove(area).Should().BeTrue("{0} is cut", area);
            }

            var trimmed = TrimmedEdges.Of(plan.SawOf(layout), plan.StockOf(layout), layout);
            foreach (var offcut in layout.Offcuts)
            {
                left.Remove(trimmed.Metal(layout, offcut.Area)).Should().BeTrue("{0} is left with the raw end that it has", offcut.Area);
            }

            sequence.Steps.Length.Should().Be(SawWork.Of(plan.SawOf(layout), plan.StockOf(layout), layout).Cuts);
            sequence.Settings.Should().Be(LayoutSettings.Of(plan.StockOf(layout), plan.SawOf(layout), layout, plan.Job.Unit).Count);
            left.Where(area => area.Right > layout.Usable.X && area.X < layout.Usable.Right).Should().BeEmpty();
            AllNamed(layout, sequence);
        }, iter: 150, threads: 1);

    [Fact]
    public void The_good_plan_step_by_step()
    {
        var plan = TestPlan.Good();
        var sequence = CutSequencer.Sequence(plan, plan.Layouts[0]);
        SawSimulator.Run(plan, plan.Layouts[0], sequence);
        // No blank lies against the right and the top edge: they stay raw.
        sequence.Steps.Take(2).Select(step => step.Yields.Single(yield => yield.Kind == WorkKind.Scrap).Name)
            .Should().Equal("trim left", "trim bottom");
        sequence.Steps.Take(2).Select(step => step.Measure).Should().Equal(Mm(1990), Mm(990));
        // The plate lies between fence and blade, the strip falls free.
        sequence.Steps.Take(2).Select(step => step.Against).Should().Equal(Edge.Right, Edge.Top);
        sequence.Steps.Take(2).Should().OnlyContain(step => step.Yields[0].Kind == WorkKind.Stock && !step.Marked);
        // The strips in their order, then what is cut across: the smaller measure first.
        sequence.Steps.Skip(2).Take(2).Select(step => (step.Direction, step.Measure))
            .Should().Equal((CutDirection.Rip, Mm(304)), (CutDirection.Rip, Mm(204)));
        sequence.Steps.Skip(4).Select(step => step.Measure).Should().Equal([.. Enumerable.Repeat(Mm(104), 10), .. Enumerable.Repeat(Mm(404), 4)]);
        // Two trims, two strips, one stop for the tabs and one for the brackets.
        sequence.Settings.Should().Be(6);
        sequence.Steps.Length.Should().Be(2 + 2 + 4 + 10);
        sequence.Steps[2].OnSaw.Name.Should().Be("sheet");
        sequence.Steps[2].Yields.Select(yield => yield.Name).Should().Equal("strip A", "sheet");
        sequence.Steps[3].Yields.Select(yield => (yield.Name, yield.To)).Should().Contain(("offcut 3", Destination.Rack));
    }

    [Fact]
    public void Equal_stops_of_two_strips_are_used_together()
    {
        // Two strips of different height, both with pieces of 96 + 4 and 196 + 4 mm: 2 rips + 2 stops instead of 2 + 4.
        var job = Job(
            [
                Flat("a", 96, 96, 12, 2) with { MayTurn = false }, Flat("b", 196, 96, 12, 2) with { MayTurn = false },
                Flat("c", 96, 76, 12, 2) with { MayTurn = false }, Flat("d", 196, 76, 12, 2) with { MayTurn = false },
            ],
            [Leftover("R", 700, 300, 15)]);
        var layout = TestPlan.OnSaw(job, "R", (usable, tree) => tree.Split(usable, CutDirection.Rip,
            strip => tree.Split(strip(100), CutDirection.Crosscut, [.. tree.Row("a", 100, 2), .. tree.Row("b", 200, 2)]),
            strip => tree.Split(strip(80), CutDirection.Crosscut, [.. tree.Row("c", 100, 2), .. tree.Row("d", 200, 2)])));
        var plan = TestPlan.Of(job, layout);
        var sequence = CutSequencer.Sequence(plan, plan.Layouts[0]);
        SawSimulator.Run(plan, plan.Layouts[0], sequence);
        sequence.Settings.Should().Be(4);
        CutSequencer.Order(plan).Settings.Should().Be(4);
    }

    [Fact]
    public void A_bars_right_trim_comes_off_with_the_last_piece()
    {
        var saw = BarSaw with { ShortestHeld = default };
        var job = Job([Flat("p", 98, 34, 16, 3)], [Bar("B", Form.FlatBar, 40, 20, 320)], saw);
        var layout = TestPlan.OnSaw(job, "B", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("p", 100, 3)]));
        var plan = TestPlan.Of(job, layout);
        var sequence = CutSequencer.Sequence(plan, plan.Layouts[0]);
        SawSimulator.Run(plan, plan.Layouts[0], sequence);
        // Left trim, then three cuts with one stop; the cost model counts the same four.
        sequence.Steps.Select(step => step.Measure).Should().Equal(Mm(6), Mm(100), Mm(100), Mm(100));
        sequence.Steps[^1].Yields.Select(yield => yield.Name).Should().Equal("piece 3", "trim right");
        // The raw end is cut off at a mark; measuring it counts like a setting.
        sequence.Steps.Select(step => (step.Marked, step.Setting)).Should().Equal((true, 0), (false, 1), (false, 1), (false, 1));
        sequence.Settings.Should().Be(2);
        SawWork.Of(saw, job.Stocks[0], plan.Layouts[0]).Cuts.Should().Be(4);
    }

    [Fact]
    public void Many_pieces_take_one_setting_for_each_size_of_a_level()
    {
        var job = Job([Flat("tile", 6, 6, 12, 5000) with { Forms = Forms.Plate }], [Plate("P", 2000, 1000, 15)]);
        var layout = TestPlan.OnSaw(job, "P", (usable, tree) => tree.Split(usable, CutDirection.Rip,
            [.. Enumerable.Repeat<Func<Func<decimal, Rect>, CutNode>>(
                strip => tree.Split(strip(10), CutDirection.Crosscut, [.. tree.Row("tile", 10, 100)]), 50)]));
        var plan = TestPlan.Of(job, layout);
        var sequence = CutSequencer.Sequence(plan, plan.Layouts[0]);
        sequence.Settings.Should().Be(2 + 2);
        SawSimulator.Run(plan, plan.Layouts[0], sequence);
    }

    [Fact]
    public void The_order_of_work_groups_by_stock_and_stacks()
    {
        var plan = TestPlan.Good();
        var saw = plan.Job.Saws[0] with { StackHeight = Mm(35) };
        var job = plan.Job with { Saws = [saw, plan.Job.Saws[1]], Parts = [.. plan.Job.Parts.Select(part => part with { Quantity = part.Quantity * 3 })] };
        var three = TestPlan.Of(job, [.. plan.Layouts.Select(layout => layout with { Count = 3 })]);
        var order = CutSequencer.Order(three);
        order.Groups.Select(group => group.StockId).Should().Equal("plate 15", "R1", "flat 40x20");
        var item = order.Items.First(item => item.Layout == 1);
        // Two sheets of 15 mm in 35 mm: stacks of 2 and 1.
        (item.StackedPieces, item.Stacks).Should().Be((2, 2));
        var one = item.Sequence;
        // What the sheet says is what is paid for: 6 settings × 2 min once, 18 cuts × 1.5 min and the section of each sheet.
        var section = one.Minutes - (18 * 1.5m) - (6 * 2m);
        item.Minutes.Should().Be((3 * 18 * 1.5m) + (6 * 2m) + (3 * section));
    }

    [Fact]
    public void A_cutter_goes_from_piece_to_nearest_piece()
    {
        var job = Job([Flat("leaf", 96, 96, 12, 4) with { Forms = Forms.Plate }], [Leftover("R", 600, 600, 15)], Cutter);
        var layout = TestPlan.OnCutter(job, "R",
            new PlacedPiece("leaf", Box(400, 400, 100, 100), false), new PlacedPiece("leaf", Box(20, 20, 100, 100), false),
            new PlacedPiece("leaf", Box(400, 20, 100, 100), false), new PlacedPiece("leaf", Box(132, 20, 100, 100), false));
        var plan = TestPlan.Of(job, layout);
        CutSequencer.Sequence(plan, plan.Layouts[0]).Outlines.Select(outline => outline.Index).Should().Equal(1, 3, 2, 0);
    }

    private static void AllNamed(Layout layout, CutSequence sequence)
    {
        if (sequence.Steps.Length == 0)
        {
            return;
        }

        // Every piece comes off once, under its number and part, and goes to the blanks.
        sequence.Steps.SelectMany(step => step.Yields).Where(yield => yield.Kind == WorkKind.Piece).OrderBy(yield => yield.Index)
            .Select(yield => (yield.Index, yield.PartId, yield.Area, yield.To))
            .Should().Equal(layout.Pieces.Select((piece, index) => (index, piece.PartId, piece.Area, Destination.Blanks)));
        // What goes back on the pile is cut later.
        sequence.Steps.SelectMany(step => step.Yields)
            .Where(yield => yield.To is Destination.Pile or Destination.Saw)
            .Select(yield => (yield.Area, yield.Name))
            .Except(sequence.Steps.Select(step => (step.OnSaw.Area, step.OnSaw.Name)))
            .Should().BeEmpty();
    }
}
