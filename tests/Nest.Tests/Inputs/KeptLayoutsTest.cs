using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Inputs;

/// <summary>Which layouts of an earlier plan may stay in a job, and what is said where one may not.</summary>
public sealed class KeptLayoutsTest
{
    private static Plan Good => TestPlan.Good();

    [Fact]
    public void Layouts_stay_as_they_are_and_cost_what_they_cost_today()
    {
        var (job, problems) = KeptLayouts.On(Good.Job, Good, [3, 1, 3]);
        problems.Should().BeEmpty();
        job!.Kept.Select(layout => (layout.Number, layout.Kept, layout.Cost)).Should().Equal(
            (1, true, Good.Layouts[0].Cost), (3, true, Good.Layouts[2].Cost));
        job.Kept[0].Pieces.Should().Equal(Good.Layouts[0].Pieces);
        job.Kept[0].Offcuts.Should().Equal(Good.Layouts[0].Offcuts);

        // The plate is dearer by 10.00: so is its metal, and what its offcuts bring follows: 210 × 0.6 × (900 × 204 + 1980 × 464) ÷ (2000 × 1000).
        var today = KeptLayouts.On(Stock("plate 15", stock => stock with { PiecePrice = Money.FromAmount(210m) }), Good, [1]).Job!.Kept.Single().Cost;
        today.Metal.Should().Be(Money.FromAmount(210m));
        today.OffcutCredit.Should().Be(Money.FromAmount(69.4461m), "57.87936 and 11.5668, each rounded down");
        today.Facing.Should().Be(Good.Layouts[0].Cost.Facing);
    }

    public static TheoryData<string, Job, string> InTheWay() => new()
    {
        { "stock gone", Good.Job with { Stocks = [.. Good.Job.Stocks.Where(stock => stock.Id != "R1")] },
            "layout 2 cannot stay: R1 is no stock of this job, or another saw cuts it now" },
        { "saw gone", Good.Job with { Saws = [Saw("plate saw") with { Id = "new saw" }, Saw("bar saw")] },
            "layout 2 cannot stay: R1 is no stock of this job, or another saw cuts it now" },
        { "shorter stock", Stock("R1", stock => stock with { MinLength = Mm(599) }),
            "layout 2 cannot stay: R1, its trims or the kerf of plate saw are not what they were" },
        { "other thickness", Stock("R1", stock => stock with { Thickness = Mm(16) }),
            "layout 2 cannot stay: R1, its trims or the kerf of plate saw are not what they were" },
        { "other kerf", Good.Job with { Saws = [Saw("plate saw") with { Kerf = Mm(3) }, Saw("bar saw")] },
            "layout 2 cannot stay: R1, its trims or the kerf of plate saw are not what they were" },
        { "edges not clean", Stock("R1", stock => stock with { CleanEdges = default }),
            "layout 2 cannot stay: R1, its trims or the kerf of plate saw are not what they were" },
        { "part gone", Good.Job with { Parts = [.. Good.Job.Parts.Where(part => part.Id != "bracket")] },
            "layout 2 cannot stay: bracket is no part of this job, or its blank from R1 is another now" },
        { "longer part", Part("bracket", part => part with { Length = Mm(401) }),
            "layout 2 cannot stay: bracket is no part of this job, or its blank from R1 is another now" },
        { "wider part", Part("bracket", part => part with { Width = Mm(301) }),
            "layout 2 cannot stay: bracket is no part of this job, or its blank from R1 is another now" },
    };

    [Theory]
    [MemberData(nameof(InTheWay))]
    public void A_layout_that_fits_no_more_does_not_stay(string why, Job job, string problem)
    {
        var answer = KeptLayouts.On(job, Good, [2]);
        answer.Job.Should().BeNull(why);
        answer.Problems.Should().Equal(problem);
    }

    /// <summary>The tabs of layout 1 lie across the plate: they stay only while both of their sizes are what they were, and they may lie so.</summary>
    [Fact]
    public void Turned_pieces_stay_only_in_both_their_sizes()
    {
        const string problem = "layout 1 cannot stay: tab is no part of this job, or its blank from plate 15 is another now";
        KeptLayouts.On(Part("tab", part => part with { Length = Mm(201) }), Good, [1]).Problems.Should().Equal(problem);
        KeptLayouts.On(Part("tab", part => part with { Width = Mm(101) }), Good, [1]).Problems.Should().Equal(problem);
        KeptLayouts.On(Part("tab", part => part with { MayTurn = false }), Good, [1]).Problems.Should().Equal(problem);
        KeptLayouts.On(Part("tab", part => part with { Length = part.Width, Width = part.Length }), Good, [1]).Problems.Should().BeEmpty("its blank is the same, turned about");
    }

    [Fact]
    public void All_that_is_in_the_way_is_said_at_once() =>
        KeptLayouts.On(Part("bracket", part => part with { Length = Mm(401) }), Good, [9, 2, 1]).Problems.Should().Equal(
            "layout 1 cannot stay: bracket is no part of this job, or its blank from plate 15 is another now",
            "layout 2 cannot stay: bracket is no part of this job, or its blank from R1 is another now",
            "the plan has no layout 9: it has 1 to 3");

    [Fact]
    public void A_piece_bought_whole_is_not_kept()
    {
        var whole = Good with { Layouts = [Good.Layouts[0] with { Pieces = [], Tree = null }] };
        KeptLayouts.On(Good.Job, whole, [1]).Problems.Should().Equal("layout 1 cannot stay: it is a piece bought whole, nothing is cut from it");
    }

    [Fact]
    public void No_more_may_stay_than_is_wanted_and_there()
    {
        KeptLayouts.On(Part("foot", part => part with { Quantity = 9 }), Good, [3]).Problems.Should().Equal(
            "the layouts that are to stay cut 10 of foot, and 9 are wanted: let one of them go");
        KeptLayouts.On(Part("foot", part => part with { Quantity = 9, Extra = 1 }), Good, [3]).Problems.Should().BeEmpty();
        var twice = Good with { Layouts = [Good.Layouts[1] with { Number = 1, Count = 2 }] };
        KeptLayouts.On(Good.Job, twice, [1]).Problems.Should().Equal("the layouts that are to stay take 2 of R1, and there are 1");
        KeptLayouts.On(Stock("R1", stock => stock with { Available = 2 }), twice, [1]).Problems.Should().BeEmpty();
    }

    [Fact]
    public void A_part_that_comes_from_one_stock_does_not_stay_on_two()
    {
        const string problem = "the layouts that are to stay cut bracket from several stocks or in several sizes, and the job wants one";
        var job = Part("bracket", part => part with { OneStock = true });
        KeptLayouts.On(job, Good, [1, 2]).Problems.Should().Equal(problem);
        KeptLayouts.On(job, Good, [2]).Problems.Should().BeEmpty();
        KeptLayouts.On(Good.Job, Good, [1, 2]).Problems.Should().BeEmpty();

        // One size: both stocks are 15 thick. Where the leftover is thicker, they are two.
        KeptLayouts.On(Part("bracket", part => part with { OneSize = true }), Good, [1, 2]).Problems.Should().BeEmpty();
        var thicker = Good with { Job = Stock("R1", stock => stock with { Thickness = Mm(20), MinThickness = Mm(19.7m) }) };
        KeptLayouts.On(thicker.Job with { Parts = Part("bracket", part => part with { OneSize = true }).Parts }, thicker, [1, 2]).Problems.Should().Equal(problem);
        KeptLayouts.On(thicker.Job, thicker, [1, 2]).Problems.Should().BeEmpty();
    }

    [Fact]
    public void What_stays_is_counted()
    {
        var kept = Good.Layouts.SetItem(1, Good.Layouts[1] with { Count = 2 });
        KeptLayouts.Pieces(kept).Should().Equal(new Dictionary<string, int> { ["bracket"] = 6, ["tab"] = 10, ["foot"] = 10 });
        KeptLayouts.Stocks([.. kept, kept[1]]).Should().Equal(new Dictionary<string, int> { ["plate 15"] = 1, ["R1"] = 4, ["flat 40x20"] = 1 });
    }

    private static Saw Saw(string id) => Good.Job.Saws.First(saw => saw.Id == id);

    private static Job Stock(string id, Func<Stock, Stock> change) =>
        Good.Job with { Stocks = [.. Good.Job.Stocks.Select(stock => stock.Id == id ? change(stock) : stock)] };

    private static Job Part(string id, Func<Part, Part> change) =>
        Good.Job with { Parts = [.. Good.Job.Parts.Select(part => part.Id == id ? change(part) : part)] };
}
