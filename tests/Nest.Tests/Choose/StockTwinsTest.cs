using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve;
using Nest.Solve.Choose;
using Nest.Tests.Makers;

namespace Nest.Tests.Choose;

public class StockTwinsTest
{
    private static readonly Part Lug = JobMaker.Part("lug", 100, 45, 15, 37, Forms.FlatBar) with { MayTurn = false };

    private static readonly Stock New = JobMaker.Bar("new", 50, 20, 3000, 42);

    private static Stock Rest(int i, decimal price = 4, decimal length = 520) =>
        JobMaker.Bar($"rack {i}", 50, 20, length, price, 1) with { RackMark = $"B{i}", Place = $"bay {i % 3}", Supplier = null };

    private static StockTwins Twins(Job job) => StockTwins.Of(job, BlankSizer.Size(job));

    [Fact]
    public void Leftovers_alike_in_all_but_mark_and_place_are_one_kind()
    {
        var job = JobMaker.Job([Lug], [Rest(1), New, .. Enumerable.Range(2, 25).Select(i => Rest(i))]);
        var twins = Twins(job);

        twins.Merged.Stocks.Select(stock => (stock.Id, stock.Available)).Should().Equal(("rack 1", 26), ("new", null));
        twins.MergedBlanks[0].Fits.Select(fit => fit.StockId).Should().Equal("rack 1", "new");
        twins.Job.Should().BeSameAs(job);
    }

    /// <summary>Only one of two free leftovers is used, but the bound at scrap value has the saving of both taken off.</summary>
    [Fact]
    public void A_plan_from_leftovers_below_their_scrap_value_is_proven()
    {
        Stock Free(string id, decimal length) => JobMaker.Plate(id, length, 90, 20, 0, 1) with { RackMark = id, Supplier = null };
        var job = JobMaker.Job([JobMaker.Part("cap", 60, 40, 15, 1)], [Free("A", 120), Free("B", 150)]) with
        {
            Materials = [JobMaker.Aluminium with { ScrapPricePerKilogram = 2 }],
        };
        Twins(job).IsRaised.Should().BeTrue();

        var plan = JobSolver.Solve(job, BlankSizer.Size(job), new() { Seconds = 60, Work = 200_000 });

        plan.Status.Should().Be(SolveStatus.Proven);
        plan.Layouts.Should().ContainSingle();
    }

    [Fact]
    public void What_differs_in_anything_a_plan_could_see_stays_apart()
    {
        Rect[] hole = [new(JobMaker.Mm(100), JobMaker.Mm(100), JobMaker.Mm(20), JobMaker.Mm(20))];
        var plate = JobMaker.Plate("p", 700, 400, 20, 18, 1) with { RackMark = "P", Supplier = null };
        Stock[] different =
        [
            Rest(1), Rest(2, price: 4.01m), Rest(3, length: 521), Rest(4) with { CleanEdges = new(true, false, false, false) },
            Rest(5) with { GoodFaces = true }, Rest(6) with { MinWidth = JobMaker.Mm(49) },
            plate with { Id = "p1" }, plate with { Id = "p2", KeepOuts = [.. hole] }, JobMaker.Plate("p3", 700, 400, 20, 18, 1),
            JobMaker.Bar("b4", 50, 20, 520, 4, 1), JobMaker.Bar("b5", 50, 20, 520, 4, 1),
        ];
        var job = JobMaker.Job([Lug, JobMaker.Part("cap", 60, 40, 15, 3)], different);

        Twins(job).Merged.Should().BeSameAs(job);

        // Two holes in the same place are alike; bought pieces never are, since an order may have terms.
        var pair = JobMaker.Job([JobMaker.Part("cap", 60, 40, 15, 3)], [plate with { Id = "p2", KeepOuts = [.. hole] }, plate with { Id = "p3", KeepOuts = [.. hole] }]);
        Twins(pair).Merged.Stocks.Should().ContainSingle().Which.Available.Should().Be(2);
    }

    [Fact]
    public void A_part_that_only_one_of_them_serves_keeps_them_apart()
    {
        var job = JobMaker.Job([Lug], [Rest(1), Rest(2)]);
        var blanks = BlankSizer.Size(job);
        var only = blanks[0] with { Fits = [.. blanks[0].Fits.Where(fit => fit.StockId == "rack 2")] };

        StockTwins.Of(job, [only]).Merged.Should().BeSameAs(job);
    }

    [Fact]
    public void Each_piece_is_cut_once_under_its_own_mark_the_first_ones_first()
    {
        // 520 mm, trimmed by 10 at both ends, holds (500 + 2.5) / (102 + 2.5) = 4: 37 lugs take nine rests and one lug more. By hand.
        var plan = SolverTests.Solve(JobMaker.Job([Lug], [New, .. Enumerable.Range(1, 12).Select(i => Rest(i))]));

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Status.Should().Be(SolveStatus.Proven);
        plan.Unplaced.Should().BeEmpty();
        plan.Layouts.Should().OnlyContain(layout => layout.Count == 1);
        plan.Layouts.Select(layout => layout.StockId).Should().Equal(Enumerable.Range(1, 10).Select(i => $"rack {i}"));
        plan.Job.Stocks.Should().HaveCount(13);
    }

    [Theory]
    [InlineData(51, 2), InlineData(57, 3), InlineData(53, 5), InlineData(54, 4), InlineData(55, 3)]
    public void Merged_or_not_the_cheapest_plan_costs_the_same(int seed, int pieces)
    {
        var job = JobMaker.Random(seed, plates: false, most: 4);
        var rest = job.Stocks.Single(stock => stock.IsLeftover);
        var others = job.Stocks.Remove(rest);
        var twins = Enumerable.Range(1, pieces).Select(i => rest with { Id = $"r{i}", RackMark = $"R{i}" }).ToList();
        var alike = job with { Stocks = [.. others, .. twins] };

        // What is said of the source of the sizes decides nothing, but keeps pieces apart.
        var apart = job with { Stocks = [.. others, .. twins.Select(stock => stock with { Source = stock.Id })] };
        var effort = new SolveLimits { Seconds = 60, Work = 3_000_000 };
        var (one, other) = (SolverTests.Solve(alike, effort), SolverTests.Solve(apart, effort));

        Twins(apart).Merged.Should().BeSameAs(apart);
        Twins(alike).Merged.Should().NotBeSameAs(alike);
        PlanChecker.Check(one).Should().BeEmpty();
        one.Layouts.Where(layout => layout.StockId.StartsWith('r')).Select(layout => layout.StockId).Should().OnlyHaveUniqueItems();
        (one.Status, other.Status).Should().Be((SolveStatus.Proven, SolveStatus.Proven));
        one.TotalCost.Should().Be(other.TotalCost);
    }
}
