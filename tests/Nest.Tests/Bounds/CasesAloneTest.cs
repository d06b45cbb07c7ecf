using Nest.Core.Blanks;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Judge.Jobs;
using Nest.Solve.Choose;
using Nest.Solve.Exact;

namespace Nest.Tests.Bounds;

/// <summary>The bound by cases of ordering against the judge's enumeration of whole jobs with deliveries, smallest orders, breaks and limits on suppliers. The solver asks for it
/// only with more stocks than these jobs have, so that the judge alone would not see a fault in it.</summary>
public sealed class CasesAloneTest
{
    private const double MostCells = 1e6;

    /// <summary>More with NEST_SEEDS.</summary>
    public static TheoryData<int> Seeds => [.. Enumerable.Range(0, int.TryParse(Environment.GetEnvironmentVariable("NEST_SEEDS"), out var seeds) ? seeds : 120)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void None_is_above_the_enumerated_optimum(int seed)
    {
        if (EnumeratedCost.Of(TinyJobs.Make(seed)) is not { } least
            || Search(seed, now => Own(now, now.Cases.Bound).Should().BeLessThanOrEqualTo(least, "every plan is of some case, and costs no less than that")) is not { } found)
        {
            return;
        }

        // Any multipliers will do, not only those that were found.
        var random = new Random(seed);
        for (var turn = 0; turn < 3; turn++)
        {
            var bounds = found.Cases.Cases.Select(one =>
                found.Cases.Evaluate(one, [.. one.Shares.Select((share, k) => one.States[k] is OrderCase.Pays or OrderCase.Free ? random.NextDouble() : share)], found.Meter) ?? double.NegativeInfinity);
            Own(found, bounds.Min() * Grain.PerCurrency).Should().BeLessThanOrEqualTo(least, "any shares make a bound");
        }

        static long Own(Searched of, double grains) => grains <= -1e15 ? long.MinValue : of.Twins.Own(Bound.Of(Money.FromUnits(Grain.UnitsDown(Math.Min(grains, 1e15))), "cases")).Value!.Value.Units;
    }

    /// <summary>Four times in five the cases together are as good as the programme of all parts; they leave a gap only where smallest orders or thresholds are at work.</summary>
    [Fact]
    public void They_are_mostly_as_good_as_the_whole_programme()
    {
        var (proven, jobs) = (0, 0);
        for (var seed = 0; seed < 60; seed++)
        {
            if (Search(seed) is not { } found)
            {
                continue;
            }

            var whole = new CountMaster(found.Exact, found.Parts).Solve(found.Meter.Limits(30, 20_000));
            found.Cases.Bound.Should().BeLessThanOrEqualTo(whole.Bound + (1e-4 * Grain.PerCurrency), "a case leaves out nothing that the whole programme has");
            jobs++;
            proven += found.Cases.Bound > whole.Bound - (0.001 * Grain.PerCurrency) ? 1 : 0;
        }

        jobs.Should().BeGreaterThan(20);
        proven.Should().BeGreaterThanOrEqualTo(jobs * 4 / 5);
    }

    /// <summary>The search of a made job, after as many steps as it has, each looked at; null where the job has no orders or does not fit.</summary>
    private static Searched? Search(int seed, Action<Searched>? each = null)
    {
        var job = TinyJobs.Make(seed);
        var twins = StockTwins.Of(job, BlankSizer.Size(job));
        var components = Components.Of(twins.Merged, twins.MergedBlanks);
        if (components.Length == 0 || !JointSolver.IsTied(twins.Merged, components))
        {
            return null;
        }

        var exact = new ExactJob(twins.Merged, components, tied: true, MostCells);
        if (!exact.IsValid || exact.Sources.Length == 0)
        {
            return null;
        }

        var meter = new ExactMeter(60, 40_000, default);
        var parts = components.Select((_, c) => new PartProof(exact, c, 1, 1, _ => { }, () => false, null)).ToList();
        parts.Should().OnlyContain(part => part.Values.Generate(null, meter) != null);
        var found = new Searched(twins, exact, parts, new(exact, [.. parts], withSettings: false, _ => { }), meter);
        for (var step = 0; step < 60 && found.Cases.Step(double.PositiveInfinity, meter) != CaseSearch.Outcome.Ended; step++)
        {
            each?.Invoke(found);
        }

        return found;
    }

    private sealed record Searched(StockTwins Twins, ExactJob Exact, List<PartProof> Parts, CaseSearch Cases, ExactMeter Meter);
}
