using Nest.Core.Blanks;
using Nest.Judge.Jobs;
using Nest.Solve.Choose;
using Nest.Solve.Exact;

namespace Nest.Tests.Exact;

/// <summary>What values of the blanks state at any counts of stock.</summary>
public sealed class ValueCutTest
{
    [Fact]
    public void With_the_share_that_counts_no_stock_without_a_limit_is_worth_more_than_its_price()
    {
        // That is what lets a stock be left out (ValueGeneration.Drop): the others take nothing off a plan's cost.
        var scaled = 0;
        for (var seed = 0; seed < 60; seed++)
        {
            var job = TinyJobs.Make(seed);
            foreach (var component in Components.Of(job, BlankSizer.Size(job)))
            {
                var exact = new ExactJob(job, [component], tied: false, 1e5);
                var values = new ValueGeneration(exact, 1);
                if (!exact.IsValid || values.Generate(null, new(60, 20_000, default)) is null)
                {
                    continue;
                }

                foreach (var cut in values.Cuts.Where(cut => cut.Bare is not null))
                {
                    foreach (var source in exact.Sources.Where(source => source.Limit is null && cut.Bare![source.Number] <= source.Price))
                    {
                        cut.Per(source.Number).Should().BeLessThanOrEqualTo(source.Price + 1e-3, "seed {0}, {1}", seed, source.Number);
                        scaled += cut.Share < 0.999 ? 1 : 0;
                    }
                }
            }
        }

        scaled.Should().BeGreaterThan(20);
    }
}
