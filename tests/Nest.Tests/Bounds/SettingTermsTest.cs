using System.Collections.Concurrent;
using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Judge.Jobs;
using Nest.Solve;
using Nest.Solve.Choose;
using Nest.Solve.Exact;
using Nest.Tests.Output;

namespace Nest.Tests.Bounds;

/// <summary>Settings that counts of stock imply against those of real plans, counted cut by cut, in whatever order the layouts are sawn: they are never more. Every plan is a witness, not only the cheapest.</summary>
public sealed class SettingTermsTest
{
    private const int Orders = 12;

    private static readonly ConcurrentDictionary<int, Lazy<(double Least, double Own)?>> Known = new();

    /// <summary>More with NEST_SEEDS.</summary>
    public static TheoryData<int> Seeds => [.. Enumerable.Range(0, int.TryParse(Environment.GetEnvironmentVariable("NEST_SEEDS"), out var seeds) ? seeds / 4 : 60)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void They_are_not_above_what_a_made_plan_has(int seed)
    {
        if (seed % 3 != 0)
        {
            Tiny(seed);
        }
        else if (Made(SmallJobs.Make(seed), seed) is { } plan)
        {
            Witness(plan, seed);
        }
    }

    /// <summary>A tiny job's plan held against the bound, once for both tests; none where not all can be cut.</summary>
    private static (double Least, double Own)? Tiny(int seed) =>
        Known.GetOrAdd(seed, own => new(() => Made(TinyJobs.Make(own), own) is { } plan ? Witness(plan, own) : null)).Value;

    [Fact]
    public void Nor_above_those_of_the_samples()
    {
        foreach (var (_, plan) in SamplePlans.All().Where(sample => sample.Plan.Unplaced.IsEmpty))
        {
            Witness(plan with { Job = plan.Job with { Saws = [.. plan.Job.Saws.Select(saw => saw with { SettingMinutes = 2, HourlyRate = 60 })] } }, 1, dearer: 1000);
        }
    }

    /// <summary>Of the plans of made jobs they see most settings: else a fault that leaves all out would not be seen.</summary>
    [Fact]
    public void They_see_most_settings()
    {
        var (seen, all) = (0.0, 0.0);
        foreach (var seed in Enumerable.Range(0, 60).Where(seed => seed % 3 != 0))
        {
            if (Tiny(seed) is var (least, own))
            {
                (seen, all) = (seen + least, all + own);
            }
        }

        (seen / all).Should().BeGreaterThan(0.5);
    }

    private static Plan? Made(Job made, int seed)
    {
        var job = made with { Saws = [.. made.Saws.Select(saw => saw with { SettingMinutes = 2, HourlyRate = 60 })] };
        var plan = JobSolver.Solve(job, BlankSizer.Size(job), new() { Seconds = 60, Work = 3000, Seed = seed + 1 });
        return plan.Unplaced.IsEmpty ? plan : null;
    }

    /// <summary>Holds the least by the plan's counts, of the whole job and of its components, against the plan's own settings in many orders; both in currency units.</summary>
    /// <param name="dearer">What the plan costs more than it says, at most.</param>
    private static (double Least, double Own) Witness(Plan plan, int seed, double dearer = 0)
    {
        var job = plan.Job with { Kept = [] };
        var components = Components.Of(job, BlankSizer.Size(job));
        var whole = new ExactJob(job, components, tied: true, 1e5);
        var counts = whole.Sources.Select(source => plan.Layouts.Where(layout => layout.StockId == source.Frame.Stock.Id && !layout.Pieces.IsEmpty).Sum(layout => layout.Count)).ToArray();
        var least = Least(whole, whole, counts);
        new SettingTerms(whole, whole).At(counts).Should().BeLessThanOrEqualTo(least + 1e-9, "nothing is chosen there");
        var parts = components.Select((_, c) =>
        {
            var part = new ExactJob(job, [components[c]], tied: false, 1e5);
            return Least(part, whole, [.. whole.Sources.Where(source => source.ComponentIndex == c).Select(source => counts[source.Number])]);
        }).Sum();
        parts.Should().BeLessThanOrEqualTo(least + 1e-6, "what components share is counted once");

        var random = new Random(seed);
        var own = double.PositiveInfinity;
        for (var turn = 0; turn < Orders; turn++)
        {
            var order = Enumerable.Range(1, plan.Layouts.Length).ToArray();
            random.Shuffle(order);
            var layouts = plan.Layouts.Select((layout, at) => layout with { Number = order[at] }).ToImmutableArray();
            own = Math.Min(own, (double)SettingCosts.Of(job, layouts).Total.Amount);
        }

        least.Should().BeLessThanOrEqualTo(own + 1e-6, plan.Job.Name);

        // Every plan that costs less than what is a little dearer than this one has these settings, so this one has.
        var terms = new SettingTerms(whole, whole);
        var beyond = new CountSettings(whole, terms).Beyond(counts, (plan.TotalCost.Units * (double)Grain.PerUnit) + (dearer * Grain.PerCurrency) + 1);
        (least + beyond).Should().BeLessThanOrEqualTo(own + 1e-6, "{0}, by sizes", plan.Job.Name);
        Loads(whole, plan, own);
        return (least + beyond, own);
    }

    /// <summary>The same by loads: of each layout, and of all together.</summary>
    private static void Loads(ExactJob job, Plan plan, double own)
    {
        var settings = new LoadSettings(job, load => load);
        var loads = new List<(Load Load, int Count)>();
        foreach (var layout in plan.Layouts.Where(layout => !layout.Pieces.IsEmpty))
        {
            if (job.Sources.FirstOrDefault(some => some.Frame.Stock.Id == layout.StockId) is not { } source)
            {
                // The samples are made by hand: some cut what no blank needs.
                return;
            }

            var counts = new int[source.Kinds.Count];
            foreach (var piece in layout.Pieces)
            {
                counts[source.Kinds.Of[source.Kinds.Component.Blanks.Select((blank, i) => (blank, i)).First(entry => entry.blank.Part.Id == piece.PartId).i]]++;
            }

            // As good as a load of which no better layout is known.
            var load = new Load(source.Number, [.. counts], 0, null, false);
            settings.PositionsOf(load).Should().BeLessThanOrEqualTo(LayoutSettings.Of(source.Frame.Stock, source.Frame.Saw, layout, plan.Job.Unit).Count, "{0}, layout {1}", plan.Job.Name, layout.Number);
            loads.Add((load, layout.Count));
        }

        using var program = new MixedProgram();
        var use = loads.Select(entry => program.Solver.MakeIntVar(entry.Count, entry.Count, "")).ToArray();
        settings.Add(program.Solver, [.. loads.Select(entry => entry.Load)], use);
        program.Minimize(new(10, 10_000, default)).Cost.Should().BeLessThanOrEqualTo(own + 1e-6, plan.Job.Name);
    }

    private static double Least(ExactJob job, ExactJob whole, int[] counts)
    {
        using var program = new MixedProgram();
        var variables = counts.Select(count => program.Solver.MakeIntVar(count, count, "")).ToArray();
        new SettingTerms(job, whole).Add(program.Solver, variables);
        var answer = program.Minimize(new(10, 10_000, default));
        answer.Found.Should().BeTrue();
        return answer.Cost;
    }
}
