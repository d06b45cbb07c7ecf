using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Plans;
using Nest.Rack.Values;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>What a plan buys, what of it came, and what a plan of the rest makes of it.</summary>
public sealed class ReceiveTest : IDisposable
{
    private static readonly Part Bracket = SamplePlans.Part("bracket", "6061-T651", 150, 80, 10, 24);

    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    [Fact]
    public void What_comes_is_kept_for_the_plan_and_cut_before_anything_else_is_bought()
    {
        var id = Store.Reserve(Plan(3));
        Store.Plan(id).Purchases.Should().ContainSingle().Which.ToCome.Should().Be(3);
        var came = Store.Receive(new ReceiveEntry { PlanId = id, Count = 2, Heat = "H-1", Place = "bay" });
        came.Pieces.Should().HaveCount(2).And.OnlyContain(one => one.Kept && one.Piece.ReservedFor == id && one.Piece.Bought && one.Layouts.SequenceEqual(new[] { 1 }));
        Store.AvailableStock(StockRequest.For(Plan(3).Job)).Stocks.Should().BeEmpty("no other plan gets them");

        Store.ConfirmCut(id, 1).Consumed.Should().Equal(came.Pieces[0].Piece.Mark);
        Store.Miscut(new MiscutEntry { PlanId = id, Layout = 1, Note = "slipped" }).Consumed.Should().Equal(came.Pieces[1].Piece.Mark);
        var bought = Store.ConfirmCut(id, 1).Consumed[0];
        came.Pieces.Select(one => one.Piece.Mark).Should().NotContain(bought);
        Store.Plan(id).Purchases[0].Should().Match<PurchaseProgress>(purchase => purchase.Came == 3 && purchase.ToCome == 0);

        var more = () => Store.Receive(new ReceiveEntry { PlanId = id });
        more.Should().Throw<RackException>().WithMessage("nothing of this is still to come*");

        // By hand: four plates of 1000 x 500 x 10 mm at 2700 kg/m3, one of them to come once more for the miscut.
        (Store.Balance().Bought / 1_000_000_000m).Should().Be(3 * 13.5m);
        Store.ConfirmCut(id, 1);
        Store.Plan(id).State.Should().Be(PlanState.Finished);
        (Store.Balance().Bought / 1_000_000_000m).Should().Be(4 * 13.5m);
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void What_was_paid_for_costs_a_plan_of_the_rest_less_than_to_buy_it_again()
    {
        var plan = Plan(3);
        var id = Store.Reserve(plan);
        Store.Receive(new ReceiveEntry { PlanId = id });
        var offered = Store.AvailableStock(StockRequest.For(plan.Job) with { AlsoReservedFor = id }).Stocks;

        // By hand: 1000 × 500 × 10 mm are 13.5 kg, as scrap at 1.20 a kilogram 16.20; that is more than a tenth of 0.6 × 90.
        plan.Job.MaterialOf("6061-T651").ScrapPricePerKilogram.Should().Be(1.2m);
        offered.Should().HaveCount(3).And.OnlyContain(stock => stock.PiecePrice == Money.FromAmount(16.2m));
        Store.List(new()).Should().OnlyContain(piece => piece.Value == Money.FromAmount(90), "what it cost is not forgotten");
        Store.Cancel(id).Should().Be(3);
        Store.AvailableStock(StockRequest.For(plan.Job)).Stocks.Should().HaveCount(3);
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void A_piece_bought_to_reach_a_price_break_comes_free_at_its_worth()
    {
        var plan = Plan(2);
        plan = plan with { Orders = [new("Kestrel", [new("plate", 3, Money.FromAmount(270), Money.FromAmount(225))], Money.FromAmount(225), Money.Zero, Money.Zero)] };
        var id = Store.Reserve(plan);
        var came = Store.Receive(new ReceiveEntry { PlanId = id }).Pieces;
        came.Select(one => (one.Kept, one.Piece.Value.Amount)).Should().Equal((true, 75m), (true, 75m), (false, 90m * plan.Job.OffcutRules[0].Fraction));
    }

    [Fact]
    public void What_comes_cut_to_size_counts_as_made()
    {
        var stock = SamplePlans.Plate("ready", 150, 80, 10, 5) with { CutFor = "bracket", MinThickness = SamplePlans.Mm(10) };
        var job = SamplePlans.Job("cut to size", [Bracket with { Quantity = 4 }], [stock]);
        var layout = new Layout
        {
            Number = 1, StockId = "ready", SawId = Saw.SupplierId, Count = 4, Sheet = new(Length.Zero, Length.Zero, stock.Length, stock.Width), Trims = default,
            Pieces = [new("bracket", new(Length.Zero, Length.Zero, stock.Length, stock.Width), false)],
            Tree = new() { Kind = CutNodeKind.Piece, Area = new(Length.Zero, Length.Zero, stock.Length, stock.Width), Index = 0 }, Offcuts = [], Cost = default,
        };
        var id = Store.Reserve(SamplePlans.Plan(job, layout));
        var result = Store.Receive(new ReceiveEntry { PlanId = id, Count = 3, Heat = "H-3" });
        (result.Pieces.Length, result.State).Should().Be((0, PlanState.Cutting));
        result.Ready.Should().Equal(new PartCount("bracket", 3));
        Store.Receive(new ReceiveEntry { PlanId = id }).State.Should().Be(PlanState.Finished);
        Store.TraceBatch("P1").Sum(blanks => blanks.Count).Should().Be(4);
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void What_comes_for_a_plan_that_was_given_up_is_free()
    {
        var id = Store.Reserve(Plan(2));
        Store.Cancel(id);
        Store.Receive(new ReceiveEntry { PlanId = id }).Pieces.Should().HaveCount(2).And.OnlyContain(one => !one.Kept && one.Piece.State == PieceState.OnRack);
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void A_piece_of_the_rack_cut_in_place_of_what_came_sets_that_free()
    {
        var id = Store.Reserve(Plan(1));
        var came = Store.Receive(new ReceiveEntry { PlanId = id }).Pieces[0].Piece;
        var other = Store.Add(came with { Mark = "", State = PieceState.OnRack, ReservedFor = null, Heat = "OTHER" });
        Store.ConfirmCut(new CutEntry { PlanId = id, Layout = 1, From = [other.Mark] });
        Store.Show(came.Mark).Should().Match<RackPiece>(piece => piece.State == PieceState.OnRack && piece.ReservedFor == null);
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void Another_heat_than_came_is_refused_and_a_missing_one_is_entered_at_the_saw()
    {
        var id = Store.Reserve(Plan(2));
        Store.Receive(new ReceiveEntry { PlanId = id, Count = 1, Heat = "H-1" });
        var wrong = () => Store.ConfirmCut(new CutEntry { PlanId = id, Layout = 1, Heat = "H-2" });
        wrong.Should().Throw<RackException>().WithMessage("what came for the plan is of other heats: * of H-1");
        Store.Receive(new ReceiveEntry { PlanId = id });
        var cut = Store.ConfirmCut(new CutEntry { PlanId = id, Layout = 1, Heat = "H-2" });
        Store.Show(cut.Consumed[0]).Heat.Should().Be("H-2");
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void Papers_that_come_after_the_cut_go_down_to_all_that_was_cut_from_the_piece()
    {
        var id = Store.Reserve(Plan(1));
        var cut = Store.ConfirmCut(id, 1);
        Store.Adjust(cut.Consumed[0], new() { Heat = "H-9", Certificate = "3.1/9" });
        cut.Leftovers.Should().NotBeEmpty().And.OnlyContain(left => Store.Show(left.Mark).Heat == "H-9" && Store.Show(left.Mark).Certificate == "3.1/9");
        Store.TraceHeat("H-9").Blanks.Should().ContainSingle();
        var size = () => Store.Adjust(cut.Consumed[0], new() { Length = SamplePlans.Mm(900) });
        size.Should().Throw<RackException>().WithMessage("*no longer on the rack*");
        Store.Undo();
        cut.Leftovers.Should().OnlyContain(left => Store.Show(left.Mark).Heat == "");
    }

    [Theory]
    [InlineData("")]
    [InlineData("  ")]
    [InlineData(":memory:")]
    [InlineData("file:rack.db?mode=memory")]
    public void A_rack_that_would_be_gone_with_the_program_is_refused(string name)
    {
        var open = () => RackStore.Open(name);
        open.Should().Throw<RackException>().WithMessage("*is no name of a file");
    }

    [UnixTheory("Quotes are no part of a name there.")]
    [InlineData("a;b=c 'd' \"e\" .db")]
    [InlineData("ράφι 货架.db")]
    public void Any_name_of_a_file_will_do(string name)
    {
        var path = Path.Combine(rack.Folder, name);
        using (var store = RackStore.Open(path))
        {
            store.Learn([SamplePlans.Aluminium]);
        }

        File.Exists(path).Should().BeTrue();
    }

    public void Dispose() => rack.Dispose();

    /// <summary>So many plates of 1000 x 500, eight brackets each.</summary>
    private static Plan Plan(int plates)
    {
        var plate = SamplePlans.Plate("plate", 1000, 500, 10, 90);
        var job = SamplePlans.Job($"plates {plates}", [Bracket with { Quantity = 8 * plates }], [plate]);
        return SamplePlans.Plan(job, SamplePlans.Grid(job, plate, 1, plates, Bracket, 4, 2));
    }
}
