using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Plates;
using Nest.Solve.Plates.Free;

namespace Nest.Tests.Plates.Free;

public sealed class FreeSolverTests
{
    /// <summary>Deterministic: the clock is far away.</summary>
    private static readonly SolveLimits Short = new() { Seconds = 60, Work = 60_000 };

    private static readonly SolveLimits Longer = new() { Seconds = 60, Work = 400_000 };

    /// <summary>Reference: exhaustive search of all whole positions in this test project.</summary>
    [Fact]
    public void Tiny_jobs_cost_what_trying_everything_costs()
    {
        var random = new Random(20);
        for (var job = 0; job < 250; job++)
        {
            var problem = SmallPlateJobs.Next(random);
            var best = FreeBruteForce.Cost(problem);
            var solution = FreeSolver.Solve(problem, Short);
            if (best is null)
            {
                solution.Status.Should().BeOneOf(SolveStatus.Impossible, SolveStatus.NotFound);
                continue;
            }

            FreeLayoutVerifier.Faults(problem, solution).Should().BeEmpty($"job {job}");
            solution.Cost.Should().Be(best, $"job {job}");
            solution.Bound.Should().BeLessThanOrEqualTo(best.Value, $"job {job}");
        }
    }

    [Fact]
    public void Turning_never_costs_more_and_a_keep_out_never_makes_it_cheaper()
    {
        var random = new Random(21);
        for (var job = 0; job < 60; job++)
        {
            var problem = SmallPlateJobs.Next(random);
            var plain = FreeSolver.Solve(problem, Short);
            var turned = FreeSolver.Solve(problem with { Items = [.. problem.Items.Select(i => i with { MayTurn = true })] }, Short);
            if (plain.Status is SolveStatus.Proven && turned.Status is SolveStatus.Proven)
            {
                turned.Cost.Should().BeLessThanOrEqualTo(plain.Cost);
            }

            var damaged = FreeSolver.Solve(
                problem with { Stocks = [.. problem.Stocks.Select(s => s with { KeepOuts = s.KeepOuts.Add(new PlateRect(1, 1, 1, 2)) })] }, Short);
            if (plain.Status is SolveStatus.Proven && damaged.Status is SolveStatus.Proven)
            {
                damaged.Cost.Should().BeGreaterThanOrEqualTo(plain.Cost);
            }
        }
    }

    /// <summary>Row P of the trade facts: four 3 × 2 around a hole on a 5 × 5 plate; edge-to-edge sawing gets three (own dynamic programme).</summary>
    [Fact]
    public void A_pinwheel_of_four_fits_a_free_plate()
    {
        var problem = new PlateProblem
        {
            Stocks = [new PlateStock(5, 5, 7)], Items = [new PlateItem(3, 2, 4, true)], Cutting = new PlateCutting { Free = true },
        };
        var solution = FreeSolver.Solve(problem, Longer);
        FreeLayoutVerifier.Faults(problem, solution).Should().BeEmpty();
        (solution.Cost, solution.Status).Should().Be((7L, SolveStatus.Proven));
        FreeSolver.Solve(problem with { Items = [new PlateItem(3, 2, 4, false)] }, Longer).Cost.Should().Be(14);
    }

    /// <summary>Reference: published optima, see the data file.</summary>
    [Fact]
    public void Published_bin_packing_instances_reach_their_optimum()
    {
        foreach (var (name, problem, plates) in PublishedPlates.Read("bin_packing.txt", false))
        {
            var solution = FreeSolver.Solve(problem, Longer);
            FreeLayoutVerifier.Faults(problem, solution).Should().BeEmpty(name);
            solution.Cost.Should().Be(plates, name);
            solution.Bound.Should().BeLessThanOrEqualTo(plates, name);
        }
    }

    [Fact]
    public void Same_work_and_seed_give_the_same_plan()
    {
        var problem = PublishedPlates.Read("zero_waste.txt", true).First().Problem;
        var limits = new SolveLimits { Seconds = 60, Work = 100_000, Seed = 3 };
        var (one, two) = (FreeSolver.Solve(problem, limits), FreeSolver.Solve(problem, limits));
        Text(one).Should().Be(Text(two));

        static string Text(PlateSolution s) => string.Join('\n', s.Layouts.Select(l => $"{l.Stock} {l.Count} {string.Join(' ', l.Pieces)}"));
    }

    [Fact]
    public void Searches_side_by_side_give_a_valid_plan_and_report_better_and_better_ones()
    {
        var (_, problem, plates) = PublishedPlates.Read("bin_packing.txt", false).Last();
        var costs = new List<long>();
        var solution = FreeSolver.Solve(problem, new SolveLimits { Seconds = 2, Threads = 2 }, s => costs.Add(s.Cost));
        FreeLayoutVerifier.Faults(problem, solution).Should().BeEmpty();
        solution.Cost.Should().BeGreaterThanOrEqualTo(plates);
        costs.Should().BeInDescendingOrder().And.NotBeEmpty();
        costs[^1].Should().Be(solution.Cost);
    }

    [Fact]
    public void Many_pieces_have_a_plan_at_once()
    {
        var random = new Random(22);
        var problem = new PlateProblem
        {
            Stocks = [.. Enumerable.Range(0, 6).Select(s => new PlateStock(2000 + (500 * s), 1000 + (200 * s), 100 + (60 * s)))],
            Items = [.. Enumerable.Range(0, 150).Select(_ => new PlateItem(random.Next(40, 600), random.Next(40, 500), random.Next(10, 57), true))],
            Kerf = 6,
            Cutting = new PlateCutting { Free = true },
        };
        var first = double.NaN;
        var solution = FreeSolver.Solve(problem, new SolveLimits { Seconds = 60, Work = 1_000_000 }, s => first = double.IsNaN(first) ? s.SecondsToBest : first);
        FreeLayoutVerifier.Faults(problem, solution).Should().BeEmpty();
        first.Should().BeLessThan(10, "well under a second on a quiet machine");
        ((double)solution.Cost).Should().BeLessThan(1.15 * solution.Bound);
    }

    /// <summary>Metamorphic: mirrored axes and scaled lengths change nothing where the outcome is proven.</summary>
    [Fact]
    public void Axes_may_be_swapped_and_lengths_scaled()
    {
        var random = new Random(26);
        var proven = 0;
        for (var job = 0; job < 60; job++)
        {
            var problem = SmallPlateJobs.Next(random);
            const long scale = 750_000_001;
            var other = problem with
            {
                Kerf = problem.Kerf * scale,
                Stocks = [.. problem.Stocks.Select(s => s with
                {
                    SizeX = s.SizeY * scale, SizeY = s.SizeX * scale,
                    KeepOuts = [.. s.KeepOuts.Select(k => new PlateRect(k.Y * scale, k.X * scale, k.SizeY * scale, k.SizeX * scale))],
                })],
                Items = [.. problem.Items.Select(i => i with { SizeX = i.SizeY * scale, SizeY = i.SizeX * scale })],
            };
            var (one, two) = (FreeSolver.Solve(problem, Short), FreeSolver.Solve(other, Short));
            if (one.Status == SolveStatus.Proven && two.Status == SolveStatus.Proven)
            {
                FreeLayoutVerifier.Faults(other, two).Should().BeEmpty();
                two.Cost.Should().Be(one.Cost);
                proven++;
            }
        }

        proven.Should().BeGreaterThan(20);
    }

    [Fact]
    public void A_piece_that_fits_nowhere_is_impossible_and_used_up_plates_too()
    {
        var problem = new PlateProblem
        {
            Stocks = [new PlateStock(10, 10, 1, 2)], Items = [new PlateItem(11, 2, 1, true)], Cutting = new PlateCutting { Free = true },
        };
        FreeSolver.Solve(problem, Short).Status.Should().Be(SolveStatus.Impossible);
        FreeSolver.Solve(problem with { Items = [new PlateItem(6, 6, 3, true)] }, Short).Status.Should().Be(SolveStatus.Impossible);
    }
}
