using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Plates;
using Nest.Solve.Plates.ThroughCut;
using Nest.Tests.Plates;

namespace Nest.Tests.Bounds;

/// <summary>Through-cuts may run through damage, free layouts keep a gap to it: bounds made for these are none for those.</summary>
public sealed class DamagedPlateTest
{
    /// <summary>Worked by hand: the cut at x = 2 lies in the damage, the two pieces beside it, so one plate at 1 is enough. As a free plate with a
    /// gap round the damage it holds no piece, and two plates at 6 would be needed.</summary>
    [Fact]
    public void A_cut_may_lie_in_the_damage()
    {
        var problem = new PlateProblem
        {
            Kerf = 1,
            Stocks = [new PlateStock(5, 2, 1, 1) { KeepOuts = [new PlateRect(2, 0, 1, 2)] }, new PlateStock(2, 2, 6)],
            Items = [new PlateItem(2, 2, 2, false)],
            Cutting = new(),
        };

        var solution = ThroughCutSolver.Solve(problem, new SolveLimits { Seconds = 60, Work = 50_000 });

        solution.Bound.Should().BeLessThanOrEqualTo(1);
        solution.Cost.Should().BeLessThanOrEqualTo(12);
        if (solution.Status == SolveStatus.Proven)
        {
            solution.Cost.Should().Be(1);
        }
    }
}
