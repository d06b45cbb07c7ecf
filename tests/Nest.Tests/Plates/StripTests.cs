using System.Collections.Immutable;
using Google.OrTools.Algorithms;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Plates;
using Nest.Solve.Plates.ThroughCut;

namespace Nest.Tests.Plates;

/// <summary>Dense strips: the knapsack against a general-purpose solver, sheets against the independent checker.</summary>
public class StripTests
{
    /// <summary>Strips of equal breadth are a knapsack. Outside check: the knapsack solver of Google OR-Tools (branch and bound).</summary>
    [Fact]
    public void A_strip_of_equal_breadths_is_the_optimal_knapsack()
    {
        var random = new Random(4711);
        for (var n = 0; n < 40; n++)
        {
            var items = Enumerable.Range(0, random.Next(2, 12))
                .Select(_ => new PlateItem(random.Next(11, 90), 10, random.Next(1, 6), false)).ToImmutableArray();
            var model = new ThroughModel(new PlateProblem
            {
                Stocks = [new PlateStock(random.Next(150, 400), 10, 1, null)], Items = items, Cutting = new PlateCutting(),
            });
            var values = items.Select(_ => (double)random.Next(1, 100)).ToArray();

            var strip = new StripMaker(model, 0, CutSheet.Along).Make(10, values, model.Demand)!;

            using var solver = new KnapsackSolver(KnapsackSolver.SolverType.KNAPSACK_MULTIDIMENSION_BRANCH_AND_BOUND_SOLVER, "strip");
            var copies = items.SelectMany((item, i) => Enumerable.Repeat((Value: (long)values[i], Size: item.SizeX), item.Demand)).ToArray();
            var sizes = new long[1, copies.Length];
            for (var c = 0; c < copies.Length; c++)
            {
                sizes[0, c] = copies[c].Size;
            }

            solver.Init([.. copies.Select(c => c.Value)], sizes, [model.StockWidth[0]]);
            strip.Value.Should().Be(solver.Solve(), "job {0}", n);
        }
    }

    /// <summary>Where little metal is wanted no strip is worth making, and a turn does nothing. That has to be told: a limit of work alone never ended the turns, and a limit of time
    /// went by with them. Found by the long run (between seeds 77 400 and 77 499).</summary>
    [Fact]
    public void A_turn_that_has_nothing_to_do_says_so()
    {
        var problem = new PlateProblem
        {
            Stocks = [new PlateStock(100, 100, 100, null)], Items = [new PlateItem(20, 30, 1, true)], Cutting = new PlateCutting(),
        };
        var model = new ThroughModel(problem);
        var search = new RuinRecreate(model, 1);
        search.Start([], long.MaxValue / 8);
        search.Construct(0).Should().BeTrue();
        var best = new CutPlan(model, search.Current.Where(sheet => sheet.Pieces > 0));
        var budget = new SearchBudget(new SolveLimits { Work = 1000, Seconds = 3600 });

        new StripSearch(model, new CostSteps(model), 1, 1).Turn(best, budget, 0.5, out var left).Should().BeNull();

        left.Should().BeFalse();
        budget.Used.Should().BeLessThan(0.5);
    }

    /// <summary>Several copies, stacked columns and two kinds in a column: what is promised is on the sheet, no more than is wanted, and
    /// the saw can cut it.</summary>
    [Theory]
    [InlineData(null, false, null)]
    [InlineData(3, false, null)]
    [InlineData(3, true, CutDirection.Rip)]
    [InlineData(2, true, CutDirection.Crosscut)]
    [InlineData(2, false, null)]
    public void Sheets_of_strips_obey_the_saw_and_the_demand(int? stages, bool trimming, CutDirection? first)
    {
        var random = new Random(99);
        var sheetsSeen = 0;
        for (var n = 0; n < 25; n++)
        {
            var problem = new PlateProblem
            {
                Stocks =
                [
                    new PlateStock(random.Next(600, 1000), random.Next(400, 700), 100, null),
                    new PlateStock(random.Next(300, 600), random.Next(200, 400), 30, random.Next(1, 3)),
                ],
                Items = [.. Enumerable.Range(0, random.Next(3, 9)).Select(_ => new PlateItem(random.Next(30, 220), random.Next(20, 160), random.Next(1, 25), random.Next(3) > 0))],
                Kerf = random.Next(0, 4),
                Cutting = new PlateCutting { Stages = stages, TrimmingCut = trimming, FirstCut = first },
            };
            var model = new ThroughModel(problem);
            var sheets = new StripPlan(model, 5).Build(model.Area, 0, () => false);

            var counts = new int[model.ItemCount];
            foreach (var sheet in sheets)
            {
                sheet.AddCounts(counts);
                ThroughCutChecker.CheckLayout(problem, LayoutBuilder.Build(model, sheet, 1)).Should().BeEmpty("job {0}", n);
            }

            counts.Zip(model.Demand).Should().OnlyContain(pair => pair.First <= pair.Second);
            sheets.GroupBy(s => s.Stock).Should().OnlyContain(g => g.Count() <= model.StockLimit[g.Key]);
            sheetsSeen += sheets.Count;
        }

        sheetsSeen.Should().BeGreaterThan(25);
    }

    /// <summary>No limit of time, but of work: two threads give the same plan again.</summary>
    [Fact]
    public void With_a_limit_of_work_two_threads_give_the_same_plan_again()
    {
        var random = new Random(3);
        var problem = new PlateProblem
        {
            Stocks = [new PlateStock(1500, 1000, 960, null), new PlateStock(2000, 1000, 1240, null), new PlateStock(700, 420, 70, 1)],
            Items = [.. Enumerable.Range(0, 14).Select(_ => new PlateItem(random.Next(60, 420), random.Next(40, 300), random.Next(4, 20), true))],
            Kerf = 3,
            Cutting = new PlateCutting(),
        };
        var limits = new SolveLimits { Seconds = 600, Work = 1_500_000, Threads = 2 };

        var first = PlateSolver.Solve(problem, limits);
        var again = PlateSolver.Solve(problem, limits);

        again.Cost.Should().Be(first.Cost);
        Told(again).Should().Be(Told(first));
        ThroughCutChecker.Check(problem, first).Should().BeEmpty();
        first.Bound.Should().BeLessThanOrEqualTo(first.Cost);

        static string Told(PlateSolution solution) => string.Join('\n', solution.Layouts.Select(l =>
            $"{l.Stock} {l.Count} {string.Join(';', l.Pieces.Select(p => $"{p.Item} {p.Turned} {p.Area}"))}"));
    }
}
