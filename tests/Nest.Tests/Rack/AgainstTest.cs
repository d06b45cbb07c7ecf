using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Plans;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>What a changed job still needs of what plans have made, and which orders were given.</summary>
/// <remarks>The plate gives four brackets of 120 × 80 × 10 in two columns and two rows.</remarks>
public sealed class AgainstTest : IDisposable
{
    private static readonly Part _bracket = SamplePlans.Part("bracket", SamplePlans.Aluminium.Id, 120, 80, 10, 4);

    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    public void Dispose() => rack.Dispose();

    public static TheoryData<string, Func<Part, Part>, int, bool> Changes() => new()
    {
        { "the same", part => part, 4, false },
        { "its name in capitals", part => part with { Id = "BRACKET" }, 4, false },
        { "material in capitals", part => part with { MaterialId = part.MaterialId.ToLowerInvariant() }, 4, false },
        { "a note", part => part with { Note = "new" }, 4, false },
        { "shorter", part => part with { Length = SamplePlans.Mm(119) }, 4, true },
        { "longer", part => part with { Length = SamplePlans.Mm(121) }, 0, true },
        { "wider", part => part with { Width = SamplePlans.Mm(81) }, 0, true },
        { "thicker", part => part with { Thickness = SamplePlans.Mm(11) }, 0, true },
        { "thinner", part => part with { Thickness = SamplePlans.Mm(9) }, 4, true },
        { "turned about", part => part with { Length = part.Width, Width = part.Length }, 4, true },
        { "turned about, and it must not lie so", part => part with { Length = part.Width, Width = part.Length, MayTurn = false }, 0, true },
        { "of another material", part => part with { MaterialId = SamplePlans.Steel.Id }, 0, true },
        { "round, and out of it", part => part with { Round = true, Length = SamplePlans.Mm(100), Width = SamplePlans.Mm(9), Thickness = SamplePlans.Mm(9) }, 4, true },
        { "with angled ends", part => part with { Ends = new(Angle.FromDegrees(45), Angle.Square) }, 0, true },
        { "from bars, for which a plate's blank will do", part => part with { Length = SamplePlans.Mm(119), Forms = Forms.FlatBar }, 4, true },
    };

    [Theory]
    [MemberData(nameof(Changes))]
    public void Blanks_that_were_made_serve_the_changed_part_where_it_comes_out_of_them(string what, Func<Part, Part> change, int serving, bool another)
    {
        var id = Made(_bracket, 4);
        var now = change(_bracket with { Quantity = 6 });
        var against = Store.Against(id, Job(now)).Single(part => part.Now > 0);
        (against.PartId, against.Before, against.Now, against.Made, against.Serving).Should().Be((now.Id, 4, 6, 4, serving), what);
        (against.Was is not null, against.Changed, against.ToMake, against.NoLongerFit, against.TooMany).Should().Be((another, true, 6 - serving, 4 - serving, 0), what);
    }

    [Fact]
    public void A_job_that_did_not_change_says_so_and_parts_come_and_go()
    {
        var id = Made(_bracket, 4);
        Store.Against(id, Job(_bracket)).Single().Should().BeEquivalentTo(new PartAgainst("bracket", 4, 4, 4, 4, null));
        Store.Against(id, Job(_bracket)).Single().Changed.Should().BeFalse();
        Store.Against(id, Job(_bracket with { Quantity = 3 })).Single().TooMany.Should().Be(1);

        // The bracket is dropped, a lug is new; two sets of it.
        var lug = SamplePlans.Part("lug", SamplePlans.Aluminium.Id, 50, 40, 10, 3);
        var job = Job(lug) with { Batch = 2 };
        var against = Store.Against(id, job);
        against.Should().BeEquivalentTo([new PartAgainst("lug", null, 6, 0, 0, null), new PartAgainst("bracket", 4, 0, 4, 4, null)], options => options.WithStrictOrdering());
        against.Select(part => (part.Changed, part.TooMany)).Should().Equal((true, 0), (true, 4));

        var rest = RackStore.RestOf(job, against);
        (rest.Batch, rest.Parts.Single().Quantity, rest.Parts.Single().Extra).Should().Be((1, 6, 0));
        RackStore.RestOf(Job(_bracket), Store.Against(id, Job(_bracket))).Parts.Should().BeEmpty();
    }

    [Fact]
    public void A_rest_counts_what_the_plan_before_it_made()
    {
        // Four of ten are made; the rest wants six more, and two of them are made.
        var first = Made(_bracket with { Quantity = 10 }, 4);
        var rest = Plan("rest", _bracket with { Quantity = 6 }, 2);
        var second = Store.Replan(first, rest);
        Store.ConfirmCut(second, 1);
        Store.Against(second, Job(_bracket with { Quantity = 10 })).Single().Should().BeEquivalentTo(new PartAgainst("bracket", 10, 10, 6, 6, null));
        Store.Remaining(second).Single().Missing.Should().Be(4);
        Store.KnownShapes().Should().ContainSingle().Which.Should().Be(PartShape.Of(_bracket));
        Store.Check().Should().BeEmpty();
    }

    [Fact]
    public void Parts_of_gang_blanks_count_as_parts()
    {
        // Blanks of 120 × 80 for four clips each, of which two come from a leftover plan; the job names the clip itself.
        var kind = _bracket with
        {
            Id = "clip ×4",
            Quantity = 16,
            Length = SamplePlans.Mm(57),
            Width = SamplePlans.Mm(37),
            PerBlank = new() { Counts = [4], Gap = SamplePlans.Mm(6) },
            Gang = new() { Rows = 2, Columns = 2, Blanks = 4, Members = [new("clip", 4, 16)] },
        };
        var id = Made(kind, 4, _bracket with { Id = "clip ×4" });
        var clip = kind with { Id = "clip", Gang = null, PerBlank = null };
        Store.Against(id, Job(clip)).Single().Should().BeEquivalentTo(new PartAgainst("clip", 16, 16, 16, 16, null));
        Store.Against(id, Job(kind)).Single().Should().BeEquivalentTo(new PartAgainst("clip", 16, 16, 16, 16, null), "as a plan names them, too");

        // A little smaller still comes out of the block; larger does not, for four of them no longer lie in it.
        Store.Against(id, Job(clip with { Length = SamplePlans.Mm(56) })).Single().Serving.Should().Be(16);
        Store.Against(id, Job(clip with { Length = SamplePlans.Mm(58) })).Single().Serving.Should().Be(0);
    }

    /// <summary>By hand: of 16 clips four came out of the one blank that was cut; the rest wants twelve, which makes sixteen again.</summary>
    [Fact]
    public void A_rest_of_gang_blanks_counts_the_parts_of_the_plan_before_it()
    {
        Part Kind(int blanks) => _bracket with
        {
            Id = "clip ×4",
            Quantity = blanks * 4,
            Length = SamplePlans.Mm(57),
            Width = SamplePlans.Mm(37),
            PerBlank = new() { Counts = [4], Gap = SamplePlans.Mm(6) },
            Gang = new() { Rows = 2, Columns = 2, Blanks = blanks, Members = [new("clip", 4, blanks * 4)] },
        };
        var (blank, job, rest) = (_bracket with { Id = "clip ×4" }, Job(Kind(4)), Job(Kind(3)) with { Name = "rest" });
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 4, blank, 1, 1)));
        Store.ConfirmCut(id, 1);
        var next = Store.Replan(id, SamplePlans.Plan(rest, SamplePlans.Grid(rest, rest.Stocks[0], 1, 3, blank, 1, 1)));
        var clip = Kind(4) with { Id = "clip", Gang = null, PerBlank = null };
        Store.Against(next, Job(clip)).Single().Should().BeEquivalentTo(new PartAgainst("clip", 16, 16, 4, 4, null));
    }

    /// <summary>A part that is no part of the job any more: of brackets four came from each of two plates, of lugs none yet.</summary>
    [Fact]
    public void Of_parts_that_were_dropped_all_that_was_made_counts()
    {
        var job = Job(_bracket with { Quantity = 8 }, SamplePlans.Part("lug", SamplePlans.Aluminium.Id, 120, 80, 10, 4));
        var id = Store.Reserve(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, _bracket, 2, 2), SamplePlans.Grid(job, job.Stocks[0], 2, 1, _bracket, 2, 2), SamplePlans.Grid(job, job.Stocks[0], 3, 1, job.Parts[1], 2, 2)));
        Store.ConfirmCut(id, 1);
        Store.ConfirmCut(id, 2);
        var pin = SamplePlans.Part("pin", SamplePlans.Steel.Id, 50, 20, 20, 1);
        Store.Against(id, Job(pin)).Should().BeEquivalentTo(
            [new PartAgainst("pin", null, 1, 0, 0, null), new PartAgainst("bracket", 8, 0, 8, 8, null), new PartAgainst("lug", 4, 0, 0, 0, null)], options => options.WithStrictOrdering());
    }

    /// <summary>Racks of before kept no shapes: every blank of such a plan counts, and with the rest that was planned then the wanted number is what was made and what was wanted still.</summary>
    [Fact]
    public void Of_plans_without_shapes_all_blanks_count()
    {
        var first = Made(_bracket with { Quantity = 12 }, 4);
        var rest = Job(_bracket with { Quantity = 8 }) with { Name = "rest" };
        var second = Store.Replan(first, SamplePlans.Plan(rest, SamplePlans.Grid(rest, rest.Stocks[0], 1, 2, _bracket, 2, 2)));
        using (var database = new Microsoft.Data.Sqlite.SqliteConnection($"Data Source={rack.File};Pooling=False"))
        {
            database.Open();
            using var command = database.CreateCommand();
            command.CommandText = "UPDATE demand SET body = ''";
            command.ExecuteNonQuery().Should().Be(2);
        }

        Store.ConfirmCut(second, 1);
        var longer = _bracket with { Length = SamplePlans.Mm(125), Quantity = 12 };
        Store.Against(second, Job(longer)).Single().Should().BeEquivalentTo(new PartAgainst("bracket", 12, 12, 8, 8, null));
    }

    [Fact]
    public void Shapes_of_parts_come_back_as_they_were_planned()
    {
        Part[] parts =
        [
            _bracket with { Ends = new(Angle.FromDegrees(45), Angle.FromDegrees(-22.5m), true), Quantity = 0 }, SamplePlans.Part("pin", SamplePlans.Steel.Id, 60, 20, 20, 0) with { Round = true, MayTurn = false },
            SamplePlans.Part("leg", SamplePlans.Steel.Id, 300, 40, 30, 0) with { Forms = Forms.Channel, Detail = new() { Wall = SamplePlans.Mm(2), Flange = SamplePlans.Mm(3) } },
        ];
        var job = Job([_bracket, .. parts.Select((part, at) => part with { Id = $"p{at}" })]);
        Store.Enter(SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, _bracket, 2, 2)));
        Store.KnownShapes().ToHashSet().SetEquals(job.Parts.Select(PartShape.Of)).Should().BeTrue();
        PartShape.Of(parts[2]).Section.Should().StartWith("channel ");
    }

    [Fact]
    public void An_order_is_given_to_a_supplier_of_the_plan_once()
    {
        var job = Job(_bracket);
        job = job with { Stocks = [.. job.Stocks, job.Stocks[0] with { Id = "other", Supplier = "Kestrel" }, job.Stocks[0] with { Id = "third", Supplier = "Heron" }] };
        Layout On(int number) => SamplePlans.Grid(job, job.Stocks[number - 1], number, 1, _bracket, 2, 2);
        var id = Store.Reserve(SamplePlans.Plan(job, On(1), On(2), On(3)));
        Refused(new() { PlanId = id }, "more than one");
        Refused(new() { PlanId = id, Supplier = "Owl" }, "nothing from 'Owl'");
        Store.Order(new() { PlanId = id, Supplier = " her " }).Should().Be(new OrderGiven("Heron", new DateOnly(2026, 3, 2), ""));

        // The name of one supplier is the beginning of another's.
        Store.Order(new() { PlanId = id, Supplier = "kestrel", Day = new DateOnly(2026, 3, 5), Confirmation = " A 7\n" }).Should().Be(new OrderGiven("Kestrel", new DateOnly(2026, 3, 5), "A 7"));
        Store.Order(new() { PlanId = id, Supplier = "Heron", Confirmation = "H 1" });
        Store.Plan(id).Orders.Should().Equal(new OrderGiven("Heron", new DateOnly(2026, 3, 2), "H 1"), new OrderGiven("Kestrel", new DateOnly(2026, 3, 5), "A 7"));
        Store.Undo();
        Store.Plan(id).Orders[0].Confirmation.Should().BeEmpty();

        var one = Store.Reserve(SamplePlans.Plan(Job(_bracket), SamplePlans.Grid(Job(_bracket), job.Stocks[0], 1, 1, _bracket, 2, 2)));
        Store.Order(new() { PlanId = one, Confirmation = new string('x', 200) }).Confirmation.Length.Should().BeLessThanOrEqualTo(101);
        Store.Plan(id).Orders.Should().HaveCount(2, "each plan has its own");

        void Refused(OrderEntry entry, string why)
        {
            var order = () => Store.Order(entry);
            order.Should().Throw<RackException>().WithMessage($"*{why}*");
        }
    }

    [Fact]
    public void Of_a_plate_larger_than_nominal_all_metal_is_booked_and_a_rest_that_was_measured_counts()
    {
        var id = Store.Reserve(Plan("one", _bracket, 4));
        var plate = Store.Add(RackFixture.Plate(1010, 505) with { Bought = true });
        var result = Store.ConfirmCut(new() { PlanId = id, Layout = 1, From = [plate.Mark], Leftovers = [new(SamplePlans.Mm(700), SamplePlans.Mm(400))] });
        result.Leftovers.Single().Should().Match<RackPiece>(piece => piece.Length == SamplePlans.Mm(700) && piece.Width == SamplePlans.Mm(400) && piece.ParentMark == plate.Mark);

        // By hand, in kg: 1010 × 505 × 10 mm at 2700 are 13.77135; four blanks 1.0368; the rest 7.56.
        var balance = Store.Balance();
        (balance.Parts / 1_000_000_000m).Should().Be(1.0368m);
        (balance.Bought / 1_000_000_000m).Should().Be(13.77135m);
        ((balance.Bought - balance.Parts - balance.Kerf - balance.Waste) / 1_000_000_000m).Should().Be(7.56m);
        Store.Check().Should().BeEmpty();
    }

    /// <summary>A plan that is cut.</summary>
    /// <param name="blank">What the layout cuts; null: the part itself.</param>
    private long Made(Part part, int pieces, Part? blank = null)
    {
        var id = Store.Reserve(Plan("first", part, pieces, blank));
        Store.ConfirmCut(id, 1);
        return id;
    }

    private static Plan Plan(string name, Part part, int pieces, Part? blank = null)
    {
        var job = Job(part) with { Name = name };
        return SamplePlans.Plan(job, SamplePlans.Grid(job, job.Stocks[0], 1, 1, blank ?? part, pieces / 2, 2));
    }

    private static Job Job(params Part[] parts) => SamplePlans.Job("job", parts, [SamplePlans.Plate("plate", 1000, 500, 10, 90) with { MinThickness = SamplePlans.Mm(10) }]);
}
