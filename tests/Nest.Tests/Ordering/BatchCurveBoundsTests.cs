using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Batch;
using Nest.Solve.Choose;
using Nest.Tests.Makers;

namespace Nest.Tests.Ordering;

/// <summary>The curve against enumeration: the source of truth is <see cref="OrderBruteForce"/>, which shares no search with it.</summary>
public sealed class BatchCurveBoundsTests
{
    private static Job Kit(int seed)
    {
        var job = SmallOrders.Random(seed);
        return job with { Batch = 1, Parts = [.. job.Parts.Select(part => part with { Quantity = 1 })] };
    }

    // Seeds on which trying everything ends in seconds (on 6 it took minutes, on 7, 15 and 23 it was not waited for).
    [Theory]
    [InlineData(1), InlineData(4), InlineData(9), InlineData(12)]
    public void Every_point_is_the_least_of_its_number_and_all_larger_ones(int seed)
    {
        var job = Kit(seed);
        const int To = 6;
        var least = Enumerable.Range(1, To).Select(sets => OrderBruteForce.Least(job.ForBatch(sets))).ToArray();
        var points = BatchCurve.Of(job, 1, To, new() { Seconds = 600, Work = 30_000, Threads = 2 });

        CurveAnchors.Of(1, To).Should().Equal([1, 2, 3, 6], "the others must come from their neighbours");
        for (var at = 0; at < To; at++)
        {
            var right = least.Skip(at).Min();
            if (right is not { } known)
            {
                points[at].Complete.Should().BeFalse();
                continue;
            }

            (points[at].Bound.Value ?? Money.FromUnits(long.MinValue)).Units.Should().BeLessThanOrEqualTo(known, "no bound may pass the optimum of {0} sets", at + 1);
            points[at].Cost.Units.Should().Be(known, "of {0} sets", at + 1);
        }
    }

    // Worked by hand: bars at 20, from the second on all at 9: two (18) are cheaper than one (20). Kept whole, the second is worth something, and
    // surplus is free; a piece cut to size, or one that no rule keeps, is not.
    [Fact]
    public void Surplus_is_free_where_the_rest_may_be_kept_or_less_is_no_dearer()
    {
        var dear = new PriceTerms { Breaks = [new(2, Money.FromAmount(9))] };
        var mild = new PriceTerms { Breaks = [new(2, Money.FromAmount(15))] };
        var bar = JobMaker.Bar("bar", 50, 20, 1000, 20);

        Free(bar with { Terms = dear }).Should().BeTrue("the offcut rule keeps 1000 mm");
        Free(bar with { Terms = dear }, keep: false).Should().BeFalse();
        Free(bar with { Terms = mild }, keep: false).Should().BeTrue("2 × 15 is more than 20");
        Free(bar with { Terms = dear with { Rule = BreakRule.Incremental } }, keep: false).Should().BeTrue("20 + 9 is more than 20");
        Free(bar, keep: false, new Supplier { Name = "Invented Metals", Delivery = Money.FromAmount(10), FreeDeliveryFrom = Money.FromAmount(30) }).Should().BeFalse();
    }

    [Theory]
    [InlineData(1, 100, "1,2,3,6,12,25,50,100"), InlineData(7, 7, "7"), InlineData(98, 100, "98,100")]
    public void Anchors_have_both_ends(int from, int to, string anchors) =>
        string.Join(',', CurveAnchors.Of(from, to)).Should().Be(anchors);

    [Fact]
    public void All_numbers_between_anchors_come_once() =>
        CurveAnchors.Between([1, 2, 3, 6, 12, 25]).Order().Should().Equal([4, 5, 7, 8, 9, 10, 11, .. Enumerable.Range(13, 12)]);

    private static bool Free(Stock stock, bool keep = true, params Supplier[] suppliers)
    {
        var job = JobMaker.Job([JobMaker.Part("P", 300, 40, 10, 1, Forms.FlatBar) with { MayTurn = false }], [stock]) with { Suppliers = [.. suppliers] };
        job = keep ? job : job with { OffcutRules = [] };
        return FreeSurplus.Holds(job, Components.Of(job, Core.Blanks.BlankSizer.Size(job)));
    }
}
