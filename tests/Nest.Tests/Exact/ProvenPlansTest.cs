using System.Collections.Concurrent;
using Nest.Core.Blanks;
using Nest.Check;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve;
using Nest.Solve.Choose;
using Nest.Solve.Exact;
using Nest.Tests.Choose;
using Nest.Tests.Makers;

namespace Nest.Tests.Exact;

/// <summary>Whole jobs of plates: proven, checked, and at the cheapest that trying everything finds.</summary>
public class ProvenPlansTest
{
    private static readonly SolveLimits Effort = new() { Seconds = 60, Work = 3_000_000 };

    /// <summary>What trying everything finds, worked out once for both tests that ask.</summary>
    private static readonly ConcurrentDictionary<int, Lazy<double?>> Known = new();

    /// <summary>Tiny jobs on tiny plates, so that every plan can be tried.</summary>
    public static IEnumerable<object[]> Seeds => Enumerable.Range(1, 16).Select(seed => new object[] { seed });

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Tiny_jobs_are_proven_at_the_cheapest_of_all_plans(int seed)
    {
        var job = PlateJobs.Tiny(seed, scale: 1);

        var plan = SolverTests.Solve(job, Effort);

        PlanChecker.Check(plan).Should().BeEmpty();
        if (Cheapest(seed) is not { } cheapest)
        {
            plan.Unplaced.Should().NotBeEmpty();
            return;
        }

        plan.Unplaced.Should().BeEmpty();
        plan.Status.Should().Be(SolveStatus.Proven, "cost {0}, bound {1}", plan.TotalCost.Amount, plan.Bound);

        // Offcuts are rounded down to a ten-thousandth each in the plan's cost, and not here.
        ((double)plan.TotalCost.Amount).Should().BeInRange(cheapest - 0.0003, cheapest + 0.005);
        ((double)plan.Bound.Value!.Value.Amount).Should().BeLessThanOrEqualTo(cheapest + 0.0003);
    }

    [Theory]
    [MemberData(nameof(Seeds))]
    public void The_chain_alone_never_claims_more_than_the_cheapest_plan(int seed)
    {
        // Without listing every load at once: values, counts, and loads within a growing gap.
        var job = PlateJobs.Tiny(seed, scale: 1);
        var components = Components.Of(job, BlankSizer.Size(job));
        if (Cheapest(seed) is not { } cheapest || components.Length != 1)
        {
            return;
        }

        var exact = new ExactJob(job, components, tied: false, 1e6);
        Chosen? best = null;
        var search = new ExactSearch(exact, 1, 100, withSettings: false, (plan, _) =>
        {
            var chosen = Surplus.TakeOut(components[0], ExactPlan.ColumnsOf(exact, 0, plan), components[0].Demand.AsSpan());
            best = chosen.IsBetterThan(best) ? chosen : best;
            return best!.MissingCount == 0 ? best.Cost * (double)Grain.PerUnit : double.PositiveInfinity;
        })
        {
            ListsAll = false,
        };
        search.Run(new(60, 5_000_000, default));

        (search.Bound / Grain.PerCurrency).Should().BeLessThanOrEqualTo(cheapest + 0.0003);
        (search.Upper / Grain.PerCurrency).Should().BeInRange(cheapest - 0.0003, cheapest + 0.005, "{0}", string.Join('\n', search.Log));
        search.IsProven.Should().BeTrue("{0}", string.Join('\n', search.Log));
    }

    [Fact]
    public void Without_any_plan_the_search_ends_with_a_bound()
    {
        // Nobody takes its plans, as where a rule that the lists do not see forbids them: the gap up to the best plan is no number then, and once it was an overflow.
        for (var seed = 0; seed < 40; seed++)
        {
            var job = Nest.Judge.Jobs.TinyJobs.Make(seed);
            var blanks = BlankSizer.Size(job);
            var components = Components.Of(job, blanks);
            var exact = new ExactJob(job, components, tied: true, 1e6);
            var search = new ExactSearch(exact, 1, 100, withSettings: false, (_, _) => double.PositiveInfinity) { ListsAll = false };

            search.Run(new(60, 100_000, default));

            search.IsProven.Should().BeFalse("seed {0}", seed);
        }
    }

    [Theory]
    [InlineData(1), InlineData(2), InlineData(5)]
    public void Small_jobs_are_proven(int seed)
    {
        var plan = SolverTests.Solve(PlateJobs.Small(seed), Effort with { Work = 20_000_000 });

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Status.Should().Be(SolveStatus.Proven, "cost {0}, bound {1}", plan.TotalCost.Amount, plan.Bound);
    }

    [Theory]
    [InlineData(10), InlineData(19), InlineData(69)]
    public void Rows_are_laid_so_that_a_raw_edge_stays_on_the_rest(int seed)
    {
        // The order of rows brought a blank to the raw edge: a cut more than the search had counted, and no proof.
        var plan = SolverTests.Solve(PlateJobs.Tiny(seed), Effort);

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Status.Should().Be(SolveStatus.Proven, "cost {0}, bound {1}", plan.TotalCost.Amount, plan.Bound);
    }

    [Fact]
    public void Six_parts_from_a_leftover_are_proven()
    {
        // A leftover of 410 × 230 without trims, six blanks of 100 × 80, kerf 3: two rows of three (3 · 103 ≤ 413, 2 · 83 ≤ 233) leave the rest
        // on one side. What it costs is for the checker; that it is proven is the point.
        var job = JobMaker.Job(
            [JobMaker.Part("A", 100, 80, 11, 6, Forms.Plate)],
            [JobMaker.Plate("rack", 410, 230, 12, 17, 1) with { RackMark = "P1", Supplier = null, CleanEdges = new(true, true, true, true) }]) with
        {
            AllowanceRules = [new() { Allowances = new() }],
        };

        var plan = SolverTests.Solve(job, Effort);

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Status.Should().Be(SolveStatus.Proven);
    }

    [Fact]
    public void Two_threads_find_the_same_plan()
    {
        var job = PlateJobs.Small(7);

        var (one, two) = (SolverTests.Solve(job, Effort), SolverTests.Solve(job, Effort with { Threads = 2 }));

        two.TotalCost.Should().Be(one.TotalCost);
        two.Bound.Should().Be(one.Bound);
        two.Layouts.Select(layout => layout.Pieces.Length).Should().Equal(one.Layouts.Select(layout => layout.Pieces.Length));
    }

    /// <summary>The cheapest plan: every way to share the pieces between the pieces of stock; null when they do not fit.</summary>
    private static double? Cheapest(int seed) => Known.GetOrAdd(seed, own => new(() => Cheapest(PlateJobs.Tiny(own, scale: 1)))).Value;

    private static double? Cheapest(Job job)
    {
        var blanks = BlankSizer.Size(job);
        if (blanks.Any(blank => blank.Fits.IsEmpty))
        {
            return null;
        }

        var components = Components.Of(job, blanks);
        double sum = 0;
        foreach (var component in components)
        {
            var demand = component.Demand.ToArray();
            var costs = new Costs();
            var stocks = new List<int>();
            for (var s = 0; s < component.Stocks.Length; s++)
            {
                stocks.AddRange(Enumerable.Repeat(s, Math.Min(component.Stocks[s].Stock.Available ?? int.MaxValue, demand.Sum())));
            }

            if (Best(component, [.. stocks], 0, demand, costs) is not { } best)
            {
                return null;
            }

            sum += best;
        }

        return sum;
    }

    private static double? Best(Component component, int[] stocks, int at, int[] left, Costs costs)
    {
        if (left.Sum() == 0)
        {
            return 0;
        }

        if (at == stocks.Length)
        {
            return null;
        }

        var best = Best(component, stocks, at + 1, left, costs);
        foreach (var share in PlateOracle.Shares(left).Where(share => share.Sum() > 0))
        {
            var cost = CostOf(component, stocks[at], share, costs);
            if (cost < double.PositiveInfinity && Best(component, stocks, at + 1, [.. left.Zip(share, (all, part) => all - part)], costs) is { } rest)
            {
                best = best is { } known ? Math.Min(known, cost + rest) : cost + rest;
            }
        }

        return best;
    }

    /// <summary>One plate with these pieces, in currency units, by the cost model's rules written anew.</summary>
    private static double CostOf(Component component, int s, int[] load, Costs costs)
    {
        if (costs.Known.TryGetValue((s, string.Join(',', load)), out var known))
        {
            return known;
        }

        var (frame, job) = (component.Stocks[s], component.Job);
        var (stock, saw) = (frame.Stock, frame.Saw);
        var mm = 1_000_000.0;
        double Mm(Length length) => length.Nanometres / mm;
        var minute = (double)saw.HourlyRate / 60;
        var perCut = ((double)saw.HandlingMinutes * minute) + (double)saw.ChargePerCut;
        var perMm = Mm(stock.Thickness) / 100 / (double)saw.RateFor(job.Materials[0].Family) * minute;
        var worth = StockWorth.Of(job, stock);
        var sheet = Mm(frame.Sheet.SizeX) * Mm(frame.Sheet.SizeY);
        var (keep, scrap) = ((double)worth.Keep.Amount / sheet, (double)worth.Scrap.Amount / sheet);
        var trims = frame.Trims;
        var cost = (double)stock.PiecePrice.Amount;
        var inner = Mm(frame.Sheet.SizeX) - Mm(trims.Left) - Mm(trims.Right);
        foreach (var (trim, across) in new[] { (trims.Left, Mm(frame.Sheet.SizeY)), (trims.Right, Mm(frame.Sheet.SizeY)), (trims.Bottom, inner), (trims.Top, inner) })
        {
            cost += trim > Length.Zero ? perCut + (perMm * across) - (scrap * Math.Max(0, Mm(trim) - Mm(saw.Kerf)) * across) : 0;
        }

        var rule = job.OffcutRules[0];
        var shape = new PlateShape((int)Mm(frame.Usable.SizeX), (int)Mm(frame.Usable.SizeY), 1)
        {
            Kerf = (int)Mm(saw.Kerf), Held = (int)Mm(saw.ShortestHeld), Longest = int.MaxValue, FirstCut = saw.FirstCut,
            KeepLong = (int)Mm(rule.KeepLength), KeepShort = (int)Mm(rule.KeepWidth), Prices = new(0, perCut, perMm, keep, scrap),
            Pieces = [.. Enumerable.Range(0, component.Items).Select(i => component.Fits[s, i] is { } fit
                ? new PlatePiece((int)Mm(fit.SizeX), (int)Mm(fit.SizeY), fit.MayTurn, 9, 0) : default)],
        };
        for (var i = 0; i < load.Length; i++)
        {
            cost += load[i] * (component.Fits[s, i] is { } fit ? (double)fit.ExtraCost.Amount : double.PositiveInfinity);
        }

        var held = (trims.Left + trims.Right > Length.Zero && frame.Usable.SizeX < saw.ShortestHeld)
            || (trims.Bottom + trims.Top > Length.Zero && frame.Usable.SizeY < saw.ShortestHeld);
        // The shape of a stock is the same for every load.
        if (!costs.Oracles.TryGetValue(s, out var oracle))
        {
            costs.Oracles[s] = oracle = new(shape);
        }

        cost = held ? double.PositiveInfinity : cost - oracle.Worth(shape.SizeX, shape.SizeY, load, shape.FirstCut);
        return costs.Known[(s, string.Join(',', load))] = double.IsNaN(cost) ? double.PositiveInfinity : cost;
    }

    /// <summary>Of one component: the cost of each load on each stock, and what was found for its plates on the way.</summary>
    private sealed class Costs
    {
        public Dictionary<(int Stock, string Load), double> Known { get; } = [];

        public Dictionary<int, PlateOracle> Oracles { get; } = [];
    }
}
