using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;
using Nest.Rack.StockTake;
using Nest.Rack.Values;
using Nest.RackStress;

namespace Nest.Tests.Rack;

public sealed class RackStoreTest : IDisposable
{
    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    [Fact]
    public void A_piece_comes_back_with_all_it_was_entered_with()
    {
        var piece = RackFixture.Plate(500, 300) with
        {
            MinLength = SamplePlans.Mm(499.5m),
            MinThickness = SamplePlans.Mm(9.8m),
            Rolling = RollingDirection.Unknown,
            CleanEdges = new(true, false, true, false),
            GoodFaces = true,
            Certificate = "3.1/4711",
            Supplier = "Kestrel Metals (invented)",
            Origin = "old job",
            Condition = PieceCondition.Fair,
            Note = "paint on one face",
            Bought = true,
            KeepOuts = [new(SamplePlans.Mm(10), SamplePlans.Mm(20), SamplePlans.Mm(30), SamplePlans.Mm(40))],
        };
        var added = Store.Add(piece);
        Store.Show(added.Mark.ToLowerInvariant()).Should().BeEquivalentTo(
            piece with { Mark = added.Mark, Entered = new DateOnly(2026, 3, 2), Micrograms = 4_050_000_000 });
    }

    [Fact]
    public void The_shop_says_its_unit_and_its_price_lists_once()
    {
        Store.Unit.Should().BeNull("nobody said it");
        Store.Prices.Should().BeEmpty();
        Store.SetUnit("in");
        Store.SetPrices(["prices/a.csv", "prices/b.csv"]);
        Store.Unit.Should().Be("in");
        Store.Prices.Should().Equal("prices/a.csv", "prices/b.csv");
        Store.SetPrices([]);
        Store.Prices.Should().BeEmpty();
        Store.Add(RackFixture.Plate(200, 100, heat: "H7"));
        Store.KnowsHeat(" H7 ").Should().BeTrue();
        Store.KnowsHeat("H8").Should().BeFalse();
        Store.KnownMaterials().Select(material => material.Name).Should().BeInAscendingOrder(StringComparer.Ordinal)
            .And.Contain([SamplePlans.Aluminium.Id, SamplePlans.Steel.Id]);
    }

    [Fact]
    public void Filters_leave_what_they_name()
    {
        var (small, large) = (Store.Add(RackFixture.Plate(200, 100, 8)), Store.Add(RackFixture.Plate(800, 400, 20, heat: "H2")));
        rack.Clock.Now = rack.Clock.Now.AddDays(30);
        var bar = Store.Add(new RackPiece { Form = Form.RoundBar, MaterialId = "1018", Length = SamplePlans.Mm(900), Width = SamplePlans.Mm(30), Thickness = SamplePlans.Mm(30), Place = "Bar rack" });
        Only(new() { MaterialId = "1018" }, bar);
        Only(new() { Form = Form.Plate }, small, large);
        Only(new() { ThicknessFrom = SamplePlans.Mm(10), ThicknessTo = SamplePlans.Mm(25) }, large);
        Only(new() { Holds = [SamplePlans.Mm(100), SamplePlans.Mm(8), SamplePlans.Mm(200)] }, small, large);
        Only(new() { EnteredTo = new DateOnly(2026, 3, 20) }, small, large);
        Only(new() { EnteredFrom = new DateOnly(2026, 3, 20) }, bar);
        Only(new() { Place = "bar" }, bar);
        Only(new() { Heat = "h2" }, large);
        Only(new() { MaterialId = "unknown" });

        void Only(PieceFilter filter, params RackPiece[] expected) =>
            Store.List(filter).Select(piece => piece.Mark).Should().BeEquivalentTo(expected.Select(piece => piece.Mark));
    }

    [Fact]
    public void Changes_are_undone_and_brought_back_and_explain_themselves()
    {
        var piece = Store.Add(RackFixture.Plate(500, 300));
        Store.Move([piece.Mark], "B7");
        Store.Adjust(piece.Mark, new() { Length = SamplePlans.Mm(450), Note = "one end bent" });
        Store.Scrap([piece.Mark], "bent");
        Store.HistoryOf(piece.Mark).Select(change => change.Summary).Should().Equal(
            $"added {piece.Mark}", $"moved {piece.Mark} to B7",
            $"adjusted {piece.Mark}: size 500 mm × 300 mm × 10 mm → 450 mm × 300 mm × 10 mm; smallest size → 450 mm × 300 mm × 10 mm; note '' → 'one end bent'",
            $"scrapped {piece.Mark}: bent");

        Store.Undo().Kind.Should().Be("scrap");
        Store.Undo().Kind.Should().Be("adjust");
        Store.Show(piece.Mark).Should().Match<RackPiece>(now => now.Length == SamplePlans.Mm(500) && now.Place == "B7" && now.State == PieceState.OnRack);

        // Undoing the undo brings the adjustment back.
        Store.Undo(Store.History(1)[0].Id);
        Store.Show(piece.Mark).Length.Should().Be(SamplePlans.Mm(450));
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void What_was_built_on_must_be_undone_first()
    {
        var piece = Store.Add(RackFixture.Plate(500, 300));
        var added = Store.History(1)[0].Id;
        Store.Move([piece.Mark], "B7");
        var moved = Store.History(1)[0].Id;
        var undo = () => Store.Undo(added);
        undo.Should().Throw<RackException>().Which.Advice.Should().Be($"undo change {moved} first");
        Store.Undo(moved);
        Store.Undo(added);
        Store.List(new()).Should().BeEmpty();
        Store.Add(RackFixture.Plate(500, 300)).Mark.Should().NotBe(piece.Mark, "a mark is never given twice");
        var twice = () => Store.Undo(added);
        twice.Should().Throw<RackException>().WithMessage($"change {added} was undone already*");
    }

    [Fact]
    public void Impossible_pieces_are_refused_and_nothing_is_entered()
    {
        foreach (var wrong in new[]
        {
            RackFixture.Plate(500, 300) with { Length = Length.Zero },
            RackFixture.Plate(500, 300) with { MinWidth = SamplePlans.Mm(301) },
            RackFixture.Plate(500, 300) with { MaterialId = "unobtainium" },
            RackFixture.Plate(500, 300) with { KeepOuts = [new(SamplePlans.Mm(490), Length.Zero, SamplePlans.Mm(20), SamplePlans.Mm(20))] },
            RackFixture.Plate(500, 300) with { Form = Form.RoundBar },
            RackFixture.Plate(500, 300) with { Mark = "A\u0007B" },
            RackFixture.Plate(500, 300) with { Value = Money.FromAmount(-1) },
        })
        {
            var add = () => Store.Add([RackFixture.Plate(100, 100), wrong]);
            add.Should().Throw<RackException>().Which.Fault.Should().Be(RackFault.Refused);
        }

        Store.List(new()).Should().BeEmpty("all or none");
    }

    [Fact]
    public void A_stock_take_finds_differences_and_makes_the_books_agree()
    {
        var pieces = Enumerable.Range(0, 5).Select(_ => Store.Add(RackFixture.Plate(500, 300))).ToList();
        Store.Scrap([pieces[4].Mark], "thought bent");
        var id = Store.StartCount();
        Store.EnterFound(id, [(pieces[0].Mark, ""), (pieces[1].Mark, "C3"), (pieces[4].Mark, "C4")]);
        Store.Count(id).Differences.ToDictionary(line => line.Mark, line => line.Verdict).Should().Equal(new Dictionary<string, CountVerdict>
        {
            [pieces[1].Mark] = CountVerdict.Moved, [pieces[2].Mark] = CountVerdict.Missing, [pieces[3].Mark] = CountVerdict.Missing, [pieces[4].Mark] = CountVerdict.Returned,
        });
        Store.ApplyCount(id).Should().Be(4);
        Store.List(new()).Select(piece => (piece.Mark, piece.Place)).Should().BeEquivalentTo([(pieces[0].Mark, "A1"), (pieces[1].Mark, "C3"), (pieces[4].Mark, "C4")]);
        Store.Balance().Lost.Should().Be(2 * 4_050_000_000L);
        Store.Check().Should().BeEmpty();
        Store.Undo();
        Store.List(new()).Should().HaveCount(4);
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void A_stock_take_does_not_lose_what_a_plan_has_reserved()
    {
        var pieces = Enumerable.Range(0, 4).Select(_ => Store.Add(RackFixture.Plate(400, 200))).ToList();
        var plans = pieces.Take(3).Select(piece => Store.Reserve(OnLeftover(piece), again: true)).ToList();
        var id = Store.StartCount();
        Store.Count(id).Lines.Should().HaveCount(4, "what is reserved stands on the rack too");

        // The first reserved one stands elsewhere, two are not found; nor is the free one.
        Store.EnterFound(id, [(pieces[0].Mark, "C3")]);
        Store.Count(id).Differences.ToDictionary(line => line.Mark, line => (line.Verdict, line.ReservedFor)).Should().Equal(new Dictionary<string, (CountVerdict, long?)>
        {
            [pieces[0].Mark] = (CountVerdict.Moved, plans[0]),
            [pieces[1].Mark] = (CountVerdict.MissingReserved, plans[1]),
            [pieces[2].Mark] = (CountVerdict.MissingReserved, plans[2]),
            [pieces[3].Mark] = (CountVerdict.Missing, null),
        });

        // The free one is lost, the one elsewhere is moved; what a plan counts on and nobody scanned yet stays as it is.
        Store.ApplyCount(id).Should().Be(2);
        Store.History(1)[0].Summary.Should().Contain($"lost {pieces[3].Mark}").And.NotContain(pieces[1].Mark).And.NotContain(pieces[2].Mark);
        pieces.Skip(1).Take(2).Should().OnlyContain(piece => Store.Show(piece.Mark).State == PieceState.Reserved);

        // One of them is really gone: that is booked with its plan.
        Store.Cancel(plans[1]);
        Store.Miscut(new() { PlanId = plans[2], Layout = 1, Note = "not on the rack" });
        Store.List(new()).Should().HaveCount(2);
        var there = Store.Show(pieces[0].Mark);
        (there.Mark, there.Place, there.State, there.ReservedFor).Should().Be((pieces[0].Mark, "C3", PieceState.Reserved, (long?)plans[0]));
        Store.Balance().Lost.Should().Be(2_160_000_000L, "400 x 200 x 10 mm at 2700 kg/m3");
        Store.Check().Should().BeEmpty();
        Store.Undo();
        Store.Show(pieces[2].Mark).State.Should().Be(PieceState.Reserved);
    }

    private static Core.Plans.Plan OnLeftover(RackPiece piece)
    {
        var part = SamplePlans.Part("bracket", SamplePlans.Aluminium.Id, 120, 80, 10, 1);
        var leftover = piece.ToStock(piece.Value);
        var job = SamplePlans.Job("one piece", [part], [leftover]);
        return SamplePlans.Plan(job, SamplePlans.Grid(job, leftover, 1, 1, part, 1, 1));
    }

    [Fact]
    public void A_stock_take_with_a_piece_that_the_books_cannot_explain_is_not_applied()
    {
        Store.Add(RackFixture.Plate(500, 300));
        var id = Store.StartCount();
        var stranger = Nest.Rack.Marks.MarkScheme.FromNumber(4000);
        Store.EnterFound(id, [(stranger, "")]);
        var apply = () => Store.ApplyCount(id);
        apply.Should().Throw<RackException>().WithMessage($"*cannot explain {stranger}*");
        Store.StrikeFound(id, stranger);
        apply.Should().Throw<RackException>().WithMessage("*nothing was entered as found: all 1 pieces*");
        Store.ApplyCount(id, allMissing: true).Should().Be(1);
    }

    [Fact]
    public void The_value_follows_condition_age_chance_and_holding()
    {
        var rules = new ValueRules { ChanceOfUse = 0.9m, HoldingPerKilogramYear = 0.5m };
        var piece = Store.Add(RackFixture.Plate(500, 300) with { Condition = PieceCondition.Fair, Value = Money.FromAmount(40) });

        // By hand: 40 × 0.85 × (1 − 0.2 × (545 − 180) ÷ 365 = 0.8) × 0.9 − 0.5 × 0.5 × 4.05 kg = 24.48 − 1.0125 = 23.4675.
        rules.ValueOf(piece, piece.Entered.AddDays(545)).Should().Be(Money.FromAmount(23.4675m));
        rules.ValueOf(piece, piece.Entered).Should().Be(Money.FromAmount(29.5875m));
        rules.Age(100_000).Should().Be(0.4m);
        Store.SetRules(rules);
        Store.Rules.Should().Be(rules);
        var wrong = () => Store.SetRules(rules with { Fair = 1.2m });
        wrong.Should().Throw<RackException>();
    }

    [Fact]
    public void Early_ruling_out_loses_no_piece_that_could_serve()
    {
        var random = new Random(7);
        for (var i = 0; i < 300; i++)
        {
            Store.Add(RackFixture.Plate(50 + random.Next(500), 40 + random.Next(300), 4 + random.Next(20)));
        }

        for (var round = 0; round < 20; round++)
        {
            Part[] parts = [.. Enumerable.Range(0, 4).Select(i => SamplePlans.Part($"p{i}", "6061-t651", 30 + random.Next(300), 20 + random.Next(200), 3 + random.Next(15), 1))];
            var answer = Store.AvailableStock(StockRequest.For(SamplePlans.Job("any", parts, [])));

            // Brute force: some part lies in the piece with sides along sides, in any of the six ways.
            var expected = Store.List(new()).Where(piece => parts.Any(part => Lies(part, piece))).Select(piece => piece.Mark).Order(StringComparer.Ordinal);
            answer.Stocks.Select(stock => stock.RackMark!).Order(StringComparer.Ordinal).Should().Equal(expected.ToList());
            answer.Fitting.Should().Be(answer.Stocks.Length);
        }

        static bool Lies(Part part, RackPiece piece)
        {
            Length[] sides = [part.Length, part.Width, part.Thickness];
            return (from a in Enumerable.Range(0, 3)
                    from b in Enumerable.Range(0, 3)
                    where a != b
                    select (sides[a], sides[b], sides[3 - a - b])).Any(way => way.Item1 <= piece.Length && way.Item2 <= piece.Width && way.Item3 <= piece.Thickness);
        }
    }

    [Fact]
    public void Parts_that_must_not_be_turned_get_no_piece_of_unknown_rolling_direction()
    {
        Store.Add(RackFixture.Plate(500, 300) with { Rolling = RollingDirection.Unknown });
        var part = SamplePlans.Part("p", "6061-T651", 100, 50, 5, 1);
        Store.AvailableStock(StockRequest.For(SamplePlans.Job("j", [part], []))).Stocks.Should().HaveCount(1);
        Store.AvailableStock(StockRequest.For(SamplePlans.Job("j", [part with { MayTurn = false }], []))).Stocks.Should().BeEmpty();
    }

    [Fact]
    public void A_limit_gives_the_least_valuable_pieces_and_says_how_many_fit()
    {
        for (var i = 10; i > 0; i--)
        {
            Store.Add(RackFixture.Plate(500, 300) with { Value = Money.FromAmount(i) });
        }

        var request = StockRequest.For(["6061-T651"], SamplePlans.Mm(1), SamplePlans.Mm(1), SamplePlans.Mm(1)) with { MostPieces = 3 };
        var answer = Store.AvailableStock(request);
        answer.Stocks.Select(stock => stock.PiecePrice.Amount).Should().BeEquivalentTo([1m, 2m, 3m]);
        (answer.Fitting, answer.OnRack).Should().Be((10, 10));
    }

    public void Dispose() => rack.Dispose();
}
