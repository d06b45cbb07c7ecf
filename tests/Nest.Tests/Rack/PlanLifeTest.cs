using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;
using Nest.Rack.Values;
using Nest.RackStress;

namespace Nest.Tests.Rack;

public sealed class PlanLifeTest : IDisposable
{
    private static readonly Part Bracket = SamplePlans.Part("bracket", "6061-T651", 150, 80, 10, 40);
    private static readonly Part Foot = SamplePlans.Part("foot", "1018", 120, 40, 12, 30);

    private readonly RackFixture rack = new();

    [Fact]
    public void The_whole_life_of_a_plan_balances_to_the_gram()
    {
        var store = rack.Store;
        var leftover = store.Add(RackFixture.Plate(500, 300, heat: "OLD-7"));
        var plan = Plan(leftover.Mark, bars: 5);

        // Expected by hand: 2 plates of 1000 × 500 × 10 at 2 700 kg/m³ and five bars of 3000 × 40 × 12 at 7 870 kg/m³.
        const decimal PlateKilograms = 13.5m;
        const decimal BarKilograms = 11.3328m;
        const decimal LeftoverKilograms = 4.05m;

        var id = store.Reserve(plan);
        store.Plan(id).State.Should().Be(PlanState.Reserved);
        store.Show(leftover.Mark).Should().Match<RackPiece>(piece => piece.State == PieceState.Reserved && piece.ReservedFor == id);

        // Two layouts cut: one plate, three of five bars.
        var plate = store.ConfirmCut(new CutEntry { PlanId = id, Layout = 1, Heat = "N-100", Certificate = "3.1/881", Place = "B2", Batch = "lot 5" });
        plate.Parts.Should().Equal(new PartCount("bracket", 30));
        plate.Leftovers.Should().NotBeEmpty().And.OnlyContain(piece => piece.Heat == "N-100" && piece.Place == "B2" && piece.ParentMark == plate.Consumed[0]);
        var bars = store.ConfirmCut(new CutEntry { PlanId = id, Layout = 3, Count = 3, Heat = "S-9" });
        bars.State.Should().Be(PlanState.Cutting);
        bars.Parts.Should().Equal(new PartCount("foot", 18));

        // One miscut: the leftover slips in the vise; two brackets and a corner are saved.
        var miscut = store.Miscut(new MiscutEntry
        {
            PlanId = id,
            Layout = 2,
            Made = [new("bracket", 2)],
            Leftovers = [new(SamplePlans.Mm(200), SamplePlans.Mm(290))],
            Note = "slipped in the vise",
        });
        miscut.Leftovers.Should().ContainSingle().Which.Heat.Should().Be("OLD-7");
        store.Remaining(id).Should().Equal(new PartProgress("bracket", 40, 32), new PartProgress("foot", 30, 18));

        // The rest is planned anew, with the rack as it is: the plate's leftover is used.
        var restJob = RackStore.RestOf(plan.Job, store.Remaining(id));
        restJob.Parts.Select(part => part.Quantity).Should().Equal(8, 12);
        var stock = store.AvailableStock(StockRequest.For(restJob) with { AlsoReservedFor = id });
        var usable = stock.Stocks.Where(piece => piece.Form == Form.Plate).MaxBy(piece => (piece.Length * piece.Width).SquareNanometres)!;
        var rest = Rest(restJob, usable);
        var next = store.Replan(id, rest);
        store.Plan(id).State.Should().Be(PlanState.Replaced);
        store.Plan(next).Continues.Should().Be(id);

        foreach (var layout in rest.Layouts)
        {
            store.ConfirmCut(new CutEntry { PlanId = next, Layout = layout.Number, Count = layout.Count, Heat = layout.StockId == usable.Id ? "" : "N-101" });
        }

        store.Plan(next).State.Should().Be(PlanState.Finished);
        store.Remaining(next).Should().BeEmpty();
        store.Check().Should().BeEmpty();

        var books = store.Balance();
        books.Difference.Should().Be(0);
        Kilograms(books.Bought).Should().Be((PlateKilograms * rest.Layouts.Where(layout => layout.StockId == "plate").Sum(layout => layout.Count)) + PlateKilograms + (BarKilograms * 5));
        Kilograms(books.Found).Should().Be(LeftoverKilograms);

        // 40 brackets of 150 × 80 × 10 and 30 feet of 120 × 40 × 12, to the gram; blanks are as large as parts here.
        Math.Round(Kilograms(books.Parts), 3).Should().Be(Math.Round((40 * 0.150m * 0.080m * 0.010m * 2700m) + (30 * 0.120m * 0.040m * 0.012m * 7870m), 3));
        Kilograms(books.Bought + books.Found).Should().Be(Kilograms(books.Parts + books.Kerf + books.Waste + books.OnRack));
        books.Kerf.Should().BePositive();
        books.Waste.Should().BePositive();

        static decimal Kilograms(long micrograms) => micrograms / 1_000_000_000m;
    }

    [Fact]
    public void Kerf_of_a_layout_is_the_chips_of_its_cuts()
    {
        var plan = Plan(null, bars: 1);
        var id = rack.Store.Reserve(plan);
        rack.Store.ConfirmCut(id, 3);

        // By hand: bar 3000 × 40 × 12, kerf 1.3: one in the left trim of 10, one behind each of six blanks = 7 kerfs.
        rack.Store.Balance().Kerf.Should().Be((long)(7 * 1.3m * 40m * 12m * 7.870m * 1000m));

        // By hand: waste = the left trim of 10 less its kerf; the rest of 3000 − 10 − 6 × 121.3 = 2262.2 is kept, its raw end with it.
        rack.Store.Balance().Waste.Should().Be((long)(8.7m * 40m * 12m * 7.870m * 1000m));
        rack.Store.List(new()).Should().ContainSingle().Which.Length.Should().Be(SamplePlans.Mm(2262.2m));
    }

    [Fact]
    public void A_reserved_leftover_is_not_offered_and_cannot_be_reserved_again()
    {
        var store = rack.Store;
        var leftover = store.Add(RackFixture.Plate(500, 300));
        var request = StockRequest.For(["6061-T651"], SamplePlans.Mm(100), SamplePlans.Mm(50), SamplePlans.Mm(5));
        store.AvailableStock(request).Stocks.Should().ContainSingle();
        var id = store.Reserve(Plan(leftover.Mark, bars: 1));
        store.AvailableStock(request).Stocks.Should().BeEmpty();
        store.AvailableStock(request with { AlsoReservedFor = id }).Stocks.Should().ContainSingle();

        var again = () => store.Reserve(Plan(leftover.Mark, bars: 2));
        again.Should().Throw<RackException>().WithMessage($"{leftover.Mark} is reserved for P{id}");
        var scrap = () => store.Scrap([leftover.Mark], "");
        scrap.Should().Throw<RackException>();
        store.Plans().Should().ContainSingle("a refused plan leaves nothing behind");

        store.Cancel(id).Should().Be(1);
        store.AvailableStock(request).Stocks.Should().ContainSingle();
        store.Reserve(Plan(leftover.Mark, bars: 2)).Should().BeGreaterThan(id);
        store.Check().Should().BeEmpty();
    }

    [Fact]
    public void The_same_plan_is_not_reserved_twice_by_mistake()
    {
        var id = rack.Store.Reserve(Plan(null, bars: 1));
        var twice = () => rack.Store.Reserve(Plan(null, bars: 1));
        twice.Should().Throw<RackException>().WithMessage($"*already, as P{id}");
        rack.Store.Reserve(Plan(null, bars: 1), again: true).Should().BeGreaterThan(id);
    }

    [Fact]
    public void A_leftover_that_was_changed_since_the_plan_was_made_refuses_the_reservation()
    {
        var leftover = rack.Store.Add(RackFixture.Plate(500, 300));
        var plan = Plan(leftover.Mark, bars: 1);
        rack.Store.Adjust(leftover.Mark, new() { Length = SamplePlans.Mm(480) });
        var reserve = () => rack.Store.Reserve(plan);
        reserve.Should().Throw<RackException>().WithMessage("*was changed since the plan was made");
    }

    [Fact]
    public void A_plate_other_than_nominal_must_be_entered_as_it_is()
    {
        var store = rack.Store;
        var leftover = store.Add(RackFixture.Plate(500, 300));
        var id = store.Reserve(Plan(leftover.Mark, bars: 1));
        store.Adjust(leftover.Mark, new() { Length = SamplePlans.Mm(470) });
        var cut = () => store.ConfirmCut(id, 2);
        cut.Should().Throw<RackException>().WithMessage($"{leftover.Mark} is not the stock*");
        store.Check().Should().BeEmpty();
        store.Balance().Corrected.Should().Be(-(long)(0.030m * 0.300m * 0.010m * 2700m * 1_000_000_000m));
    }

    [Fact]
    public void Other_leftovers_than_planned_and_spoiled_blanks_are_booked()
    {
        var store = rack.Store;
        var id = store.Reserve(Plan(null, bars: 1));
        var result = store.ConfirmCut(new CutEntry
        {
            PlanId = id, Layout = 3, Spoiled = [new("foot", 1)], Leftovers = [new(SamplePlans.Mm(2000), default), new(SamplePlans.Mm(240), default)],
        });
        result.Parts.Should().Equal(new PartCount("foot", 5));
        result.Leftovers.Select(piece => piece.Length).Should().Equal(SamplePlans.Mm(2000), SamplePlans.Mm(240));
        store.Check().Should().BeEmpty();

        var toomuch = () => store.ConfirmCut(new CutEntry { PlanId = id, Layout = 1, Leftovers = [new(SamplePlans.Mm(990), SamplePlans.Mm(490))] });
        toomuch.Should().Throw<RackException>().WithMessage("blanks and leftovers weigh * more than * did");
    }

    [Fact]
    public void No_more_is_cut_than_the_layout_has()
    {
        var id = rack.Store.Reserve(Plan(null, bars: 2));
        rack.Store.ConfirmCut(id, 3, 2);
        var more = () => rack.Store.ConfirmCut(id, 3);
        more.Should().Throw<RackException>().WithMessage("layout 3 of P* has 0 pieces still to cut, not 1");
    }

    [Fact]
    public void A_bought_piece_that_stood_on_the_rack_is_cut_by_its_mark()
    {
        var store = rack.Store;
        var bar = SamplePlans.FlatBar("bar", 3000, 40, 12, 30);
        var piece = store.Add(new RackPiece
        {
            Form = Form.FlatBar, MaterialId = bar.MaterialId, Length = bar.Length, Width = bar.Width, Thickness = bar.Thickness,
            MinWidth = bar.MinWidth, MinThickness = bar.MinThickness, Bought = true, Heat = "S-77",
        });
        var id = store.Reserve(Plan(null, bars: 1));
        var result = store.ConfirmCut(new CutEntry { PlanId = id, Layout = 3, From = [piece.Mark] });
        result.Consumed.Should().Equal(piece.Mark);
        result.Leftovers.Should().OnlyContain(left => left.Heat == "S-77");
        store.Check().Should().BeEmpty();
    }

    [Fact]
    public void Blanks_are_traced_back_to_the_heat_and_forward_from_it()
    {
        var store = rack.Store;
        var id = store.Reserve(Plan(null, bars: 1));
        var first = store.ConfirmCut(new CutEntry { PlanId = id, Layout = 1, Heat = "N-100", Certificate = "3.1/881", Batch = "lot 5" });
        var left = first.Leftovers.MaxBy(piece => piece.Micrograms)!;
        var job = SamplePlans.Job("second", [Bracket with { Quantity = 2 }], [left.ToStock(left.Value)]);
        var second = store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, job.Parts[0], 1, 2)));
        store.ConfirmCut(new CutEntry { PlanId = second, Layout = 1, Batch = "lot 6" });

        var back = store.TraceBatch("LOT 6", "bracket").Should().ContainSingle().Subject;
        (back.Heat, back.Certificate, back.Count).Should().Be(("N-100", "3.1/881", 2));
        back.Marks.Should().Equal(left.Mark, first.Consumed[0]);

        var forward = store.TraceHeat("n-100");
        forward.Blanks.Select(blanks => (blanks.Batch, blanks.Count)).Should().Equal(("lot 5", 30), ("lot 6", 2));
        forward.Pieces.Select(piece => piece.Mark).Should().Contain([first.Consumed[0], left.Mark]);
    }

    [Fact]
    public void Keep_outs_and_clean_edges_go_over_to_the_leftover()
    {
        var store = rack.Store;
        var hole = new Rect(SamplePlans.Mm(480), SamplePlans.Mm(20), SamplePlans.Mm(15), SamplePlans.Mm(30));
        var leftover = store.Add(RackFixture.Plate(500, 300) with { KeepOuts = [hole] });
        var job = SamplePlans.Job("holes", [Bracket with { Quantity = 2 }], [leftover.ToStock(leftover.Value)]);
        var id = store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, job.Parts[0], 1, 2)));
        var left = store.ConfirmCut(id, 1).Leftovers.MaxBy(piece => piece.Micrograms)!;

        // By hand: x of the offcut = trim 5 + blank 150 + kerf 3.2 = 158.2; y = trim 5. It ends at 495, flush with the hole.
        left.KeepOuts.Should().Equal(new Rect(SamplePlans.Mm(321.8m), SamplePlans.Mm(15), SamplePlans.Mm(15), SamplePlans.Mm(30)));
        left.CleanEdges.Should().Be(new CleanEdges(true, false, true, false), "left and bottom were cut off, right and top stay raw until it is used");
    }

    [Fact]
    public void Damage_that_the_plan_did_not_know_is_refused_only_where_it_lies_under_a_part()
    {
        var store = rack.Store;
        Rect Hole(decimal x) => new(SamplePlans.Mm(x), SamplePlans.Mm(20), SamplePlans.Mm(15), SamplePlans.Mm(30));
        var leftover = store.Add(RackFixture.Plate(500, 300));
        var job = SamplePlans.Job("holes", [Bracket with { Quantity = 2 }], [leftover.ToStock(leftover.Value)]);
        var plan = SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, job.Parts[0], 1, 2));

        // The blank lies from 5 to 155 mm along the plate.
        store.Adjust(leftover.Mark, new() { KeepOuts = [Hole(60)] });
        var reserve = () => store.Reserve(plan);
        reserve.Should().Throw<RackException>().WithMessage("*has a keep-out where the plan has bracket*");
        store.Adjust(leftover.Mark, new() { KeepOuts = [Hole(400)] });
        var id = store.Reserve(plan);

        // Seen at the saw.
        store.Adjust(leftover.Mark, new() { KeepOuts = [Hole(100)] });
        var cut = () => store.ConfirmCut(id, 1);
        cut.Should().Throw<RackException>().WithMessage("*has a keep-out where layout 1 has bracket*");
        store.Adjust(leftover.Mark, new() { KeepOuts = [Hole(400)] });
        var left = store.ConfirmCut(id, 1).Leftovers.MaxBy(piece => piece.Micrograms)!;
        left.KeepOuts.Should().ContainSingle().Which.X.Should().Be(SamplePlans.Mm(400 - 158.2m));
        store.Check().Should().BeEmpty();
    }

    [Fact]
    public void A_bought_plate_with_a_hole_beside_the_parts_still_serves()
    {
        var store = rack.Store;
        var id = store.Reserve(Plan(null, 1));
        Rect Hole(decimal x) => new(SamplePlans.Mm(x), SamplePlans.Mm(470), SamplePlans.Mm(15), SamplePlans.Mm(10));
        var plate = store.Add(RackFixture.Plate(1000, 500) with { KeepOuts = [Hole(60)] });

        // By hand: five brackets of 80 mm across with four kerfs of 3.2 mm end at 5 + 412.8 mm.
        store.ConfirmCut(new CutEntry { PlanId = id, Layout = 1, From = [plate.Mark] }).Consumed.Should().Equal(plate.Mark);
        store.Check().Should().BeEmpty();
    }

    public void Dispose() => rack.Dispose();

    /// <summary>Layout 1: a bought plate, 30 brackets; 2: a leftover of 500 × 300, six brackets; 3: bars, six feet each.</summary>
    private static Plan Plan(string? leftoverMark, int bars)
    {
        var plate = SamplePlans.Plate("plate", 1000, 500, 10, 90);
        var bar = SamplePlans.FlatBar("bar", 3000, 40, 12, 30);
        var leftover = leftoverMark is null ? null : (RackFixture.Plate(500, 300) with { Mark = leftoverMark }).ToStock(Money.FromAmount(20));
        var job = SamplePlans.Job($"brackets {bars}", [Bracket, Foot with { Quantity = 6 * bars }], leftover is null ? [plate, bar] : [plate, bar, leftover]);
        var layouts = new List<Layout> { SamplePlans.Grid(job, plate, 1, 1, Bracket, 6, 5), SamplePlans.Grid(job, bar, 3, bars, Foot, 6, 1) };
        if (leftover is not null)
        {
            layouts.Insert(1, SamplePlans.Grid(job, leftover, 2, 1, Bracket, 3, 3));
        }

        return SamplePlans.Plan(job, [.. layouts]);
    }

    private static Plan Rest(Job restJob, Stock usable)
    {
        var plate = restJob.Stocks.First(stock => stock.Id == "plate");
        var bar = restJob.Stocks.First(stock => stock.Id == "bar");
        var job = restJob with { Stocks = [plate, bar, usable] };
        return SamplePlans.Plan(
            job,
            SamplePlans.Grid(job, plate, 1, 1, Bracket, 1, 5),
            SamplePlans.Grid(job, bar, 2, 2, Foot, 6, 1),
            SamplePlans.Grid(job, usable, 3, 1, Bracket, 1, 3));
    }
}
