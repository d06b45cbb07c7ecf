using Nest.Solve;
using Nest.Solve.Bars;
using Nest.Tests.Bars;

namespace Nest.Tests.Bounds;

/// <summary>What any values of the pieces state of bars, against plain search over every layout and every state of demand and stock.</summary>
public sealed class SafeBoundTest
{
    /// <summary>Values as multiples of a bar's cost for its length: too low, about right, and so high that they must be made smaller.</summary>
    private static readonly double[] Multiples = [0.5, 1, 1.5, 3, 8];

    [Fact]
    public void No_values_state_more_than_the_least_cost()
    {
        var random = new Random(271);
        var (compared, tight) = (0, 0);
        for (var n = 0; n < 800; n++)
        {
            var problem = BarBruteForceTests.Small(random);
            if (BruteBars.Solve(problem) is not { } least)
            {
                continue;
            }

            var model = new BarModel(problem);
            var pricing = new BarPricing(model);
            var dearest = problem.Stocks.Max(stock => stock.Cost / (double)stock.Length);
            foreach (var multiple in Multiples)
            {
                const long scale = 1000;
                var values = new long[model.Types + model.Groups];
                for (var i = 0; i < values.Length; i++)
                {
                    var size = i < model.Types ? model.Length[i] * (double)model.Unit : 0;
                    values[i] = (long)(scale * ((dearest * multiple * size * (0.7 + (0.6 * random.NextDouble()))) + (i < model.Types ? 0 : random.Next(-6, 7))));
                }

                var bound = new SafeBound(model, pricing, model.Demand, new int[model.Ranges], model.MostBars);
                pricing.Price(values, scale, model.Demand, 1, _ => true, [], new(new() { Seconds = 60 }, default));
                bound.Consider(values, scale);

                bound.Value.Should().BeLessThanOrEqualTo(least, "problem {0}, values at {1} times a bar's cost", n, multiple);
                compared++;
                tight += bound.Value > 0.8 * least ? 1 : 0;
            }
        }

        compared.Should().BeGreaterThan(1000);
        tight.Should().BeGreaterThan(50, "a bound of nothing would always hold");
    }
}
