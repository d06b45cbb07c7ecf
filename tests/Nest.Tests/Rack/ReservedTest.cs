using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>Which plans are entered and reserved, and what the rack says of one that it does not know.</summary>
/// <remarks>A plate of 1000 × 500 gives four brackets, a leftover of 500 × 300 two.</remarks>
public sealed class ReservedTest : IDisposable
{
    private readonly BracketShop shop = new();

    private RackStore Store => shop.Store;

    public void Dispose() => shop.Dispose();

    /// <summary>A leftover is taken only as the plan knew it: each size that differs refuses it, the smallest measured ones too.</summary>
    public static TheoryData<string, PieceChange, bool> Changes() => new()
    {
        { "nothing", new() { Note = "seen" }, true },
        { "the length, but not the smallest", new() { Length = SamplePlans.Mm(505), MinLength = SamplePlans.Mm(490) }, false },
        { "the smallest length", new() { MinLength = SamplePlans.Mm(480) }, false },
        { "the smallest width", new() { MinWidth = SamplePlans.Mm(290) }, false },
        { "the material", new() { MaterialId = SamplePlans.Steel.Id }, false },
        { "an edge", new() { CleanEdges = new(true, false, false, false) }, false },
        { "its faces", new() { GoodFaces = true }, false },
    };

    [Theory]
    [MemberData(nameof(Changes))]
    public void A_leftover_is_reserved_as_the_plan_knew_it(string what, PieceChange change, bool taken)
    {
        var leftover = Store.Add(RackFixture.Plate(500, 300) with { MinLength = SamplePlans.Mm(490) });
        var plan = On(leftover, "one");
        Store.Adjust(leftover.Mark, change);
        var reserve = () => Store.Reserve(plan);
        if (taken)
        {
            reserve().Should().BePositive(what);
            Store.History(1)[0].Summary.Should().Contain("1 pieces");
        }
        else
        {
            reserve.Should().Throw<RackException>(what).WithMessage("*was changed since the plan was made");
        }
    }

    /// <summary>What a plan cuts is entered with its density; what it only lists is not.</summary>
    [Fact]
    public void A_plan_makes_its_materials_known()
    {
        var brass = SamplePlans.Steel with { Id = "CZ121", Family = "brass", Density = 8470m };
        var lead = brass with { Id = "lead" };
        var pin = SamplePlans.Part("pin", brass.Id, 120, 40, 12, 6);
        var job = SamplePlans.Job("pins", [BracketShop.Bracket with { Quantity = 4 }, pin], [BracketShop.Sheet, SamplePlans.FlatBar("bar", 3000, 40, 12, 30) with { MaterialId = brass.Id }]) with
        {
            Materials = [SamplePlans.Aluminium, brass, lead],
        };
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, BracketShop.Bracket, 2, 2), SamplePlans.Grid(job, job.Stocks[1], 2, 1, pin, 6, 1)));
        Store.ConfirmCut(id, 2);

        // By hand: 3000 × 40 × 12 mm are 0.00144 m³.
        (Store.Balance().Bought / 1_000_000_000m).Should().Be(0.00144m * 8470m);
        Store.KnownMaterials().Select(material => material.Name).Should().Contain(brass.Id).And.NotContain(lead.Id);
    }

    /// <summary>By hand: of eight brackets and four lugs the lugs and four brackets are made. A plan of four brackets is just its rest, unless it is of another job, or that plan is over.</summary>
    [Fact]
    public void A_rest_is_that_of_the_same_job()
    {
        var lug = SamplePlans.Part("lug", SamplePlans.Aluminium.Id, 120, 80, 10, 4);
        var job = SamplePlans.Job("job", [BracketShop.Bracket with { Quantity = 8 }, lug], [BracketShop.Sheet]);
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 2, BracketShop.Bracket, 2, 2), SamplePlans.Grid(job, job.Stocks[0], 2, 1, lug, 2, 2)));
        Store.ConfirmCut(id, 1);
        Store.ConfirmCut(id, 2);
        var entered = () => Store.Reserve(Four("job", 4, 1));
        entered.Should().Throw<RackException>().WithMessage($"this plan makes just what P{id} has not made yet");
        Store.Reserve(Four("another", 4, 1)).Should().BeGreaterThan(id);

        // The rest of the plan is another one's now, so four brackets more are a batch of their own.
        Store.Replan(id, Four("job", 2, 2));
        Store.Reserve(Four("job", 1, 4)).Should().BeGreaterThan(id);
    }

    [Fact]
    public void What_the_rack_does_not_know_it_says_so()
    {
        var id = Store.Reserve(Four("job", 2, 2));
        Unknown(() => Store.Plan(99), "the rack has no plan P99");
        Unknown(() => Store.Order(new() { PlanId = 99 }), "the rack has no plan P99");
        Unknown(() => Store.ConfirmCut(id, 9), $"P{id} has no layout 9");

        static void Unknown(Action action, string message) => action.Should().Throw<RackException>().WithMessage(message);
    }

    private static Plan Four(string name, int columns, int rows)
    {
        var job = SamplePlans.Job(name, [BracketShop.Bracket with { Quantity = 4 }], [BracketShop.Sheet]);
        return SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, BracketShop.Bracket, columns, rows));
    }

    private static Plan On(RackPiece leftover, string name)
    {
        var job = SamplePlans.Job(name, [BracketShop.Bracket with { Quantity = 2 }], [leftover.ToStock(Money.FromAmount(20))]);
        return SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, BracketShop.Bracket, 1, 2));
    }
}
