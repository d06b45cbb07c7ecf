using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Choose;
using Nest.Tests.Ordering;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Choose;

/// <summary>The bound that learns what plates hold and when an offcut can be kept, and the plans made of it, against trying
/// everything.</summary>
public sealed class LayoutCapsTest
{
    public static TheoryData<int> Seeds => [.. Enumerable.Range(1, 120)];

    public static TheoryData<int> PlateSeeds => [.. Enumerable.Range(1, 60)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void Bound_and_plan_lie_on_their_sides_of_what_trying_everything_finds(int seed)
    {
        var job = SmallOrders.Random(seed);
        if (OrderBruteForce.Least(seed) is not { } least)
        {
            return;
        }

        var blanks = BlankSizer.Size(job);
        var lowest = Components.Of(Scenario.AllAtLowest(job), blanks);
        var plans = new RelaxedPlans(job, Components.Of(job, blanks), lowest, new() { Seconds = 60, Work = 20_000 }, 0, default);

        plans.Run(() => { });

        plans.Bound.Value!.Value.Units.Should().BePositive().And.BeLessThanOrEqualTo(least);
        if (plans.Best is { Cost: { } cost, Missing: 0 })
        {
            cost.Units.Should().BeGreaterThanOrEqualTo(least);
        }
    }

    [Theory]
    [MemberData(nameof(PlateSeeds))]
    public void Bound_with_kept_offcuts_and_costly_cuts_is_not_above_the_cheapest_way_to_cut_one_plate(int seed)
    {
        // The only stock is one plate, so all blanks come from it; sizes are whole centimetres, as is the kerf.
        var random = new Random(seed);
        var (length, width) = (random.Next(7, 11), random.Next(6, 9));
        int[][] sizes = [[random.Next(2, 5), random.Next(1, 4)], [random.Next(1, 4), random.Next(1, 3)]];
        int[] wanted = [random.Next(1, 4), random.Next(0, 3)];
        var saw = PlateSaw with
        {
            Kerf = Mm(10),
            Trims = default,
            ShortestHeld = Length.Zero,
            LargestCut = null,
            HourlyRate = random.Next(10, 60),
            HandlingMinutes = 1,
            ChargePerCut = random.Next(0, 2) * 0.5m,
            Stages = null,
            FirstCut = null,
        };
        var job = Job(
            [.. sizes.Select((size, i) => Part($"P{i}", size[0] * 10, size[1] * 10, 15, wanted[i], Forms.Plate)).Where(part => part.Quantity > 0)],
            [Plate("plate", length * 10, width * 10, 15, random.Next(5, 40), 1)], BarSaw, saw) with
        {
            AllowanceRules = [new() { Allowances = new() }],
            OffcutRules = [new() { Form = Form.Plate, KeepLength = Mm(random.Next(3, 6) * 10), KeepWidth = Mm(random.Next(2, 4) * 10), Fraction = 0.6m, LeftoverFraction = 0.9m }],
        };
        var blanks = BlankSizer.Size(job);
        var component = Components.Of(job, blanks).Single();
        if (OnePlate.Cheapest(component) is not { } least)
        {
            return;
        }

        var caps = new LayoutCaps(component);
        var bound = Money.Zero;
        for (var more = true; more;)
        {
            var answer = JointBound.Solve(job, [new(component, []) { Caps = caps.Rows, Keeps = caps.Keeps }], 1.0, 60, default);
            answer.Bound.Value!.Value.Should().BeGreaterThanOrEqualTo(bound - Money.FromUnits(1), "rows are only added");
            bound = answer.Bound.Value!.Value;
            more = !answer.Best.IsDefault && caps.Separate(answer.Best[0], default);
        }

        bound.Units.Should().BeLessThanOrEqualTo(least);
    }
}
