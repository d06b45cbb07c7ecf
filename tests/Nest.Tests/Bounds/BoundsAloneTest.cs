using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Judge.Jobs;
using Nest.Solve;
using Nest.Solve.Choose;

namespace Nest.Tests.Bounds;

/// <summary>Each bound of the component level by itself against the judge's enumeration: in a whole plan the highest one counts, so a fault in another would not be
/// seen.</summary>
public sealed class BoundsAloneTest
{
    /// <summary>Values of the blanks as multiples of what each costs by its size: too low, about right, and so high that they must be scaled down.</summary>
    private static readonly double[] Multiples = [0.6, 1.0, 1.6, 3.0];

    /// <summary>More with NEST_SEEDS.</summary>
    public static TheoryData<int> Seeds => [.. Enumerable.Range(0, int.TryParse(Environment.GetEnvironmentVariable("NEST_SEEDS"), out var seeds) ? seeds : 100)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void None_is_above_the_enumerated_optimum(int seed)
    {
        var job = TinyJobs.Make(seed);
        if (EnumeratedCost.Of(job) is not { } least)
        {
            return;
        }

        var random = new Random(seed);
        // As the search has them: leftovers carried below their scrap value at that value.
        var twins = StockTwins.Of(job, BlankSizer.Size(job));
        var components = Components.Of(Scenario.AllAtLowest(twins.Merged), twins.MergedBlanks);
        var (bySize, byValues, byPieces) = (0L, 0L, 0L);
        foreach (var component in components)
        {
            var cuts = Multiples.Select(multiple => Priced(component, multiple, random)).ToList();
            var demand = component.Demand.AsSpan();
            bySize += SizeBound.Of(component, demand).Value?.Units ?? long.MinValue / 1000;
            byPieces += StockCountBound.Of(component, demand, cuts, 1.0, 60, default).Value?.Units ?? long.MinValue / 1000;
            var best = long.MinValue / 1000;
            foreach (var (values, worth) in cuts)
            {
                best = Math.Max(best, DualBound.Of(component, values, demand, worth).Bound.Value?.Units ?? best);
            }

            byValues += best;
        }

        Own(bySize).Should().BeLessThanOrEqualTo(least, "every blank pays no more than its share");
        Own(byValues).Should().BeLessThanOrEqualTo(least, "no layout is worth more than it costs");
        Own(byPieces).Should().BeLessThanOrEqualTo(least, "every plan is a solution of the relaxation");

        long Own(long bound) => twins.Own(Bound.Of(Money.FromUnits(bound), Methods.Size)).Value!.Value.Units;
    }

    private static (long[] Values, long[] Best) Priced(Component component, double multiple, Random random)
    {
        var values = new long[component.Items];
        for (var i = 0; i < values.Length; i++)
        {
            var share = Enumerable.Range(0, component.Stocks.Length).Where(s => component.Fits[s, i] is not null).Select(s =>
                component.LowerCosts.Piece[s, i] + (component.LowerCosts.Stock[s] * (double)StockSize.Of(component, s, i) / (double)StockSize.Room(component, s))).DefaultIfEmpty(0).Min();
            values[i] = (long)(share * multiple * (0.7 + (0.6 * random.NextDouble())) * IStockPricer.Scale);
        }

        return (values, [.. Enumerable.Range(0, component.Stocks.Length).Select(s => StockPricers.For(component, s).Price(values, 1).UpperBound)]);
    }
}
