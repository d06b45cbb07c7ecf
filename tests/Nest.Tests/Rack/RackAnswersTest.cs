using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>What the store answers beside the life of pieces and plans: names that are no rack, copies, shapes, what was told twice, sizes in inches.</summary>
public sealed class RackAnswersTest : IDisposable
{
    private static readonly Part Bracket = SamplePlans.Part("bracket", "6061-T651", 150, 80, 10, 30);

    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    public void Dispose() => rack.Dispose();

    [Theory]
    [InlineData("")]
    [InlineData("  ")]
    [InlineData(":memory:")]
    [InlineData("file:rack.db?mode=memory")]
    public void A_name_that_SQLite_takes_for_no_file_is_refused(string name) =>
        FluentActions.Invoking(() => RackStore.Open(name)).Should().Throw<RackException>().Which.Fault.Should().Be(RackFault.NotARack);

    [Fact]
    public void What_is_shorter_than_any_rack_is_not_begun_anew()
    {
        var rest = Path.Combine(rack.Folder, "rest.db");
        File.WriteAllBytes(rest, new byte[100]);

        FluentActions.Invoking(() => RackStore.Open(rest)).Should().Throw<RackException>().Which.Fault.Should().Be(RackFault.Damaged);
        new FileInfo(rest).Length.Should().Be(100);
    }

    [Fact]
    public void A_copy_has_every_piece_and_change_and_goes_its_own_way()
    {
        var piece = Store.Add(RackFixture.Plate(500, 300));
        var path = Path.Combine(rack.Folder, "copy.db");

        Store.CopyTo(path);

        using var copy = RackStore.Open(path, rack.Options);
        copy.Path.Should().Be(path);
        copy.List(new()).Should().Equal(Store.List(new()));
        copy.History().Select(change => change.Summary).Should().Equal(Store.History().Select(change => change.Summary));
        copy.Scrap([piece.Mark], "");
        Store.Show(piece.Mark).State.Should().Be(PieceState.OnRack);
    }

    [Fact]
    public void A_cut_that_is_told_twice_under_one_name_is_booked_once_and_undone_with_its_name()
    {
        var id = Store.Reserve(Plan());
        var entry = new CutEntry { PlanId = id, Layout = 1 };

        Store.ConfirmCut(entry, "phone 7").Should().NotBeNull();
        Store.ConfirmCut(entry, "phone 7").Should().BeNull();
        Store.Remaining(id).Should().BeEmpty("30 of 30 brackets were cut");
        Store.Undo();
        Store.ConfirmCut(entry, "phone 7").Should().NotBeNull("the first telling was taken back");
    }

    [Fact]
    public void A_plan_is_found_by_what_it_cuts_and_its_parts_are_known_as_shapes()
    {
        Store.KnownShapes().Should().BeEmpty();
        Store.Find(Plan()).Should().BeNull();

        var id = Store.Enter(Plan());

        Store.Find(Plan())!.Id.Should().Be(id);
        var shape = Store.KnownShapes().Should().ContainSingle().Subject;
        (shape.Length, shape.Width, shape.Thickness).Should().Be((Bracket.Length, Bracket.Width, Bracket.Thickness));
        Store.Cancel(id);
        Store.Find(Plan()).Should().BeNull("it was given up");
        Store.Plans().Should().ContainSingle().Which.State.Should().Be(PlanState.Cancelled);
    }

    [Fact]
    public void Pieces_of_a_material_that_hold_a_box_come_as_stock_with_their_value()
    {
        var small = Store.Add(RackFixture.Plate(120, 60));
        var large = Store.Add(RackFixture.Plate(500, 300));
        Store.Add(RackFixture.Plate(500, 300) with { MaterialId = SamplePlans.Steel.Id });

        var found = Store.AvailableStock(["6061-t651"], new() { Holds = [SamplePlans.Mm(200), SamplePlans.Mm(100), SamplePlans.Mm(8)] });

        found.Should().ContainSingle().Which.Should().Match<Stock>(stock => stock.RackMark == large.Mark && stock.PiecePrice == Money.FromAmount(20m));
        Store.AvailableStock(["6061-T651"], new()).Select(stock => stock.RackMark).Should().BeEquivalentTo(small.Mark, large.Mark);
    }

    [Fact]
    public void A_long_list_of_marks_is_shortened_in_the_history()
    {
        var marks = Store.Add([.. Enumerable.Range(0, 15).Select(_ => RackFixture.Plate(500, 300))]).Select(piece => piece.Mark).ToList();

        Store.Move(marks, " shelf 9 ").Should().Equal(marks);

        Store.History(1)[0].Summary.Should().EndWith("and 3 more to shelf 9").And.Contain(marks[11]).And.NotContain(marks[12]);
        Store.Move([marks[0]], " ");
        Store.History(1)[0].Summary.Should().EndWith("to no place");
    }

    [Fact]
    public void A_refusal_has_its_sizes_as_the_shop_reads_them()
    {
        var piece = Store.Add(RackFixture.Plate(508, 254));
        var id = Store.Reserve(Plan(piece));

        var refused = FluentActions.Invoking(() => Store.Miscut(new() { PlanId = id, Layout = 2, Leftovers = [new(SamplePlans.Mm(762), SamplePlans.Mm(254))], Note = "slipped" }))
            .Should().Throw<RackException>().Which;

        // 762, 508 and 254 mm are 30, 20 and 10 in.
        refused.Fault.Should().Be(RackFault.Refused);
        refused.Message.Should().Contain("762 mm × 254 mm").And.Contain("508 mm × 254 mm");
        refused.MessageIn(new(LengthUnit.Inch, 3, 0)).Should().Contain("30 in × 10 in").And.Contain("20 in × 10 in");
        RackException.Refused("no", "yes").MessageIn(new(LengthUnit.Inch, 3, 0)).Should().Be("no");
    }

    private static Plan Plan(RackPiece? leftover = null)
    {
        var plate = SamplePlans.Plate("plate", 1000, 500, 10, 90);
        if (leftover is null)
        {
            var job = SamplePlans.Job("brackets", [Bracket], [plate]);
            return SamplePlans.Plan(job, SamplePlans.Grid(job, plate, 1, 1, Bracket, 6, 5));
        }

        var stock = leftover.ToStock(Money.FromAmount(20));
        var both = SamplePlans.Job("brackets", [Bracket with { Quantity = 34 }], [plate, stock]);
        return SamplePlans.Plan(both, SamplePlans.Grid(both, plate, 1, 1, Bracket, 6, 5), SamplePlans.Grid(both, stock, 2, 1, Bracket, 2, 2));
    }
}
