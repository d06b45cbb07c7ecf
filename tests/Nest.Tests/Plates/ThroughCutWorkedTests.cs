using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve;
using Nest.Solve.Plates;
using Nest.Solve.Plates.ThroughCut;
using Nest.Tests.Makers;

namespace Nest.Tests.Plates;

/// <summary>Worked examples with known answers.</summary>
public class ThroughCutWorkedTests
{
    [Fact]
    public void Sheet_metal_of_Gueret_Prins_and_Sevaux_needs_at_most_the_published_eleven_sheets()
    {
        // Gueret, Prins, Sevaux, Applications of Optimization, "cutting sheet metal" (data by way of a copy of the book's example): 11 sheets
        // are optimal over the 16 patterns listed there; all through-cut patterns can only do better. Area bound 9.
        var plan = Whole(96, 48, (50, 36, 8), (36, 24, 13), (60, 20, 5), (30, 18, 15));
        plan.TotalCost.Amount.Should().BeInRange(9, 11);
        plan.Bound.Value!.Value.Amount.Should().BeGreaterThanOrEqualTo(9);
    }

    [Theory]
    [InlineData(0, 32)]
    [InlineData(1, 21)]
    [InlineData(2, 21)]
    public void Kerf_cliff_in_inches(long sixteenths, int fits)
    {
        // Own arithmetic: 48 x 96 in and blanks of 12 x 12 in, here in sixteenths of an inch.
        Solve(768, 1536, sixteenths, (192, 192, fits)).Cost.Should().Be(1);
        Solve(768, 1536, sixteenths, (192, 192, fits + 1)).Should().BeEquivalentTo(new { Cost = 2L, Status = SolveStatus.Proven });
    }

    [Theory]
    [InlineData(0, 0, 32)]
    [InlineData(3, 0, 32)]
    [InlineData(3, 15, 32)]
    [InlineData(4, 15, 24)]
    public void Kerf_and_trim_cliff_in_millimetres(long kerf, long trim, int fits)
    {
        // Own arithmetic: 1000 x 2000 mm and blanks of 240 x 240 mm.
        Solve(1000 - (2 * trim), 2000 - (2 * trim), kerf, (240, 240, fits)).Cost.Should().Be(1);
        Solve(1000 - (2 * trim), 2000 - (2 * trim), kerf, (240, 240, fits + 1)).Should().BeEquivalentTo(new { Cost = 2L, Status = SolveStatus.Proven });
    }

    [Fact]
    public void A_pinwheel_cannot_be_sawn_from_edge_to_edge()
    {
        // Own check: four 3 x 2 fit 5 x 5 round a hole of 1 x 1, but sawn from edge to edge at most three.
        Solve(5, 5, 0, (3, 2, 3)).Cost.Should().Be(1);
        Whole(5, 5, (3, 2, 4)).Should().BeEquivalentTo(new { TotalCost = Money.FromAmount(2), Status = SolveStatus.Proven });
        var value = PlateValues.Of(new PlateStock(5, 5, 1), 0, [new PlateItem(3, 2, 4, true)], [1], false);
        value.Should().BeEquivalentTo(new { Value = 3L, Bound = 3L });
    }

    [Fact]
    public void What_cannot_fit_is_impossible_and_no_pieces_cost_nothing()
    {
        Solve(10, 10, 0, (11, 2, 1)).Status.Should().Be(SolveStatus.Impossible);
        PlateSolver.Solve(Problem(10, 10, 0), new SolveLimits()).Should().BeEquivalentTo(new { Status = SolveStatus.Proven, Cost = 0L });
    }

    [Fact]
    public void The_rest_of_the_last_plate_is_one_large_rectangle()
    {
        // Ten 100 x 100 on 1000 x 1000 without kerf: a row along an edge leaves 1000 x 900 in one piece.
        var solution = Solve(1000, 1000, 0, (100, 100, 10));
        Rests(solution.Layouts.Single().Tree!).Max().Should().Be(900_000);
    }

    [Fact]
    public void The_same_work_limit_gives_the_same_layouts()
    {
        var problem = Problem(97, 61, 2, (31, 17, 9), (23, 11, 14), (41, 29, 5), (13, 37, 8));
        var limits = new SolveLimits { Seconds = 60, Work = 100_000, Seed = 5 };
        string Text() => string.Join(';', PlateSolver.Solve(problem, limits).Layouts.Select(l => $"{l.Stock} {l.Count} {string.Join(' ', l.Pieces)}"));
        Text().Should().Be(Text());
    }

    private static IEnumerable<long> Rests(PlateNode node) => node.Kind switch
    {
        PlateNodeKind.Rest => [node.Area.SizeX * node.Area.SizeY],
        PlateNodeKind.Split => node.Children.SelectMany(Rests),
        _ => [],
    };

    private static PlateSolution Solve(long x, long y, long kerf, params (long X, long Y, int Demand)[] items)
    {
        var problem = Problem(x, y, kerf, items);
        var solution = PlateSolver.Solve(problem, new SolveLimits { Seconds = 20, Work = 400_000 });
        ThroughCutChecker.Check(problem, solution).Should().BeEmpty();
        return solution;
    }

    /// <summary>The same as a whole job: plates at 1 each, nothing else costs or is worth anything.</summary>
    private static Plan Whole(int length, int width, params (int Length, int Width, int Pieces)[] parts)
    {
        var job = JobMaker.Job(
            parts.Select((part, n) => JobMaker.Part($"P{n}", part.Length, part.Width, 12, part.Pieces, Forms.Plate)),
            [JobMaker.Plate("plate", length, width, 12, 1)],
            JobMaker.PlateSaw with { Kerf = Length.Zero, Trims = default, HourlyRate = 0, ChargePerCut = 0, HandlingMinutes = 0 });
        job = job with
        {
            AllowanceRules = [new() { Allowances = new() }],
            OffcutRules = [],
            Mill = new(),
            Materials = [.. job.Materials.Select(material => material with { ScrapPricePerKilogram = 0 })],
        };
        return JobSolver.Solve(job, BlankSizer.Size(job), new() { Seconds = 60, Work = 300_000, Threads = 1 });
    }

    private static PlateProblem Problem(long x, long y, long kerf, params (long X, long Y, int Demand)[] items) => new()
    {
        Stocks = [new PlateStock(x, y, 1)],
        Items = [.. items.Select(i => new PlateItem(i.X, i.Y, i.Demand, true))],
        Cutting = new PlateCutting(),
        Kerf = kerf,
    };
}
