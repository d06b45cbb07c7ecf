using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Tests.Costing;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>The checker takes spares out of a plan as the planner does, on the cases that <see cref="SparesOutTest"/> has by hand; the two share no code.</summary>
public sealed class SparesTakenTest
{
    public static TheoryData<string, Func<Layout, Layout>> Differences() => SparesOutTest.Differences();

    [Theory]
    [MemberData(nameof(Differences))]
    public void Layouts_that_differ_in_one_thing_are_not_counted_together(string what, Func<Layout, Layout> change) =>
        Agree(2, what, change(SparesOutTest.Lids(0)), SparesOutTest.Lids(1));

    [Fact]
    public void Layouts_that_are_alike_without_their_spares_are_one()
    {
        var (bare, filled) = (SparesOutTest.Lids(0), SparesOutTest.Lids(1));
        Agree(1, "", bare with { Count = 2 }, filled);
        Agree(1, "", bare with { Count = 2 }, filled, bare with { Number = 3 });
        Agree(2, "", bare with { Count = 2 }, bare with { Number = 2 });
        Agree(1, "", filled, filled with { Number = 2 });
    }

    [Theory]
    [InlineData("bar"), InlineData("right")]
    public void The_blanks_of_a_bar_move_up(string stock) => Agree(1, stock, SparesOutTest.Feet(stock));

    [Fact]
    public void Blanks_of_a_bar_keep_their_order_and_offcuts_that_are_kept_stay()
    {
        var job = SparesOutTest.Shop with { Parts = [.. SparesOutTest.Shop.Parts, Flat("leg", 198, 34, 16) with { Forms = Forms.FlatBar }] };
        var bar = TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("leg", 200, 1), .. tree.Row("foot", 100, 2)]));
        Agree(job, 1, "", bar with { Pieces = bar.Pieces.SetItem(0, bar.Pieces[0] with { Spare = true }) });
        Agree(job, 1, "", bar with { Pieces = bar.Pieces.SetItem(1, bar.Pieces[1] with { Spare = true }) });
        foreach (var at in new[] { 0, 1 })
        {
            var filled = SparesOutTest.Lids(1);
            Agree(1, "", filled with { Offcuts = filled.Offcuts.SetItem(at, filled.Offcuts[at] with { Keep = true }) });
        }
    }

    /// <summary>Of three blanks the first is the spare: the others are numbered anew in the tree.</summary>
    [Fact]
    public void Blanks_of_a_plate_are_numbered_anew()
    {
        var filled = SparesOutTest.Lids(1);
        Agree(1, "", filled with { Pieces = [.. filled.Pieces.Select((piece, at) => piece with { Spare = at == 0 })] });
    }

    private static void Agree(int count, string what, params ImmutableArray<Layout> layouts) => Agree(SparesOutTest.Shop, count, what, layouts);

    private static void Agree(Job job, int count, string what, params ImmutableArray<Layout> layouts)
    {
        var facts = new PlanFacts(TestPlan.Good() with { Job = job, Layouts = layouts });
        LayoutFacts Known(Layout layout)
        {
            var stock = job.Stocks.FirstOrDefault(stock => stock.Id == layout.StockId) ?? job.Stocks[0] with { Id = layout.StockId };
            var saw = job.Saws.FirstOrDefault(saw => saw.Id == layout.SawId) ?? job.Saws[0] with { Id = layout.SawId };
            return new(layout, stock, Aluminium, saw);
        }

        var taken = SparesTaken.Out(facts, [.. layouts.Select(Known)]).ConvertAll(one => one.Layout);
        var planned = SparesOut.Of(job, layouts);
        planned.Should().HaveCount(count, what);
        taken.Select(layout => layout.Count).Should().Equal(planned.Select(layout => layout.Count), what);
        foreach (var (one, other) in taken.Zip(planned))
        {
            one.Pieces.Should().Equal(other.Pieces, what);
            one.Offcuts.Should().Equal(other.Offcuts, what);
            one.Cost.Should().Be(other.Cost, what);
            Nodes(one.Tree).Should().Equal(Nodes(other.Tree), what);
        }
    }

    private static IEnumerable<(CutNodeKind Kind, Rect Area, int Index)> Nodes(CutNode? node) =>
        node is null ? [] : node.Children.SelectMany(Nodes).Prepend((node.Kind, node.Area, node.Kind == CutNodeKind.Split ? 0 : node.Index));
}
