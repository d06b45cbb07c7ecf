using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Marks;
using Nest.Rack.Pieces;
using Nest.Rack.Values;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>What a piece may be, what its mark may be, and what a list asks for: at the last value that is allowed and at the first that is not.</summary>
public sealed class PieceRulesTest : IDisposable
{
    private static readonly RackPiece _plate = RackFixture.Plate(500, 300);

    private static readonly RackPiece _flat = new() { Form = Form.FlatBar, MaterialId = "1018", Length = SamplePlans.Mm(900), Width = SamplePlans.Mm(30), Thickness = SamplePlans.Mm(20) };

    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    public void Dispose() => rack.Dispose();

    public static TheoryData<string, RackPiece, bool> Pieces() => new()
    {
        { "plate", _plate, true },
        { "as long as can be", _plate with { Length = SamplePlans.Mm(30_000) }, true },
        { "longer", _plate with { Length = SamplePlans.Mm(30_001) }, false },
        { "no width", _plate with { Width = Length.Zero }, false },
        { "no thickness", _plate with { Thickness = Length.Zero }, false },
        { "smallest as nominal", _plate with { MinLength = _plate.Length, MinWidth = _plate.Width, MinThickness = _plate.Thickness }, true },
        { "smallest length above", _plate with { MinLength = SamplePlans.Mm(501) }, false },
        { "smallest length of nothing", _plate with { MinLength = Length.Zero }, false },
        { "smallest thickness above", _plate with { MinThickness = SamplePlans.Mm(10.1m) }, false },
        { "thicker than wide", _plate with { Thickness = SamplePlans.Mm(301) }, false },
        { "as thick as wide", _plate with { Thickness = SamplePlans.Mm(300) }, true },
        { "worth nothing", _plate with { Value = Money.Zero }, true },
        { "worth less than nothing", _plate with { Value = Money.FromUnits(-1) }, false },
        { "damage all over", _plate with { KeepOuts = [Area(0, 0, 500, 300)] }, true },
        { "damage beyond", _plate with { KeepOuts = [Area(0, 0, 501, 300)] }, false },
        { "damage of no width", _plate with { KeepOuts = [Area(0, 0, 0, 300)] }, false },
        { "damage of no height", _plate with { KeepOuts = [Area(0, 0, 500, 0)] }, false },
        { "flat bar", _flat, true },
        { "flat bar on edge", _flat with { Width = SamplePlans.Mm(19) }, false },
        { "square bar", _flat with { Form = Form.SquareBar, Width = SamplePlans.Mm(20) }, true },
        { "square bar that is none", _flat with { Form = Form.SquareBar }, false },
        { "bar with damage", _flat with { KeepOuts = [Area(0, 0, 5, 5)] }, false },
        { "bar with clean ends", _flat with { CleanEdges = new(true, true, false, false) }, true },
        { "bar clean all round", _flat with { CleanEdges = new(true, true, true, true) }, true },
        { "bar with a clean top", _flat with { CleanEdges = new(true, true, false, true) }, false },
        { "bar with a clean bottom", _flat with { CleanEdges = new(false, false, true, false) }, false },
        { "plate with a clean top", _plate with { CleanEdges = new(false, false, false, true) }, true },
        { "angle", _flat with { Form = Form.Angle, Detail = new() { Wall = SamplePlans.Mm(3) } }, true },
        { "angle without a wall", _flat with { Form = Form.Angle }, false },
    };

    [Theory]
    [MemberData(nameof(Pieces))]
    public void A_piece_is_entered_or_refused(string what, RackPiece piece, bool fine)
    {
        var add = () => Store.Add(piece);
        if (!fine)
        {
            add.Should().Throw<RackException>(what).Which.Fault.Should().Be(RackFault.Refused);
            Store.List(new()).Should().BeEmpty();
            return;
        }

        Store.Show(add().Mark).Should().BeEquivalentTo(Store.List(new()).Single(), options => options.ComparingByMembers<RackPiece>());
    }

    [Fact]
    public void Edges_that_are_clean_come_back_as_they_were_entered()
    {
        for (var bits = 0; bits < 16; bits++)
        {
            var edges = new CleanEdges((bits & 1) > 0, (bits & 2) > 0, (bits & 4) > 0, (bits & 8) > 0);
            Store.Show(Store.Add(_plate with { CleanEdges = edges }).Mark).CleanEdges.Should().Be(edges);
        }
    }

    [Fact]
    public void A_section_comes_back_as_it_was_entered()
    {
        foreach (var piece in (RackPiece[])[
            _flat with { Form = Form.Channel, Detail = new() { Wall = SamplePlans.Mm(3), Flange = SamplePlans.Mm(4) }, ListedSection = Nest.Core.Quantities.Area.FromSquareNanometres(400_000_000_000_001) },
            _flat with { Form = Form.Angle, Detail = new() { Wall = SamplePlans.Mm(3) } },
            _flat with { Form = Form.Profile, Detail = new() { Name = "A/B 7" }, ListedSection = Nest.Core.Quantities.Area.FromSquareNanometres(5) }, _flat])
        {
            var back = Store.Show(Store.Add(piece).Mark);
            (back.Detail, back.ListedSection).Should().Be((piece.Detail, piece.ListedSection));
        }
    }

    [Theory]
    [InlineData("Rack 7/a", "Rack 7/a")]
    [InlineData("  Rack   7 ", "Rack 7")]
    [InlineData("#-_./+1", "#-_./+1")]
    [InlineData("123456789012345678901234", "123456789012345678901234")]
    [InlineData("1234567890123456789012345", null)]
    [InlineData("", null), InlineData("   ", null), InlineData("a;b", null), InlineData("a\u0007b", null)]
    [InlineData("AAA", "AAA")] // too short for one of the rack's own
    [InlineData("AAAE", null), InlineData("aa-ae", null)] // as the rack's own, misread
    [InlineData("ACEHKLMPTU", "ACEHKLMPTU")] // ten: too long for one of the rack's own
    [InlineData("ACEHKLMPT", null)]
    [InlineData("BAAC", "BAAC")] // B is no character of the rack's own
    public void A_mark_of_the_shop_s_own_is_read_or_refused(string text, string? expected)
    {
        PieceMark.TryRead(text, out var mark, out var error).Should().Be(expected is not null);
        mark.Should().Be(expected ?? "");
        (error.Length == 0).Should().Be(expected is not null);
    }

    [Fact]
    public void Own_marks_are_kept_found_whatever_their_case_and_never_given_twice()
    {
        Store.Add(_plate with { Mark = "Bay-7" }).Mark.Should().Be("Bay-7");
        Store.Show("bay-7").Mark.Should().Be("Bay-7");
        var again = () => Store.Add(_plate with { Mark = "BAY-7" });
        again.Should().Throw<RackException>().WithMessage("*was given before*");
        var unknown = () => Store.Show("bay-8");
        unknown.Should().Throw<RackException>();

        // A mark that the rack would give next, painted on a piece already, is passed over.
        var next = Store.Add(_plate).Mark;
        next.Should().Be(MarkScheme.FromNumber(0));
        Store.Add(_plate with { Mark = MarkScheme.FromNumber(1) });
        Store.Add(_plate).Mark.Should().Be(MarkScheme.FromNumber(2));
    }

    [Fact]
    public void Marks_that_follow_each_other_are_spread_over_the_whole_block()
    {
        // By hand: of 4 913, 0.618034 make 3 036 (17 does not divide it); the first begins a third in, at 1 637; digits of 17 from the alphabet.
        for (var number = 0L; number < 5; number++)
        {
            var scattered = ((number * 3036) + (4913 / 3)) % 4913;
            var body = new string([.. new[] { scattered / 289, scattered / 17 % 17, scattered % 17 }.Select(digit => MarkScheme.Alphabet[(int)digit])]);
            MarkScheme.FromNumber(number)[..3].Should().Be(body);
        }

        var negative = () => MarkScheme.FromNumber(-1);
        negative.Should().Throw<ArgumentOutOfRangeException>();

        // Σ 17³ … 17⁸ marks there are in all.
        var all = 4913L + 83_521 + 1_419_857 + 24_137_569 + 410_338_673 + 6_975_757_441;
        MarkScheme.FromNumber(all - 1).Should().HaveLength(9);
        var one = () => MarkScheme.FromNumber(all);
        one.Should().Throw<ArgumentOutOfRangeException>();
        MarkScheme.TryRead(MarkScheme.FromNumber(all - 1), out _, out _).Should().BeTrue();
    }

    [Fact]
    public void A_list_asks_for_states_owners_and_plans()
    {
        var bought = Store.Add(_plate with { Bought = true, Place = "A1" });
        var found = Store.Add(_plate with { Place = "B1" });
        var gone = Store.Add(_plate);
        Store.Scrap([gone.Mark], "bent");
        var part = SamplePlans.Part("bracket", SamplePlans.Aluminium.Id, 120, 80, 10, 1);
        var stock = found.ToStock(found.Value);
        var job = SamplePlans.Job("one", [part], [stock]);
        var plan = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, stock, 1, 1, part, 1, 1)));

        Only(new(), bought, found);
        Only(new() { States = [PieceState.Scrapped] }, gone);
        Only(new() { States = default }, bought, found);
        Only(new() { Bought = true }, bought);
        Only(new() { Bought = false }, found);
        Only(new() { ReservedFor = plan }, found);
        Only(new() { ReservedFor = plan + 1 });
        Only(new() { Place = "" }, bought, found);
        Only(new() { Place = "b" }, found);
        Only(new() { Holds = default }, bought, found);
        Only(new() { MaterialIds = ["6061-t651", "other"] }, bought, found);
        Only(new() { MaterialIds = ["other"], Form = Form.Plate });
        Only(new() { MaterialId = "6061-T651", MaterialIds = ["6061-T651"], Place = "A" }, bought);
        Only(new() { ThicknessFrom = SamplePlans.Mm(10), ThicknessTo = SamplePlans.Mm(10) }, bought, found);
        Only(new() { Holds = [SamplePlans.Mm(10), SamplePlans.Mm(500), SamplePlans.Mm(300), SamplePlans.Mm(1)] }, bought, found);
        Only(new() { Holds = [SamplePlans.Mm(10), SamplePlans.Mm(500), SamplePlans.Mm(300.1m)] });

        void Only(PieceFilter filter, params RackPiece[] expected) => Store.List(filter).Select(piece => piece.Mark).Should().BeEquivalentTo(expected.Select(piece => piece.Mark));
    }

    [Fact]
    public void Materials_need_a_density_and_keep_the_one_they_were_booked_at()
    {
        var none = () => Store.Learn([SamplePlans.Steel with { Id = "air", Density = 0.0004m }]);
        none.Should().Throw<RackException>();
        Store.Learn([SamplePlans.Steel with { Id = "foam", Density = 0.001m }]);
        Store.Learn([SamplePlans.Aluminium with { Density = 1m }]);
        Store.Add(_plate).Micrograms.Should().Be(4_050_000_000);
        Store.Add(_plate with { MaterialId = "foam" }).Micrograms.Should().Be(1_500);
        Store.KnownMaterials().Should().HaveCount(3);
    }

    public static TheoryData<ValueRules, bool> Rules() => new()
    {
        { new() { Good = 0m, Fair = 0m, Poor = 0m, LossPerYear = 0m, AgeFloor = 0m, ChanceOfUse = 0m, FreeDays = 0, HoldingPerKilogramYear = 0m, YearsUntilUse = 0m }, true },
        { new() { Good = 1m, Fair = 1m, Poor = 1m, LossPerYear = 1m, AgeFloor = 1m, ChanceOfUse = 1m }, true },
        { new() { Good = 1.01m }, false }, { new() { Poor = -0.01m }, false }, { new() { LossPerYear = 1.01m }, false }, { new() { AgeFloor = -0.01m }, false }, { new() { ChanceOfUse = 1.01m }, false },
        { new() { FreeDays = -1 }, false }, { new() { HoldingPerKilogramYear = -0.01m }, false }, { new() { YearsUntilUse = -0.01m }, false },
    };

    [Theory]
    [MemberData(nameof(Rules))]
    public void Rules_of_value_are_shares_and_nothing_below_zero(ValueRules rules, bool fine)
    {
        var set = () => Store.SetRules(rules);
        if (fine)
        {
            set();
            Store.Rules.Should().Be(rules);
        }
        else
        {
            set.Should().Throw<RackException>();
        }
    }

    [Fact]
    public void Value_by_condition_and_age_by_hand()
    {
        var rules = new ValueRules();
        var piece = Store.Add(_plate with { Value = Money.FromAmount(40) });
        rules.ValueOf(piece, piece.Entered.AddDays(180)).Amount.Should().Be(40m, "age costs nothing for half a year");
        rules.ValueOf(piece, piece.Entered.AddDays(180 + 73)).Amount.Should().Be(38.4m, "a fifth of a year costs a fifth of a fifth");
        rules.ValueOf(piece with { Condition = PieceCondition.Poor }, piece.Entered).Amount.Should().Be(24m);
        (rules with { HoldingPerKilogramYear = 20m }).ValueOf(piece, piece.Entered).Should().Be(Money.Zero, "to keep it costs more than it is worth");
    }

    [Fact]
    public void A_job_asks_for_the_smallest_boxes_and_for_known_rolling_of_what_must_not_be_turned()
    {
        Part[] parts =
        [
            SamplePlans.Part("large", "6061-T651", 100, 50, 10, 1), SamplePlans.Part("small", "6061-t651", 90, 50, 10, 1) with { MayTurn = false }, SamplePlans.Part("long", "6061-T651", 200, 20, 10, 1),
            SamplePlans.Part("none", "6061-T651", 10, 10, 10, 0), SamplePlans.Part("steel", "1018", 20, 90, 9, 1),
        ];
        var request = StockRequest.For(SamplePlans.Job("j", parts, []));
        request.Boxes.Should().BeEquivalentTo([new NeededBox("6061-T651", 90_000_000, 50_000_000, 10_000_000), new NeededBox("6061-T651", 200_000_000, 20_000_000, 10_000_000), new NeededBox("1018", 90_000_000, 20_000_000, 9_000_000)]);
        request.KnownRolling.Should().Equal("6061-t651");
        StockRequest.For(["a", "b"], SamplePlans.Mm(1), SamplePlans.Mm(3), SamplePlans.Mm(2)).Boxes.Should().Equal(new NeededBox("a", 3_000_000, 2_000_000, 1_000_000), new NeededBox("b", 3_000_000, 2_000_000, 1_000_000));
    }

    [Fact]
    public void A_table_is_entered_once_unless_its_entry_was_undone()
    {
        Store.Add([_plate], "table 7");
        var again = () => Store.Add([_plate], "table 7");
        again.Should().Throw<RackException>().WithMessage("*2026-03-02*");
        Store.Undo();
        again.Should().NotThrow();
    }

    private static Rect Area(int x, int y, int wide, int high) => new(SamplePlans.Mm(x), SamplePlans.Mm(y), SamplePlans.Mm(wide), SamplePlans.Mm(high));
}
