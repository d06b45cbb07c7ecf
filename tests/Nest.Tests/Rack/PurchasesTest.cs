using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Plans;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>Purchases that several layouts share, and what the rack writes down of a piece that comes.</summary>
/// <remarks>A plate of 1000 × 500 gives four brackets, a bar of 3000 six feet.</remarks>
public sealed class PurchasesTest : IDisposable
{
    private static readonly Part _bracket = SamplePlans.Part("bracket", SamplePlans.Aluminium.Id, 120, 80, 10, 4);
    private static readonly Part _foot = SamplePlans.Part("foot", SamplePlans.Steel.Id, 120, 40, 12, 6);
    private static readonly Stock _plate = SamplePlans.Plate("plate", 1000, 500, 10, 90);
    private static readonly Stock _bar = SamplePlans.FlatBar("bar", 3000, 40, 12, 30) with { Supplier = "Gannet Steel (invented)" };

    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    public void Dispose() => rack.Dispose();

    [Fact]
    public void A_piece_is_entered_with_the_sizes_that_were_listed()
    {
        var stock = _plate with { MinLength = SamplePlans.Mm(990), CleanEdges = new(true, false, true, false), GoodFaces = true };
        var piece = Received(stock, _bracket).Piece;
        (piece.Length, piece.Width, piece.Thickness).Should().Be((SamplePlans.Mm(1000), SamplePlans.Mm(500), SamplePlans.Mm(10)));
        (piece.MinLength, piece.MinWidth, piece.MinThickness).Should().Be((SamplePlans.Mm(990), null, SamplePlans.Mm(9.8m)), "only what differs is a size of its own");
        (piece.CleanEdges, piece.GoodFaces, piece.Supplier).Should().Be((new CleanEdges(true, false, true, false), true, "Kestrel Metals (invented)"));
        var exact = Received(_plate with { MinWidth = SamplePlans.Mm(495), MinThickness = SamplePlans.Mm(10) }, _bracket).Piece;
        (exact.MinLength, exact.MinWidth, exact.MinThickness).Should().Be((null, SamplePlans.Mm(495), null));
    }

    [Fact]
    public void A_piece_of_a_section_keeps_its_wall()
    {
        var leg = SamplePlans.Part("leg", SamplePlans.Steel.Id, 300, 40, 20, 4) with { Forms = Forms.RectangularTube, Detail = new() { Wall = SamplePlans.Mm(2) } };
        var tube = _bar with { Id = "tube", Form = Form.RectangularTube, Width = SamplePlans.Mm(40), Thickness = SamplePlans.Mm(20), MinWidth = SamplePlans.Mm(40), MinThickness = SamplePlans.Mm(20), Detail = leg.Detail };
        var job = SamplePlans.Job("tube", [leg], [tube]);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, tube, 1, 1, leg, 4, 1)));
        var other = Store.Add(Store.Receive(new() { PlanId = id }).Pieces.Single().Piece with { Mark = "", State = PieceState.OnRack, ReservedFor = null, Detail = new() { Wall = SamplePlans.Mm(3) } });
        Store.List(new()).Single(piece => piece.ReservedFor == id).Detail!.Wall.Should().Be(SamplePlans.Mm(2));
        var cut = () => Store.ConfirmCut(new() { PlanId = id, Layout = 1, From = [other.Mark] });
        cut.Should().Throw<RackException>().WithMessage("*is not the stock*", "its wall is 3");
        Store.ConfirmCut(id, 1).Leftovers.Should().OnlyContain(left => left.Detail!.Wall == SamplePlans.Mm(2));
    }

    [Fact]
    public void Progress_and_layouts_name_supplier_and_mark()
    {
        var leftover = Store.Add(RackFixture.Plate(500, 300));
        var job = SamplePlans.Job("named", [_bracket with { Quantity = 10 }], [_plate, leftover.ToStock(leftover.Value)]);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, _plate, 1, 2, _bracket, 2, 2), SamplePlans.Grid(job, job.Stocks[1], 2, 1, _bracket, 1, 2)));
        Store.Plan(id).Purchases.Select(purchase => (purchase.StockId, purchase.Supplier, purchase.Wanted)).Should().Equal(("plate", "Kestrel Metals (invented)", 2));
        Store.Plan(id).Layouts.Select(layout => (layout.Mark, layout.Open)).Should().Equal((null, 2), (leftover.Mark, 1));

        // A leftover that is lost cannot be cut again; in place of a plate that is lost another may be bought.
        Store.Miscut(new() { PlanId = id, Layout = 1, Note = "slipped" });
        Store.Miscut(new() { PlanId = id, Layout = 2, Note = "slipped" });
        Store.Plan(id).Layouts.Select(layout => (layout.Lost, layout.Open)).Should().Equal((1, 2), (1, 0));
    }

    /// <summary>By hand: two layouts of one plate each buy two plates, and both are kept when they come, whichever layout is cut first.</summary>
    [Fact]
    public void Layouts_of_one_stock_are_one_purchase()
    {
        var job = SamplePlans.Job("three", [_bracket with { Quantity = 10 }, _foot], [_plate, _bar]);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, _plate, 1, 1, _bracket, 2, 2), SamplePlans.Grid(job, _plate, 2, 1, _bracket, 2, 2),
            SamplePlans.Grid(job, _plate, 3, 1, _bracket, 1, 2), SamplePlans.Grid(job, _bar, 4, 1, _foot, 6, 1)));
        Store.Plan(id).Purchases.Select(purchase => purchase.Wanted).Should().Equal(3, 1);
        var came = Store.Receive(new() { PlanId = id, Supplier = "kestrel" }).Pieces;
        came.Should().HaveCount(3, "the bar is of another supplier").And.OnlyContain(one => one.Kept && one.Layouts.SequenceEqual(new[] { 1, 2, 3 }));
        Store.ConfirmCut(id, 1);
        Store.Plan(id).Purchases[0].InHand.Should().HaveCount(2, "two layouts still need them");

        // A plate of the rack for layout 2: one of the plates that came is not needed any more, though a bar is.
        var other = Store.Add(came[2].Piece with { Mark = "", State = PieceState.OnRack, ReservedFor = null });
        Store.ConfirmCut(new() { PlanId = id, Layout = 2, From = [other.Mark] });
        Store.Plan(id).Purchases[0].InHand.Should().Equal(came[1].Piece.Mark);
        Store.Show(came[2].Piece.Mark).State.Should().Be(PieceState.OnRack);
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void What_comes_is_for_the_layouts_that_still_cut_it()
    {
        var leftover = Store.Add(RackFixture.Plate(500, 300));
        var job = SamplePlans.Job("open", [_bracket with { Quantity = 10 }], [_plate, leftover.ToStock(leftover.Value)]);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, _plate, 1, 1, _bracket, 2, 2), SamplePlans.Grid(job, job.Stocks[1], 2, 1, _bracket, 1, 2), SamplePlans.Grid(job, _plate, 3, 1, _bracket, 2, 2)));
        Store.ConfirmCut(id, 1);
        Store.Receive(new() { PlanId = id }).Pieces.Single().Layouts.Should().Equal(3);
    }

    [Fact]
    public void Two_materials_without_a_heat_come_together()
    {
        var job = SamplePlans.Job("both", [_bracket, _foot], [_plate, _bar]);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, _plate, 1, 1, _bracket, 2, 2), SamplePlans.Grid(job, _bar, 2, 1, _foot, 6, 1)));
        Store.Receive(new() { PlanId = id }).Pieces.Select(one => one.StockId).Should().Equal("plate", "bar");
    }

    /// <summary>By hand: two layouts of two blanks each come cut to size. Two come and are the first layout's; then one, of the second.</summary>
    [Fact]
    public void What_comes_cut_to_size_goes_to_one_layout_after_the_other()
    {
        var id = Store.Reserve(Ready());
        Store.Receive(new() { PlanId = id, Count = 2 }).Ready.Should().Equal(new PartCount("bracket", 2));
        Store.Plan(id).Layouts.Select(layout => layout.Cut).Should().Equal(2, 0);
        Store.Receive(new() { PlanId = id, Count = 1 }).Ready.Should().Equal(new PartCount("bracket", 1));
        Store.Plan(id).Layouts.Select(layout => layout.Cut).Should().Equal(2, 1);

        var all = Store.Reserve(Ready(), again: true);
        Store.Receive(new() { PlanId = all, Count = 3 }).Ready.Should().Equal(new PartCount("bracket", 3));
        Store.Plan(all).Layouts.Select(layout => layout.Cut).Should().Equal(2, 1);
    }

    [Fact]
    public void What_a_supplier_cut_is_sawn_all_round()
    {
        var id = Store.Reserve(Ready());
        Store.Cancel(id);
        Store.Receive(new() { PlanId = id, Count = 1 }).Pieces.Single().Piece.CleanEdges.Should().Be(new CleanEdges(true, true, true, true));
    }

    /// <summary>By hand: a plate of 90 whose leftovers count 0.6 of it is worth 54; the plan of the rest counts only its scrap of 16.20, and what is left of it still carries its part of the 54.</summary>
    [Fact]
    public void What_is_left_of_a_paid_piece_carries_its_part_of_what_it_was_worth()
    {
        var job = SamplePlans.Job("paid", [_bracket with { Quantity = 8 }], [_plate]);
        job.OffcutRules[0].Fraction.Should().Be(0.6m);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, _plate, 1, 2, _bracket, 2, 2)));
        var paid = Store.Receive(new() { PlanId = id, Count = 1 }).Pieces.Single().Piece;
        var stock = paid.ToStock(Money.FromAmount(16.2m));
        var rest = job with { Name = "rest", Parts = [_bracket], Stocks = [stock] };
        var next = Store.Replan(id, SamplePlans.Plan(rest, SamplePlans.Grid(rest, stock, 1, 1, _bracket, 2, 2)));
        var left = Store.ConfirmCut(next, 1).Leftovers.MaxBy(piece => piece.Micrograms)!;

        // By hand: 1000 − 5 − 2 × 123.2 are 748.6, as the raw right end stays on it; across 5 are cut off the bottom: 495. The sheet is 1000 × 500.
        (left.Length, left.Width).Should().Be((SamplePlans.Mm(748.6m), SamplePlans.Mm(495)));
        left.Value.Should().Be(Money.FromAmountDown(54m * 748.6m * 495m / 500_000m));
    }

    private ReceivedPiece Received(Stock stock, Part part)
    {
        var job = SamplePlans.Job("sizes", [part], [stock]);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, stock, 1, 1, part, 2, 2)));
        return Store.Receive(new() { PlanId = id }).Pieces.Single();
    }

    private static Plan Ready()
    {
        var stock = SamplePlans.Plate("ready", 120, 80, 10, 5) with { CutFor = "bracket", MinThickness = SamplePlans.Mm(10) };
        var sheet = new Rect(Length.Zero, Length.Zero, stock.Length, stock.Width);
        Layout Two(int number) => new()
        {
            Number = number, StockId = "ready", SawId = Saw.SupplierId, Count = 2, Sheet = sheet, Trims = default, Pieces = [new("bracket", sheet, false)],
            Tree = new() { Kind = CutNodeKind.Piece, Area = sheet, Index = 0 }, Offcuts = [], Cost = default,
        };
        return SamplePlans.Plan(SamplePlans.Job("cut to size", [_bracket], [stock]), Two(1), Two(2));
    }
}
