using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Solve;
using Nest.Solve.Choose;
using Nest.Tests.Makers;

namespace Nest.Tests.Choose;

/// <summary>Plates by what they truly cost: the same pieces, costs as the cost model has them, cheaper plans.</summary>
public sealed class PlateAnnealingTest
{
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Many_kinds_become_cheaper_and_every_piece_is_still_there(int seed)
    {
        var (component, plan) = Start(PlateJobs.Large(seed));

        var better = PlateAnnealing.Run(component, component.Groups.Single(), plan, Available(component), new() { Seconds = 3600, Work = 400_000 }, double.PositiveInfinity, default);

        for (var i = 0; i < component.Items; i++)
        {
            better.Sum(one => one.Count * one.Column.Counts[i]).Should().Be(component.Demand[i]);
        }

        foreach (var (column, count) in better.GroupBy(one => one.Column.Stock).Select(group => (group.First().Column, group.Sum(one => one.Count))))
        {
            count.Should().BeLessThanOrEqualTo(component.Stocks[column.Stock].Stock.Available ?? int.MaxValue);
        }

        // Reached in November 2026: 1 to 3 % less than the start plan.
        better.Sum(one => one.Count * one.Column.Cost).Should().BeLessThan(plan.Cost * 995 / 1000);
    }

    [Fact]
    public void What_steers_it_is_what_the_cost_model_says()
    {
        var compared = 0;
        foreach (var job in Enumerable.Range(1, 12).Select(PlateJobs.Small).Append(PlateJobs.Large(1)))
        {
            var (component, plan) = Start(job);
            foreach (var (own, column) in plan.Columns.Select(one => (PlateAnnealing.CostOf(component, one.Column), one.Column)).Where(one => one.Item1 is not null))
            {
                // A rest's worth is rounded down to a ten-thousandth each, the saw's cost to the nearest. Raw edges at the right and the top are cut off only now and then, and
                // make some cuts a little longer.
                var exact = component.Stocks[column.Stock].Trims is { Right.Nanometres: 0, Top.Nanometres: 0 };
                own!.Value.Layout.Should().BeApproximately(column.Cost, exact ? 1 + column.Layout.Offcuts.Length : column.Cost / 25.0);
                compared += exact ? 1 : 0;
            }
        }

        compared.Should().BeGreaterThan(10);
    }

    [Fact]
    public void Its_settings_are_nearly_those_of_the_order_of_cuts()
    {
        var (off, all, compared) = (0, 0, 0);
        foreach (var seed in Enumerable.Range(1, 12))
        {
            var job = PlateJobs.Shop(seed);
            var (component, plan) = Start(job);
            var one = SettingCosts.One(job.Saws.Single());
            foreach (var column in plan.Columns.Select(entry => entry.Column))
            {
                if (PlateAnnealing.CostOf(component, column) is { } own)
                {
                    var counted = (int)(column.SetUp(component) / one.Units);
                    off += Math.Abs(counted - (int)Math.Round(own.Settings / one.Units));
                    (all, compared) = (all + counted, compared + 1);
                }
            }
        }

        // Trims at the right and the top, what is carried from level to level, and what the clamp cannot hold.
        compared.Should().BeGreaterThan(15);
        off.Should().BeLessThan(all / 10);
    }

    /// <summary>Piece by piece the largest rest was spared, which gave stairs of short strips with a cut and a setting for nearly each of them. Reached on 30 November 2026: 0.890, 0.894 and 0.815 of the start plan;
    /// piece by piece 0.981, 0.991 and 0.930.</summary>
    [Theory]
    [InlineData(2, 0.91)]
    [InlineData(6, 0.91)]
    [InlineData(8, 0.83)]
    public void Equal_pieces_are_cut_in_rows(int seed, double most)
    {
        var (component, plan) = Start(PlateJobs.Shop(seed));

        var better = PlateAnnealing.Run(component, component.Groups.Single(), plan, Available(component), new() { Seconds = 3600, Work = 4_000_000 }, double.PositiveInfinity, default, withSettings: true);

        Enumerable.Range(0, component.Items).Select(i => better.Sum(one => one.Count * one.Column.Counts[i])).Should().Equal(component.Demand);
        Cost(component, better).Should().BeLessThan(most * Cost(component, plan.Columns));
    }

    [Fact]
    public void Few_plates_are_exchanged_for_others_where_that_is_cheaper()
    {
        // From two small plates no step leads to the large one: it costs more before they are empty.
        (int Length, int Width, int Pieces)[] sizes = [(109, 60, 4), (106, 44, 6), (248, 36, 8), (284, 62, 10), (106, 95, 6)];
        var job = PlateJobs.Shop(2) with
        {
            Parts = [.. sizes.Select((size, i) => JobMaker.Part($"P{i}", size.Length, size.Width, 12, size.Pieces, Forms.Plate) with { MayTurn = true })],
            Stocks = [JobMaker.Plate("1000x500", 1000, 500, 12, 104), JobMaker.Plate("500x500", 500, 500, 12, 57)],
            AllowanceRules = [new() { Allowances = new() }],
        };
        var (component, plan) = Start(job, stock => string.Equals(stock.Id, "500x500", StringComparison.Ordinal));

        var (same, any) = (Run(Available(component, stock => string.Equals(stock.Id, "500x500", StringComparison.Ordinal))), Run(Available(component)));

        same.Should().OnlyContain(one => string.Equals(component.Stocks[one.Column.Stock].Stock.Id, "500x500", StringComparison.Ordinal)).And.NotBeEmpty();
        any.Should().ContainSingle(one => string.Equals(component.Stocks[one.Column.Stock].Stock.Id, "1000x500", StringComparison.Ordinal)).And.HaveCount(1);
        Cost(component, any).Should().BeLessThan(0.97 * Cost(component, same));

        ImmutableArray<(Column Column, int Count)> Run(int?[] open) =>
            PlateAnnealing.Run(component, component.Groups.Single(), plan, open, new() { Seconds = 3600, Work = 4_000_000 }, double.PositiveInfinity, default, withSettings: true);
    }

    /// <summary>It kept the sheets that looked best to it, with hopes for their rests: from 293.17 it came back with 297.51.</summary>
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void A_plan_never_becomes_dearer(int seed)
    {
        var (component, start) = Start(PlateJobs.Shop(4));
        var plan = Again(component, start, seed, 2_000_000);

        var again = Again(component, plan, seed, 2_000_000);

        // What the search takes settings to be differs now and then from what the order of cuts takes.
        Cost(component, again.Columns).Should().BeLessThanOrEqualTo(1.002 * Cost(component, plan.Columns));
    }

    [Fact]
    public void From_empty_plates_a_plan_is_found_to_which_no_step_leads()
    {
        var (component, start) = Start(PlateJobs.Shop(10));
        var plan = Again(component, start, 1, 2_000_000);

        var (again, anew) = (Again(component, plan, 1, 2_000_000), Again(component, plan, 1, 2_000_000, anew: true));

        anew.MissingCount.Should().Be(0);
        Cost(component, anew.Columns).Should().BeLessThan(0.99 * Cost(component, again.Columns));
    }

    [Fact]
    public void Broken_off_before_all_pieces_are_on_empty_plates_the_plan_stays()
    {
        var (component, start) = Start(PlateJobs.Shop(10));

        var anew = Again(component, start, 1, 1, anew: true);

        anew.MissingCount.Should().Be(0);
        Cost(component, anew.Columns).Should().BeLessThanOrEqualTo(Cost(component, start.Columns));
    }

    [Fact]
    public void With_a_limit_of_work_the_plan_does_not_depend_on_the_number_of_threads()
    {
        var job = PlateJobs.Large(2);
        var plans = new[] { 1, 2 }.Select(threads => JobSolver.Solve(job, BlankSizer.Size(job), new() { Seconds = 3600, Work = 3000, Threads = threads })).ToList();

        plans[1].TotalCost.Should().Be(plans[0].TotalCost);
        plans[1].Bound.Should().Be(plans[0].Bound);
        plans[1].Layouts.Select(layout => string.Join(' ', layout.Pieces)).Should().Equal(plans[0].Layouts.Select(layout => string.Join(' ', layout.Pieces)));
    }

    private static Chosen Again(Component component, Chosen plan, int seed, long work, bool anew = false) => Surplus.TakeOut(
        component, PlateAnnealing.Run(component, component.Groups.Single(), plan, Available(component), new() { Seconds = 3600, Work = work, Seed = seed }, double.PositiveInfinity, default, withSettings: true, anew),
        component.Demand.AsSpan());

    private static double Cost(Component component, IEnumerable<(Column Column, int Count)> columns) => columns.Sum(entry => (entry.Column.Cost * entry.Count) + entry.Column.SetUp(component));

    private static int?[] Available(Component component, Func<Stock, bool>? open = null) => [.. component.Stocks.Select(frame => open?.Invoke(frame.Stock) == false ? 0 : frame.Stock.Available)];

    private static (Component Component, Chosen Plan) Start(Job job, Func<Stock, bool>? open = null)
    {
        var component = Components.Of(job, BlankSizer.Size(job)).First(one => one.Groups.Any(group => !group.IsBar));
        var found = new ComponentFindings(component, [.. component.Demand], (_, _) => { });
        var limits = new SolveLimits { Seconds = 3600, Work = 100_000 };
        new SplitSearch(component, found, limits, new(1), () => 3600, () => false, default).Start(() => Available(component, open), 50_000);
        return (component, found.Best!);
    }
}
