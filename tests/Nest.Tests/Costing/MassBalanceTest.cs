using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Costing;

/// <summary>Where the metal goes, by hand: cutters, round parts, sections, several parts from a blank, several pieces of stock. 2700 kg/m³.</summary>
public sealed class MassBalanceTest
{
    /// <summary>By hand: 600 × 600 × 15 are 14.58 kg, a leaf of 100 × 100 is 0.405, what is kept of 200 × 100 0.81. All the rest is scrap, and nothing is chips of a saw.</summary>
    [Fact]
    public void On_a_cutter_all_the_rest_is_scrap()
    {
        var job = Job([Flat("leaf", 96, 96, 12) with { Forms = Forms.Plate }], [Leftover("R", 600, 600, 15)], Cutter);
        var layout = TestPlan.OnCutter(job, "R", new PlacedPiece("leaf", Box(20, 20, 100, 100), false)) with { Offcuts = [new(Box(300, 300, 200, 100), true, Money.Zero), new(Box(300, 20, 100, 100), false, Money.Zero)] };
        var balance = MassBalance.Of(TestPlan.Of(job, layout));
        (balance.Blanks.Kilograms, balance.Kept.Kilograms, balance.Scrap.Kilograms, balance.Chips.Kilograms).Should().Be((0.405m, 0.81m, 14.58m - 0.405m - 0.81m, 0m));
    }

    /// <summary>By hand: a pin of 30 diameter and 98 length is π ÷ 4 × 3² × 9.8 cm³ = 69.2721180 cm³ (π from memory), 0.187034718… kg.</summary>
    [Fact]
    public void A_round_part_is_weighed_round()
    {
        var job = Job([Round("pin", 30, 98) with { Forms = Forms.RoundBar }], [Bar("round", Form.RoundBar, 40, 40)]);
        var balance = MassBalance.Of(TestPlan.Of(job, TestPlan.OnSaw(job, "round", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("pin", 100, 1)]))));
        decimal.Round(balance.Finished.Kilograms, 6).Should().Be(0.187035m);
    }

    /// <summary>By hand: a tube of 40 × 20 with walls of 2 has 4 × 2 − 3.6 × 1.6 = 2.24 cm² of metal; 300 of it are 67.2 cm³, 0.18144 kg.</summary>
    [Fact]
    public void A_length_of_a_section_has_its_metal()
    {
        var detail = new SectionDetail { Wall = Mm(2) };
        var job = Job([Flat("leg", 300, 40, 20) with { Forms = Forms.RectangularTube, Detail = detail }], [Bar("tube", Form.RectangularTube, 40, 20, 3000, minus: 0) with { Detail = detail }]);
        var size = Core.Blanks.BlankSizer.Size(job).Single().Fits.Single().SizeX.ToMillimetres();
        MassBalance.Of(TestPlan.Of(job, TestPlan.OnSaw(job, "tube", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("leg", size, 1)])))).Finished.Kilograms.Should().Be(0.18144m);
    }

    /// <summary>By hand: of each stock piece 10 mm of 2010 may be missing: 1000 × 10 × 15 mm³ are 0.405 kg. Two layouts, three pieces of stock, a blank each with two clips of 40 × 30 × 9 (0.02916 kg) in it.</summary>
    [Fact]
    public void All_pieces_of_stock_add_up()
    {
        var clip = Flat("clip ×2", 40, 30, 9, 3) with { Forms = Forms.Plate, Gang = new() { Rows = 1, Columns = 2, Blanks = 3, Members = [new("clip", 2, 6)] }, PerBlank = new() { Counts = [2], Gap = Mm(4) } };
        var stock = Plate("P", 2010, 1000, 15) with { MinLength = Mm(2000) };
        var job = Job([clip], [stock]);
        Layout Of(int number, int count) => TestPlan.OnSaw(job, "P", (usable, tree) => tree.Split(usable, CutDirection.Rip, strip => tree.Split(strip(100), CutDirection.Crosscut, [.. tree.Row("clip ×2", 100, 1)])), count) with { Number = number };
        var plan = new Plan { Job = job, Status = SolveStatus.BestFound, Layouts = [Of(1, 1), Of(2, 2)], TotalCost = Money.Zero, Bound = Bound.None };
        var balance = MassBalance.Of(plan);
        balance.Oversize.Kilograms.Should().Be(3 * 0.405m);
        balance.Finished.Kilograms.Should().Be(3 * 2 * 0.02916m);
        balance.Bought.Kilograms.Should().Be(3 * 2.01m * 0.015m * 2700m);
    }

    /// <summary>By hand: 600 × 390, as wide as it may be short, × 15 mm are 9.477 kg; at 1.20 a kilogram 11.3724.</summary>
    [Fact]
    public void Scrap_is_paid_for_what_is_sure_to_be_there() =>
        StockWorth.Of(Job([], []), Plate("P", 600, 400, 15) with { MinWidth = Mm(390) }).Scrap.Amount.Should().Be(11.3724m);
}
