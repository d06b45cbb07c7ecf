using Nest.Solve;
using Nest.Solve.Plates;
using Nest.Solve.Plates.Free;

namespace Nest.Tests.Plates.Free;

/// <summary>One plate for all pieces: the exact packer and the skyline against every whole position of every piece.</summary>
public class ExactPlateTests
{
    [Fact]
    public void A_plate_is_packed_exactly_when_brute_force_packs_it()
    {
        var random = new Random(20261125);
        var (packed, not) = (0, 0);
        for (var n = 0; n < 150; n++)
        {
            var problem = SmallPlateJobs.Next(random);
            problem = problem with { Stocks = [problem.Stocks[0] with { Limit = 1, Cost = 1 }], PieceCost = null };
            var model = new FreeModel(problem);
            var kinds = Enumerable.Range(0, model.Kinds).SelectMany(k => Enumerable.Repeat(k, model.Demand[k])).ToList();
            if (kinds.Any(k => !model.Allowed[0, k]))
            {
                continue;
            }

            var placed = ExactPlate.Pack(model, model.Stocks[0], kinds, 5, new FreeBudget(new SolveLimits { Seconds = 60, Work = 60_000_000 }, CancellationToken.None));

            (placed is not null).Should().Be(FreeBruteForce.Cost(problem) is not null, "job {0}", n);
            if (placed is null)
            {
                not++;
                continue;
            }

            packed++;
            Faults(model, placed).Should().BeEmpty("job {0}", n);
        }

        packed.Should().BeGreaterThan(30);
        not.Should().BeGreaterThan(10);
    }

    /// <summary>A perfect packing of the folder's published set: Hopper and Turton, EJOR 128 (2001), C1_1 (16 pieces, 20 × 20).</summary>
    [Fact]
    public void The_skyline_never_overlaps_and_finds_a_published_perfect_packing_with_the_search()
    {
        (long X, long Y)[] pieces =
        [
            (2, 12), (7, 12), (8, 6), (3, 6), (3, 5), (5, 5), (3, 12), (3, 7), (5, 7), (2, 6), (3, 2), (4, 2), (3, 4), (4, 4), (9, 2), (11, 2),
        ];
        pieces.Sum(p => p.X * p.Y).Should().Be(400);
        var problem = new PlateProblem
        {
            Stocks = [new PlateStock(20, 20, 1, null)], Items = [.. pieces.Select(p => new PlateItem(p.X, p.Y, 1, true))], Cutting = new PlateCutting { Free = true },
        };

        var solution = PlateSolver.Solve(problem, new SolveLimits { Seconds = 600, Work = 8_000_000 });

        solution.Cost.Should().Be(1);
        FreeLayoutVerifier.Faults(problem, solution).Should().BeEmpty();
    }

    [Fact]
    public void The_skyline_places_only_what_fits()
    {
        var random = new Random(8);
        for (var n = 0; n < 200; n++)
        {
            var problem = SmallPlateJobs.Next(random) with { PieceCost = null };
            problem = problem with { Stocks = [problem.Stocks[0] with { Limit = 1, KeepOuts = [] }] };
            var model = new FreeModel(problem);
            var filler = new PlateFiller(model);
            var copies = model.Demand.ToArray();

            filler.Fill(model.Stocks[0], [.. Enumerable.Range(0, model.Kinds)], copies, FillRule.Skyline);

            Faults(model, filler.Placed.ToArray()).Should().BeEmpty("job {0}", n);
            for (var k = 0; k < model.Kinds; k++)
            {
                (copies[k] + filler.Placed.ToArray().Count(p => p.Kind == k)).Should().Be(model.Demand[k]);
                (copies[k] < model.Demand[k] || !model.Allowed[0, k] || filler.Count > 0).Should().BeTrue("a lone piece finds its place");
            }
        }
    }

    /// <summary>The independent checker sees only the layout: demand is what was placed.</summary>
    private static List<string> Faults(FreeModel model, FreePlaced[] placed)
    {
        if (placed.Length == 0)
        {
            return [];
        }

        var layout = FreePlan.Layout(model, FreePlate.From(model, 0, placed), 1);
        var problem = model.Problem with
        {
            Items = [.. model.Problem.Items.Select((item, k) => item with { Demand = placed.Count(p => p.Kind == k) })],
        };
        return FreeLayoutVerifier.Faults(problem, new PlateSolution
        {
            Status = Core.Plans.SolveStatus.BestFound, Layouts = [layout], Cost = problem.Stocks[0].Cost, Bound = 0,
        });
    }
}
