using FluentAssertions;
using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Tests.Bars;

/// <summary>Bars that are full to the end: at the first optimal values almost every layout may be in a plan, at the mean of many few.</summary>
public class PoolListingTest
{
    private const int Capacity = 2000;
    private const int Long = 1100;
    private const int Bars = 20;
    private const int Most = 2000;

    /// <summary>Jobs whose bars were filled before they were taken apart, one long piece and three short ones each, no metal left: the plan they came from is within the target, so no list that is complete misses
    /// one of its layouts, whatever values it was made at. At a price by length thousands of bars of short pieces alone are as good; they are in no plan, as each long piece needs a bar.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void A_list_has_every_layout_of_the_plan_that_a_job_was_made_from(int seed)
    {
        var (problem, bars) = Made(seed);
        var model = new BarModel(problem);
        var meter = new WorkMeter(new SolveLimits { Seconds = 600, Work = 20_000_000 }, CancellationToken.None);
        using var master = new BarMaster(model, new BarPricing(model), seed);
        master.Generate(meter, 100_000, Bars + 1);
        master.Sharpen(meter);
        master.Bound.Should().Be(Bars);

        LayoutPool.List(model, master.BestDual!, Bars, model.MostBars, Most, meter).Complete.Should().BeFalse("else there is nothing to ask here");
        var pool = new PoolListing(model, master, new Random(seed), meter).List(Bars, model.MostBars, Most, otherDuals: true);

        pool.Should().NotBeNull("bars without a long piece are out at other values");
        var listed = pool!.Patterns.Select(pattern => string.Join(' ', Lengths(model, pattern))).ToHashSet();
        bars.Select(bar => string.Join(' ', bar)).Should().BeSubsetOf(listed);
    }

    /// <summary>Each layout as its lengths in rising order.</summary>
    private static IEnumerable<long> Lengths(BarModel model, BarPattern pattern) =>
        pattern.Items.Zip(pattern.Counts, (item, count) => Enumerable.Repeat(model.Length[item], count)).SelectMany(lengths => lengths).Order();

    private static (BarProblem Problem, List<long[]> Bars) Made(int seed)
    {
        var random = new Random(seed);
        var bars = new List<long[]>();
        for (var n = 0; n < Bars; n++)
        {
            long first = random.Next(200, 400);
            long second = random.Next(200, 400);
            bars.Add([.. new[] { first, second, Capacity - Long - first - second, Long }.Order()]);
        }

        var items = bars.SelectMany(bar => bar).CountBy(length => length).OrderBy(entry => entry.Key);
        return (new() { Stocks = [new(Capacity, 1)], Items = [.. items.Select(entry => new BarItem(entry.Key, entry.Value))] }, bars);
    }
}
