using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>What a cut makes of its leftovers, and from which piece it may be.</summary>
/// <remarks>The plan is that of <see cref="BracketShop"/>.</remarks>
public sealed class CutBookedTest : IDisposable
{
    private readonly BracketShop shop = new(RackFixture.Plate(500, 300) with { Certificate = "3.1/7", MinWidth = SamplePlans.Mm(300) });

    private RackStore Store => shop.Store;

    public void Dispose() => shop.Dispose();

    /// <summary>By hand: a quarter of the leftover of 20 that is a leftover itself carries 20 ÷ 4 × 0.9; a fifth of the bar of 30, that was bought, 30 ÷ 5 × 0.6; a quarter of the plate of 90
    /// 90 ÷ 4 × 0.6. What is told counts before that.</summary>
    [Fact]
    public void A_leftover_that_was_not_planned_carries_its_share()
    {
        var id = Store.Reserve(shop.Plan());
        var quarter = Store.Miscut(new() { PlanId = id, Layout = 2, Note = "slipped", Leftovers = [new(SamplePlans.Mm(250), SamplePlans.Mm(150))] }).Leftovers.Single();
        (quarter.Value.Amount, quarter.Condition, quarter.MinWidth).Should().Be((4.5m, PieceCondition.Good, null));
        var fifth = Store.Miscut(new() { PlanId = id, Layout = 3, Note = "slipped", Leftovers = [new(SamplePlans.Mm(600), default)] }).Leftovers.Single();
        (fifth.Value.Amount, fifth.MinWidth).Should().Be((3.6m, SamplePlans.Mm(39.9m)));
        Store.Miscut(new() { PlanId = id, Layout = 1, Note = "slipped", Leftovers = [new(SamplePlans.Mm(500), SamplePlans.Mm(250))] }).Leftovers.Single().Value.Amount.Should().Be(13.5m);
        var told = new ActualLeftover(SamplePlans.Mm(500), SamplePlans.Mm(250)) { Value = Money.FromAmount(7), Condition = PieceCondition.Poor };
        var other = Store.Miscut(new() { PlanId = id, Layout = 1, Note = "slipped", Leftovers = [told] }).Leftovers.Single();
        (other.Value.Amount, other.Condition).Should().Be((7m, PieceCondition.Poor));
    }

    /// <summary>A strip as long as the plate, and one as wide, can have come out of it.</summary>
    [Theory]
    [InlineData(1000, 100), InlineData(100, 500)]
    public void A_leftover_may_be_as_long_or_as_wide_as_the_piece(decimal length, decimal width)
    {
        var id = Store.Reserve(shop.Plan());
        Store.Miscut(new() { PlanId = id, Layout = 1, Note = "slipped", Leftovers = [new(SamplePlans.Mm(length), SamplePlans.Mm(width))] }).Leftovers.Should().ContainSingle();
    }

    /// <summary>By hand: a plate of 1000 × 500 × 10 at 2700 kg/m³ is 13 500 g, four brackets 1036.8 g, what is said to be left 990 × 490: 13 097.7 g. That is 634.5 g too much.</summary>
    [Fact]
    public void More_metal_than_there_was_is_refused_with_the_difference()
    {
        var id = Store.Reserve(shop.Plan());
        var much = () => Store.Miscut(new() { PlanId = id, Layout = 1, Note = "slipped", Made = [new("bracket", 4)], Leftovers = [new(SamplePlans.Mm(990), SamplePlans.Mm(490))] });
        much.Should().Throw<RackException>().WithMessage("*634.5 g*");
    }

    /// <summary>A plan in which each blank stands twice at the same place: the metal does not add up by the weight of the four that are too many.</summary>
    [Fact]
    public void A_layout_whose_areas_do_not_add_up_is_refused()
    {
        var plan = shop.Plan();
        var twice = plan.Layouts[0] with { Pieces = [.. plan.Layouts[0].Pieces, .. plan.Layouts[0].Pieces] };
        var id = Store.Reserve(plan with { Layouts = plan.Layouts.SetItem(0, twice) });
        var cut = () => Store.ConfirmCut(id, 1);
        cut.Should().Throw<RackException>().WithMessage("the areas of layout 1 don't add up*");
        Store.Balance().Parts.Should().Be(0);
    }

    /// <summary>By hand: a leftover in fair condition counts 0.85 of what it carries, so the rest of it that the plan reckons at 8.50 carries 10.</summary>
    [Theory]
    [InlineData(PieceCondition.Good, 8.5), InlineData(PieceCondition.Fair, 10)]
    public void A_condition_is_not_counted_again_from_cut_to_cut(PieceCondition condition, decimal carried)
    {
        Store.Adjust(shop.Leftover.Mark, new() { Condition = condition, Note = "seen" });
        var plan = shop.Plan();
        var rest = plan.Layouts[1].Offcuts.MaxBy(offcut => offcut.Area.Area.SquareNanometres);
        rest.Keep.Should().BeTrue();
        var priced = plan.Layouts[1] with { Offcuts = [.. plan.Layouts[1].Offcuts.Select(offcut => offcut == rest ? offcut with { Value = Money.FromAmount(8.5m) } : offcut)] };
        var id = Store.Reserve(plan with { Layouts = plan.Layouts.SetItem(1, priced) });
        Store.ConfirmCut(id, 2).Leftovers.MaxBy(left => left.Micrograms)!.Value.Amount.Should().Be(carried);
    }

    /// <summary>By hand: of eight brackets from two plates five are spoiled, four of the first and one of the second, so three are good.</summary>
    [Fact]
    public void Spoiled_blanks_are_taken_from_one_plate_after_the_other()
    {
        var id = Store.Reserve(shop.Plan());
        Store.ConfirmCut(new() { PlanId = id, Layout = 1, Count = 2, Spoiled = [new("bracket", 2), new("BRACKET", 3)] }).Parts.Should().Equal(new PartCount("bracket", 3));
        var more = () => Store.ConfirmCut(new() { PlanId = id, Layout = 2, Spoiled = [new("bracket", 1), new("bracket", 2)] });
        more.Should().Throw<RackException>().WithMessage("3 × bracket cannot be spoiled*");
        Store.ConfirmCut(new() { PlanId = id, Layout = 2, Spoiled = [new("bracket", 0)] }).Parts.Should().Equal(new PartCount("bracket", 2));
        Store.History(1)[0].Summary.Should().NotContain("spoiled");
    }

    [Fact]
    public void The_history_names_what_came_out_and_nothing_that_did_not()
    {
        var id = Store.Reserve(shop.Plan());
        var cut = Store.ConfirmCut(id, 1);
        var summary = Store.History(1)[0].Summary;
        summary.Should().Contain(cut.Consumed[0]).And.Contain("4 × bracket").And.NotContain("spoiled").And.NotContain("()");
        cut.Leftovers.Should().NotBeEmpty().And.OnlyContain(left => summary.Contains(left.Mark));
        Store.Miscut(new() { PlanId = id, Layout = 1, Note = "slipped", Made = [new("bracket", 0)] }).Leftovers.Should().BeEmpty();
        Store.History(1)[0].Summary.Should().Contain("(slipped)").And.NotContain("left over");
    }

    /// <summary>Two parts of one size lie in turn on the plate; what was made is told in the order of their names.</summary>
    [Fact]
    public void Parts_of_a_cut_are_told_by_name()
    {
        var job = BracketShop.Job() with { Parts = [BracketShop.Bracket with { Quantity = 2 }, BracketShop.Bracket with { Id = "arm", Quantity = 2 }] };
        var layout = SamplePlans.Grid(job, job.Stocks[0], 1, 1, BracketShop.Bracket, 2, 2);
        var id = Store.Reserve(SamplePlans.Plan(job, layout with { Pieces = [.. layout.Pieces.Select((piece, at) => at % 2 == 0 ? piece : piece with { PartId = "arm" })] }));
        Store.ConfirmCut(id, 1).Parts.Should().Equal(new PartCount("arm", 2), new PartCount("bracket", 2));
    }

    /// <summary>A plate that lies on the rack may be cut in place of one that was to be bought, if it is the same but for being larger.</summary>
    public static TheoryData<string, Func<RackPiece, RackPiece>, bool> Others() => new()
    {
        { "the same", piece => piece, true },
        { "larger", piece => piece with { Length = SamplePlans.Mm(1001), Width = SamplePlans.Mm(501) }, true },
        { "shorter", piece => piece with { Length = SamplePlans.Mm(999) }, false },
        { "narrower", piece => piece with { Width = SamplePlans.Mm(499) }, false },
        { "thicker", piece => piece with { Thickness = SamplePlans.Mm(11) }, false },
        { "too thin at one end", piece => piece with { MinThickness = SamplePlans.Mm(9.7m) }, false },
        { "of another material", piece => piece with { MaterialId = SamplePlans.Steel.Id }, false },
        { "a bar", piece => piece with { Form = Form.FlatBar }, false },
    };

    [Theory]
    [MemberData(nameof(Others))]
    public void A_plate_of_the_rack_stands_in_for_one_that_was_to_be_bought(string what, Func<RackPiece, RackPiece> change, bool fits) =>
        StandsIn(1, change(RackFixture.Plate(1000, 500)), fits, what);

    [Theory]
    [InlineData(40, 12, true), InlineData(41, 12, false), InlineData(40, 13, false)]
    public void A_bar_of_the_rack_stands_in_only_with_the_same_section(decimal width, decimal thickness, bool fits) =>
        StandsIn(3, RackFixture.Plate(3000, width, thickness) with { Form = Form.FlatBar, MaterialId = SamplePlans.Steel.Id }, fits, "");

    private void StandsIn(int layout, RackPiece piece, bool fits, string what)
    {
        var mark = Store.Add(piece with { Heat = "" }).Mark;
        var id = Store.Reserve(shop.Plan());
        var cut = () => Store.ConfirmCut(new() { PlanId = id, Layout = layout, From = [mark], Heat = "N-1" });
        if (fits)
        {
            // It counts as the piece that was to be bought: nothing more of it need come.
            cut().Consumed.Should().Equal(mark);
            Store.Plan(id).Purchases.Single(purchase => purchase.StockId == (layout == 1 ? "plate" : "bar")).Came.Should().Be(1);
            Store.Show(mark).Heat.Should().Be("N-1");
        }
        else
        {
            cut.Should().Throw<RackException>(what).WithMessage($"{mark} is not the stock*");
        }
    }

    /// <summary>The leftover was measured anew and is too short: it cannot be cut as planned, but a miscut of it can be told. The like for a plate that came for the plan.</summary>
    [Fact]
    public void A_miscut_may_be_of_a_piece_that_does_not_fit()
    {
        var id = Store.Reserve(shop.Plan());
        Store.Adjust(shop.Leftover.Mark, new() { Length = SamplePlans.Mm(470) });
        Store.Miscut(new() { PlanId = id, Layout = 2, Note = "too short" }).Consumed.Should().Equal(shop.Leftover.Mark);
        var came = Store.Receive(new() { PlanId = id, Items = ["plate"], Count = 1 }).Pieces[0].Piece.Mark;
        Store.Adjust(came, new() { Length = SamplePlans.Mm(900) });
        var cut = () => Store.ConfirmCut(id, 1);
        cut.Should().Throw<RackException>().WithMessage($"{came} is not the stock*");
        Store.Miscut(new() { PlanId = id, Layout = 1, Note = "too short" }).Consumed.Should().Equal(came);
        Store.Check().Should().BeEmpty();
    }

    /// <summary>Of two plates that came the second is cut by its mark; one that is kept for another plan is not for this one.</summary>
    [Fact]
    public void A_piece_that_came_for_the_plan_is_cut_by_its_mark()
    {
        var id = Store.Reserve(shop.Plan());
        var came = Store.Receive(new() { PlanId = id, Items = ["plate"], Heat = "N-5" }).Pieces.Select(one => one.Piece.Mark).ToList();
        var job = BracketShop.Job() with { Name = "another", Parts = [BracketShop.Bracket with { Quantity = 4 }] };
        var next = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, BracketShop.Bracket, 2, 2)));
        var theirs = Store.Receive(new() { PlanId = next }).Pieces[0].Piece.Mark;
        var cut = () => Store.ConfirmCut(new() { PlanId = id, Layout = 1, From = [theirs] });
        cut.Should().Throw<RackException>().WithMessage($"{theirs} is reserved");
        Store.ConfirmCut(new() { PlanId = id, Layout = 1, From = [came[1]], Certificate = "3.1/5" }).Consumed.Should().Equal(came[1]);
        Store.Show(came[1]).Should().Match<RackPiece>(piece => piece.Heat == "N-5" && piece.Certificate == "3.1/5");

        // A certificate that the rack knows stays.
        Store.ConfirmCut(new() { PlanId = id, Layout = 2, Certificate = "3.1/8" });
        Store.Show(shop.Leftover.Mark).Certificate.Should().Be("3.1/7");
    }

    [Fact]
    public void What_is_cut_as_bought_just_now_carries_what_was_paid()
    {
        // By hand: the order has two plates for 150 in place of the listed 180.
        var plan = shop.Plan();
        plan = plan with { Orders = [new("Kestrel", [new("plate", 2, Money.FromAmount(180), Money.FromAmount(150))], Money.FromAmount(150), Money.Zero, Money.Zero)] };
        var id = Store.Reserve(plan);
        Store.Show(Store.ConfirmCut(id, 1).Consumed[0]).Value.Amount.Should().Be(75m);
        Store.Show(Store.ConfirmCut(id, 3).Consumed[0]).Value.Amount.Should().Be(30m);
    }
}
