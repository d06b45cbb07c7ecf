using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Costing;

/// <summary>Layouts without their free spares: what is left of each, and which are then alike. By hand.</summary>
/// <remarks>A clean leftover of 620 × 320: a strip of 100 with lids of 200, of which the last may be a spare, and the rest above it. Nothing is kept.</remarks>
public sealed class SparesOutTest
{
    internal static readonly Job Shop = Job([Flat("lid", 196, 96, 12, 6) with { Forms = Forms.Plate, FreeSpares = 2 }, Flat("foot", 98, 34, 16, 6) with { Forms = Forms.FlatBar, FreeSpares = 2 }],
        [Leftover("R1", 620, 320, 15), Bar("bar", Form.FlatBar, 40, 20, 620), Bar("right", Form.FlatBar, 40, 20, 620) with { CleanEdges = new(false, true, false, false) }]) with
    { OffcutRules = [] };

    /// <summary>By hand: behind two lids of 200 and a kerf each 212 are left; the spare takes 200 of them. Without it the 212 are one offcut again, as in the layout that never had one.</summary>
    [Fact]
    public void What_a_spare_lay_in_is_one_offcut_again()
    {
        var (bare, filled) = (Lids(0), Lids(1));
        var one = SparesOut.Bare(Shop, filled);
        one.Pieces.Select(piece => piece.Area.X.ToMillimetres()).Should().Equal(0m, 204m);
        one.Offcuts.Select(offcut => (offcut.Area.X.ToMillimetres(), offcut.Area.SizeX.ToMillimetres(), offcut.Area.SizeY.ToMillimetres())).Should().Equal((408m, 212m, 100m), (0m, 620m, 216m));
        one.Cost.Should().Be(bare.Cost);
        SparesOut.Bare(Shop, bare).Should().BeSameAs(bare);
        SparesOut.Count([filled with { Count = 3 }, bare, filled]).Should().Equal(new Dictionary<string, int> { ["lid"] = 4 });
    }

    /// <summary>Two layouts of one plate each and one more with a spare are three of one kind; so is one without that comes after them.</summary>
    [Fact]
    public void A_layout_that_was_split_off_for_its_spare_is_counted_with_the_others()
    {
        var (bare, filled) = (Lids(0), Lids(1));
        Counts(bare with { Count = 2 }, filled).Should().Equal(3);
        Counts(bare with { Count = 2 }, filled, bare with { Number = 3 }).Should().Equal(4);
        Counts(bare with { Count = 2 }, bare with { Number = 2 }).Should().Equal(new[] { 2, 1 }, "no spare is in them, so they stay as they are");
        Counts(filled, filled with { Number = 2 }).Should().Equal(2);
    }

    public static TheoryData<string, Func<Layout, Layout>> Differences() => new()
    {
        { "another leftover of the same size", layout => layout with { StockId = "R2" } },
        { "another saw", layout => layout with { SawId = "other" } },
        { "kept from an earlier plan", layout => layout with { Kept = true } },
        { "trims", layout => layout with { Trims = new(Mm(1), default, default, default) } },
        { "cost", layout => layout with { Cost = layout.Cost with { Saw = layout.Cost.Saw + Money.FromUnits(1) } } },
        { "a turned piece", layout => layout with { Pieces = layout.Pieces.SetItem(0, layout.Pieces[0] with { Turned = true }) } },
        { "the way it is divided", layout => layout with { Tree = layout.Tree! with { Direction = CutDirection.Crosscut } } },
        { "the size of a strip", layout => Strip(layout, strip => strip with { Area = strip.Area with { SizeX = strip.Area.SizeX - Mm(1) } }) },
        { "a child less", layout => Strip(layout, strip => strip with { Children = strip.Children.RemoveAt(2) }) },
        { "a scrap in place of a piece", layout => Strip(layout, strip => strip with { Children = strip.Children.SetItem(1, strip.Children[1] with { Kind = CutNodeKind.Offcut, Index = 0 }) }) },
        { "an offcut that is kept", layout => layout with { Offcuts = layout.Offcuts.SetItem(1, layout.Offcuts[1] with { Keep = true }) } },
        { "the value of an offcut", layout => layout with { Offcuts = layout.Offcuts.SetItem(0, layout.Offcuts[0] with { Value = Money.FromUnits(1) }) } },
        { "no tree", layout => layout with { Tree = null } },
    };

    [Theory]
    [MemberData(nameof(Differences))]
    public void Layouts_that_differ_in_one_thing_are_not_counted_together(string what, Func<Layout, Layout> change) =>
        SparesOut.Of(Shop, [change(Lids(0)), Lids(1)]).Should().HaveCount(2, what);

    /// <summary>By hand: of the 212 behind two lids the spare takes 200 and 8 are left. Were the 8 kept for the rack, they are no scrap beside the spare: where it lay is an offcut of its own.</summary>
    [Fact]
    public void An_offcut_that_is_kept_stays_as_it_is()
    {
        var filled = Lids(1);
        var kept = filled with { Offcuts = filled.Offcuts.SetItem(0, filled.Offcuts[0] with { Keep = true, Value = Money.FromAmount(5) }) };
        kept.Offcuts[0].Area.SizeX.Should().Be(Mm(8));
        var bare = SparesOut.Bare(Shop, kept);
        bare.Offcuts.Select(offcut => offcut.Area.SizeX.ToMillimetres()).Should().Equal(200m, 8m, 620m);
        bare.Offcuts[1].Should().Be(kept.Offcuts[0]);

        // A strip of scrap alone, in two pieces, is no spare's and stays two; where the spare lay is one offcut more.
        var cut = TestPlan.OnSaw(Shop, "R1", (usable, tree) => tree.Split(usable, CutDirection.Rip,
            strip => tree.Split(strip(100), CutDirection.Crosscut, [.. tree.Row("lid", 200, 3)]),
            strip => tree.Split(strip(100), CutDirection.Crosscut, take => tree.Rest(take(300)))));
        var offcuts = cut.Offcuts.Length;
        SparesOut.Bare(Shop, cut with { Pieces = Spare(cut.Pieces, 2) }).Offcuts.Should().HaveCount(offcuts + 1);
    }

    /// <summary>By hand: the first of three feet of 100 from the clean end is a spare; without it the others move up to that end. From the left they lie at 8 and 110; from the right end of 620 at 520 and 418.</summary>
    [Theory]
    [InlineData("bar", 8, 110), InlineData("right", 418, 520)]
    public void The_blanks_of_a_bar_move_up(string stock, decimal first, decimal second)
    {
        var right = stock == "right";
        var bare = SparesOut.Bare(Shop, Feet(stock));
        bare.Pieces.Select(piece => piece.Area.X.ToMillimetres()).Should().Equal(first, second);
        var rest = bare.Offcuts.Single().Area;
        (rest.X.ToMillimetres(), rest.Right.ToMillimetres()).Should().Be(right ? (8m, 416m) : (212m, 612m));
    }

    /// <summary>Blanks of two sizes keep their order along the bar, listed as they may be.</summary>
    [Fact]
    public void The_blanks_of_a_bar_keep_their_order()
    {
        var job = Shop with { Parts = [.. Shop.Parts, Flat("leg", 198, 34, 16) with { Forms = Forms.FlatBar }] };
        var layout = TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("leg", 200, 1), .. tree.Row("foot", 100, 2)]));
        var bare = SparesOut.Bare(job, layout with { Pieces = Spare(layout.Pieces, 1) });
        bare.Pieces.Select(piece => (piece.PartId, piece.Area.X.ToMillimetres())).Should().Equal(("leg", 8m), ("foot", 210m));
    }

    /// <summary>A cutter's spare is taken out, and the rest of the sheet stays where it is.</summary>
    [Fact]
    public void On_a_cutter_only_the_spare_goes()
    {
        var job = Shop with { Saws = [Cutter], Parts = [Shop.Parts[0]] };
        var layout = TestPlan.OnCutter(job, "R1", new PlacedPiece("lid", Box(20, 20, 200, 100), false), new PlacedPiece("lid", Box(232, 20, 200, 100), false) { Spare = true }) with
        {
            Offcuts = [new(Box(20, 150, 500, 100), true, Money.FromAmount(3))],
        };
        var bare = SparesOut.Bare(job, layout);
        bare.Pieces.Should().Equal(layout.Pieces[0]);
        bare.Offcuts.Should().Equal(layout.Offcuts);
        bare.Tree.Should().BeNull();
    }

    /// <summary>Three feet of 100 on a bar of 620, the first from its clean end a spare, and what is left behind them.</summary>
    internal static Layout Feet(string stock)
    {
        var right = stock == "right";
        var layout = TestPlan.OnSaw(Shop, stock, (usable, tree) => new()
        {
            Kind = CutNodeKind.Split, Area = usable, Direction = CutDirection.Crosscut,
            Children = right
                ? [tree.Rest(usable with { SizeX = Mm(306) }), .. Enumerable.Range(0, 3).Select(at => tree.Piece("foot", usable with { X = Mm(316 + (at * 102)), SizeX = Mm(100) }))]
                : [.. Enumerable.Range(0, 3).Select(at => tree.Piece("foot", usable with { X = Mm(8 + (at * 102)), SizeX = Mm(100) })), tree.Rest(usable with { X = Mm(314), SizeX = Mm(298) })],
        });
        return layout with { Pieces = Spare(layout.Pieces, right ? 2 : 0) };
    }

    private static int[] Counts(params ImmutableArray<Layout> layouts) => [.. SparesOut.Of(Shop, layouts).Select(layout => layout.Count)];

    /// <summary>Two lids, and so many spares behind them.</summary>
    internal static Layout Lids(int spares)
    {
        var layout = TestPlan.OnSaw(Shop, "R1", (usable, tree) => tree.Split(usable, CutDirection.Rip,
            strip => spares == 0
                ? tree.Split(strip(100), CutDirection.Crosscut, [.. tree.Row("lid", 200, 2)])
                : tree.Split(strip(100), CutDirection.Crosscut, [.. tree.Row("lid", 200, 2), take => tree.Split(take(212), CutDirection.Crosscut, [.. tree.Row("lid", 200, 1)])])));
        layout = layout with { Pieces = Spare(layout.Pieces, 2) };
        return TestPlan.Of(Shop, layout).Layouts[0];
    }

    private static ImmutableArray<PlacedPiece> Spare(ImmutableArray<PlacedPiece> pieces, int from) => [.. pieces.Select((piece, at) => at == from ? piece with { Spare = true } : piece)];

    private static Layout Strip(Layout layout, Func<CutNode, CutNode> change) => layout with { Tree = layout.Tree! with { Children = layout.Tree.Children.SetItem(0, change(layout.Tree.Children[0])) } };
}
