using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Plates;
using Nest.Solve.Plates.ThroughCut;

namespace Nest.Tests.Plates;

/// <summary>Laws between related jobs: a job with more freedom has a bound that no plan of the stricter job undercuts, and where both are
/// proven it is never dearer.</summary>
public class ThroughCutLawsTests
{
    private const int Jobs = 12;

    [Fact]
    public void Turning_never_costs_more() => Law(
        p => p with { Items = [.. p.Items.Select(i => i with { MayTurn = true })] }, p => p with { Items = [.. p.Items.Select(i => i with { MayTurn = false })] });

    [Fact]
    public void More_stages_never_cost_more()
    {
        Law(p => p with { Cutting = new PlateCutting { Stages = 3 } }, p => p with { Cutting = new PlateCutting { Stages = 2 } });
        Law(p => p with { Cutting = new PlateCutting() }, p => p with { Cutting = new PlateCutting { Stages = 3 } });
    }

    [Fact]
    public void A_trimming_cut_never_costs_more() => Law(
        p => p with { Cutting = new PlateCutting { Stages = 2, TrimmingCut = true } }, p => p with { Cutting = new PlateCutting { Stages = 2 } });

    [Fact]
    public void A_given_first_cut_is_never_cheaper() => Law(p => p, p => p with { Cutting = new PlateCutting { FirstCut = CutDirection.Rip } });

    [Fact]
    public void A_keep_out_is_never_cheaper() => Law(
        p => p, p => p with { Stocks = [.. p.Stocks.Select(s => s with { KeepOuts = [new PlateRect(s.SizeX / 2, s.SizeY / 3, 5, 7)] })] });

    [Fact]
    public void A_thicker_kerf_is_never_cheaper() => Law(p => p, p => p with { Kerf = p.Kerf + 2 });

    [Fact]
    public void One_more_stock_is_never_dearer() => Law(p => p with { Stocks = [.. p.Stocks, new PlateStock(70, 70, 61)] }, p => p);

    [Fact]
    public void Scaled_lengths_cost_the_same()
    {
        var random = new Random(99);
        for (var n = 0; n < 4; n++)
        {
            var problem = Job(random);
            var scaled = problem with
            {
                Stocks = [.. problem.Stocks.Select(s => s with { SizeX = s.SizeX * 1000, SizeY = s.SizeY * 1000 })],
                Items = [.. problem.Items.Select(i => i with { SizeX = i.SizeX * 1000, SizeY = i.SizeY * 1000 })],
                Kerf = problem.Kerf * 1000,
            };
            var (a, b) = (Solve(problem), Solve(scaled));
            a.Bound.Should().BeLessThanOrEqualTo(b.Cost);
            b.Bound.Should().BeLessThanOrEqualTo(a.Cost);
        }
    }

    [Fact]
    public void Priced_layouts_can_be_sawn_and_stay_below_their_bound()
    {
        var random = new Random(2718);
        for (var n = 0; n < 12; n++)
        {
            var job = Job(random);
            var stages = n % 4 == 0 ? 2 : n % 4 == 1 ? 3 : (int?)null;
            var cutting = new PlateCutting { Stages = stages, TrimmingCut = n % 2 == 0 };
            var pricer = new ThroughCutPricer(job.Stocks[0], cutting, job.Kerf, job.Items);
            var values = job.Items.Select(i => (i.SizeX * i.SizeY * 100) + random.Next(2000)).ToArray();
            var priced = pricer.Price(values, 5, 1500, thorough: true);
            priced.Layouts.Should().NotBeEmpty();
            foreach (var (layout, value) in priced.Layouts)
            {
                ThroughCutChecker.CheckLayout(job with { Cutting = cutting }, layout).Should().BeEmpty();
                layout.Pieces.Sum(p => values[p.Item]).Should().Be(value);
                layout.Pieces.GroupBy(p => p.Item).Should().OnlyContain(g => g.Count() <= job.Items[g.Key].Demand);
                value.Should().BeLessThanOrEqualTo(priced.UpperBound);
            }

            // An exact search of any depth encloses it from the other side.
            var exact = PlateValues.Of(job.Stocks[0], job.Kerf, job.Items, [.. values], false, 2_000_000);
            priced.Layouts[0].Value.Should().BeLessThanOrEqualTo(exact.Bound);
            if (stages is null)
            {
                exact.Value.Should().BeLessThanOrEqualTo(priced.UpperBound);
                ((double)priced.Layouts[0].Value).Should().BeGreaterThan(0.95 * exact.Value);
            }
        }
    }

    [Fact]
    public void The_verifier_sees_every_broken_layout()
    {
        var problem = Job(new Random(31)) with { Kerf = 2, Cutting = new PlateCutting { Stages = 3, TrimmingCut = true } };
        var solution = Solve(problem);
        ThroughCutChecker.Check(problem, solution).Should().BeEmpty();
        ThroughCutChecker.Check(problem with { Kerf = 3 }, solution).Should().NotBeEmpty("the kerf is thicker");
        ThroughCutChecker.Check(problem, solution with { Cost = solution.Cost + 1 }).Should().NotBeEmpty("the cost is wrong");
        ThroughCutChecker.Check(problem, solution with { Layouts = solution.Layouts[1..] }).Should().NotBeEmpty("pieces are missing");
        ThroughCutChecker.Check(problem with { Cutting = new PlateCutting { Stages = 1 } }, solution).Should().NotBeEmpty("one stage is too few");
        ThroughCutChecker.Check(problem with { Cutting = problem.Cutting with { LargestCut = 20 } }, solution).Should().NotBeEmpty("cuts are long");
        var first = solution.Layouts[0];
        var keep = problem with { Stocks = [.. problem.Stocks.Select(s => s with { KeepOuts = [first.Pieces[0].Area] })] };
        ThroughCutChecker.Check(keep, solution).Should().NotBeEmpty("a piece lies on a keep-out");
        var moved = first with { Tree = Move(first.Tree!) };
        ThroughCutChecker.CheckLayout(problem, moved).Should().NotBeEmpty("a node was moved");

        static PlateNode Move(PlateNode node) => node.Kind == PlateNodeKind.Split
            ? node with { Children = node.Children.SetItem(0, Move(node.Children[0])) }
            : node with { Area = node.Area with { X = node.Area.X + 1 } };
    }

    private static void Law(Func<PlateProblem, PlateProblem> looser, Func<PlateProblem, PlateProblem> stricter)
    {
        var random = new Random(1234);
        for (var n = 0; n < Jobs; n++)
        {
            var job = Job(random);
            var (a, b) = (Solve(looser(job)), Solve(stricter(job)));
            if (b.Status is SolveStatus.Impossible or SolveStatus.NotFound)
            {
                continue;
            }

            a.Bound.Should().BeLessThanOrEqualTo(b.Cost, $"job {n}");
            if (a.Status == SolveStatus.Proven && b.Status == SolveStatus.Proven)
            {
                a.Cost.Should().BeLessThanOrEqualTo(b.Cost, $"job {n}");
            }
        }
    }

    private static PlateSolution Solve(PlateProblem problem)
    {
        var solution = PlateSolver.Solve(problem, new SolveLimits { Seconds = 20, Work = 40_000 });
        ThroughCutChecker.Check(problem, solution).Should().BeEmpty();
        return solution;
    }

    private static PlateProblem Job(Random random) => new()
    {
        Stocks = [new PlateStock(random.Next(60, 110), random.Next(60, 110), 100), new PlateStock(random.Next(60, 90), random.Next(60, 90), 70)],
        Items = Enumerable.Range(0, random.Next(3, 9))
            .Select(_ => new PlateItem(random.Next(8, 50), random.Next(8, 50), random.Next(1, 6), random.Next(2) == 0))
            .ToImmutableArray(),
        Cutting = new PlateCutting(),
        Kerf = random.Next(0, 4),
    };
}
