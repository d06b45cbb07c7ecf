using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Plans;
using Nest.Rack.Use;
using Nest.Tests.Makers;

namespace Nest.Tests.Rack;

/// <summary>Which leftovers serve nothing, and from which size on this shop uses them again.</summary>
public class LeftoverUseTest
{
    private static RackPiece Bar(decimal length, PieceState state = PieceState.OnRack, decimal width = 40, decimal thickness = 10) => new()
    {
        Form = Form.FlatBar, MaterialId = JobMaker.Aluminium.Id, Length = JobMaker.Mm(length), Width = JobMaker.Mm(width), Thickness = JobMaker.Mm(thickness), State = state, ParentMark = "A1",
    };

    [Fact]
    public void A_piece_that_holds_no_part_is_idle()
    {
        var part = JobMaker.Part("lug", 200, 38, 9, 2, Forms.FlatBar) with { MayTurn = false };
        var job = JobMaker.Job([part], []) with { AllowanceRules = [] };
        RackPiece[] pieces = [Bar(150), Bar(199.9m), Bar(230), Bar(500, width: 30), Bar(120, PieceState.Reserved), Bar(500) with { MaterialId = "304" }];

        LeftoverUse.Idle(pieces, [job], []).Should().Equal(pieces[0], pieces[1], pieces[3], pieces[5]);
        LeftoverUse.Idle(pieces, [], [PartShape.Of(part)]).Should().Equal(pieces[0], pieces[1], pieces[3], pieces[5]);

        // The saw trims and holds: 200 of 200.5 is what the finished part needs, but not what a job can saw.
        var raw = Bar(200.5m);
        LeftoverUse.Idle([raw], [], [PartShape.Of(part)]).Should().BeEmpty();
        LeftoverUse.Idle([raw], [job], []).Should().ContainSingle();
    }

    [Fact]
    public void A_length_of_a_section_needs_that_section()
    {
        var tube = Bar(500) with { Form = Form.RectangularTube, Detail = new() { Wall = JobMaker.Mm(2) } };
        var part = JobMaker.Part("leg", 300, 40, 10, 1, Forms.RectangularTube) with { Detail = new() { Wall = JobMaker.Mm(2) } };
        LeftoverUse.Holds(tube, PartShape.Of(part)).Should().BeTrue();
        LeftoverUse.Holds(tube with { Detail = new() { Wall = JobMaker.Mm(3) } }, PartShape.Of(part)).Should().BeFalse();
        LeftoverUse.Holds(Bar(500), PartShape.Of(part)).Should().BeFalse();
        LeftoverUse.Holds(tube, PartShape.Of(JobMaker.Part("lug", 300, 30, 8, 1))).Should().BeFalse();
    }

    /// <summary>A piece of just the finished size holds the part; one that is smaller by a tenth in any direction does not.</summary>
    [Fact]
    public void A_piece_of_just_the_size_holds_the_part()
    {
        var lug = PartShape.Of(JobMaker.Part("lug", 200, 40, 10, 1));
        LeftoverUse.Holds(Bar(200), lug).Should().BeTrue();
        LeftoverUse.Holds(Bar(199.9m), lug).Should().BeFalse();
        LeftoverUse.Holds(Bar(200, width: 39.9m), lug).Should().BeFalse();
        LeftoverUse.Holds(Bar(200, thickness: 9.9m), lug).Should().BeFalse();
        var leg = PartShape.Of(JobMaker.Part("leg", 300, 40, 10, 1, Forms.RectangularTube) with { Detail = new() { Wall = JobMaker.Mm(2) } });
        var tube = Bar(300) with { Form = Form.RectangularTube, Detail = new() { Wall = JobMaker.Mm(2) } };
        LeftoverUse.Holds(tube, leg).Should().BeTrue();
        LeftoverUse.Holds(tube with { Length = JobMaker.Mm(299.9m) }, leg).Should().BeFalse();
    }

    /// <summary>One part of two, of a job with two materials, is enough.</summary>
    [Fact]
    public void A_piece_that_serves_one_part_of_a_job_is_not_idle()
    {
        var lug = JobMaker.Part("lug", 200, 38, 9, 2, Forms.FlatBar) with { MayTurn = false };
        var job = JobMaker.Job([lug with { Id = "long", Length = JobMaker.Mm(900) }, lug], []) with { AllowanceRules = [], Materials = [JobMaker.Aluminium, JobMaker.Aluminium with { Id = "304" }] };
        LeftoverUse.Idle([Bar(500)], [job], []).Should().BeEmpty();
    }

    /// <summary>By hand: twenty short bars of 100 × 10, of lengths 21, 22 … 40, were used: as of long ones the third counts, however wide they are.</summary>
    [Fact]
    public void Of_bars_only_the_length_counts()
    {
        var pieces = Enumerable.Range(21, 20).Select(length => Bar(length, PieceState.Cut, width: 100)).ToList();
        KeepLimits.From(pieces, true, JobMaker.Mm(1)).KeepLength.Should().Be(JobMaker.Mm(23));
    }

    /// <summary>A round pin of the width across flats comes out of a hexagon; nothing else does.</summary>
    [Fact]
    public void A_hexagon_holds_round_parts()
    {
        var hexagon = Bar(100, width: 24, thickness: 24) with { Form = Form.HexBar, Detail = new() };
        var pin = PartShape.Of(JobMaker.Part("pin", 100, 24, 24, 1) with { Round = true });
        LeftoverUse.Holds(hexagon, pin).Should().BeTrue();
        LeftoverUse.Holds(hexagon, pin with { Width = JobMaker.Mm(24.1m) }).Should().BeFalse();
        LeftoverUse.Holds(hexagon, pin with { Length = JobMaker.Mm(100.1m) }).Should().BeFalse();
        LeftoverUse.Holds(hexagon, pin with { Round = false }).Should().BeFalse();
        LeftoverUse.Holds(hexagon with { Form = Form.Angle }, pin).Should().BeFalse();
    }

    /// <summary>Ten uses of plates, 300 × 100, 310 × 110 … as they lay, lengthwise or across: all but one reach 310 × 110.</summary>
    [Fact]
    public void Of_plates_each_side_has_a_limit()
    {
        var pieces = Enumerable.Range(0, 10).Select(i => i % 2 == 0 ? Sheet(300 + (i * 10), 100 + (i * 10)) : Sheet(100 + (i * 10), 300 + (i * 10)))
            .Concat(((RackPiece[])[Sheet(305, 200), Sheet(105, 400), Sheet(400, 105), Sheet(310, 110), Sheet(300, 100)]).Select(piece => piece with { State = PieceState.OnRack })).ToList();
        KeepLimits.From(pieces, false, JobMaker.Mm(10)).Should().Be(new KeepLimits(false, 15, 10, JobMaker.Mm(310), JobMaker.Mm(110), 4));

        static RackPiece Sheet(decimal length, decimal width) => Bar(length, PieceState.Cut, width) with { Form = Form.Plate };
    }

    /// <summary>Twenty uses: 210, 220 … 400. A tenth of them are two; the third, 230, and all longer ones are nine of ten.</summary>
    [Fact]
    public void Limits_are_what_nine_of_ten_uses_reach()
    {
        var pieces = Enumerable.Range(0, 20).Select(i => Bar(210 + (i * 10), PieceState.Cut)).Concat([Bar(100), Bar(225, PieceState.Scrapped), Bar(800)]).ToList();
        KeepLimits.From(pieces, true, JobMaker.Mm(10)).Should().Be(new KeepLimits(true, 23, 20, JobMaker.Mm(230), null, 2));
        KeepLimits.From(pieces.Take(9), true, JobMaker.Mm(10)).Should().Be(new KeepLimits(true, 9, 9, null, null, 0));
        KeepLimits.From(pieces, false, JobMaker.Mm(10)).Left.Should().Be(0);

        // What was bought and never a leftover tells nothing.
        KeepLimits.From(pieces.Select(piece => piece with { ParentMark = null }), true, JobMaker.Mm(10)).Left.Should().Be(0);
    }
}
