using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Tests.Bars;

/// <summary>A master that cannot serve all pieces, asked again and again.</summary>
public class MasterAgainTest
{
    /// <summary>The vise holds 240 at least, so one bar of 392 gives one piece of 98, and a rest; there is one bar for two pieces. The programme pays dearly for the
    /// other. Each time it was asked it paid eight times as much as before, until the sums left the range of numbers (tiny job 56550, under load).</summary>
    [Fact]
    public void What_a_missing_piece_costs_does_not_grow_without_end()
    {
        var model = new BarModel(new() { Stocks = [new(392, 21_600, 1) { ShortestHeld = 240 }], Items = [new(98, 2)], Kerf = 3 });
        var meter = new WorkMeter(new SolveLimits { Seconds = 600, Work = 60_000_000 }, CancellationToken.None);
        using var master = new BarMaster(model, new BarPricing(model), 1);
        for (var n = 0; n < 60; n++)
        {
            master.Restrict(model.Demand, new int[model.Ranges], model.MostBars, false);
            master.Generate(meter, 2000, long.MaxValue);
        }

        master.Bound.Should().BeGreaterThan(21_600, "one bar is not enough");
    }
}
