using System.Collections.Concurrent;
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

    /// <summary>Jobs whose cases are held against the programme of all parts.</summary>
    private const int Compared = 60;

    /// <summary>More with NEST_SEEDS.</summary>
    public static TheoryData<int> Seeds => [.. Enumerable.Range(0, int.TryParse(Environment.GetEnvironmentVariable("NEST_SEEDS"), out var seeds) ? seeds : 120)];

    // Both tests look at the same searches.
    private static readonly ConcurrentDictionary<int, Lazy<Searched?>> Known = new();

    [Theory]
    [MemberData(nameof(Seeds))]
    public void None_is_above_the_enumerated_optimum(int seed)
    {
        if (EnumeratedCost.Of(TinyJobs.Make(seed)) is not { } least || Of(seed) is not { } found)
        {
            return;
        }

        foreach (var bound in found.Steps)
        {
            Own(found, bound).Should().BeLessThanOrEqualTo(least, "every plan is of some case, and costs no less than that");
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
        for (var seed = 0; seed < Compared; seed++)
        {
            if (Of(seed) is not { Whole: { } whole } found)
            {
                continue;
            }

            found.Cases.Bound.Should().BeLessThanOrEqualTo(whole.Bound + (1e-4 * Grain.PerCurrency), "a case leaves out nothing that the whole programme has");
            jobs++;
            proven += found.Cases.Bound > whole.Bound - (0.001 * Grain.PerCurrency) ? 1 : 0;
        }

        jobs.Should().BeGreaterThan(20);
        proven.Should().BeGreaterThanOrEqualTo(jobs * 4 / 5);
    }

    private static Searched? Of(int seed) => Known.GetOrAdd(seed, own => new(() => Search(own))).Value;

    /// <summary>The search of a made job, after as many steps as it has; null where the job has no orders or does not fit.</summary>
    private static Searched? Search(int seed)
    {
        var job = TinyJobs.Make(seed);
        var twins = StockTwins.Of(job, BlankSizer.Size(job));
        var components = Components.Of(twins.Merged, twins.MergedBlanks);
        if (components.Length == 0 || !JobTies.Any(twins.Merged, components))
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
        var cases = new CaseSearch(exact, [.. parts], withSettings: false, _ => { });
        var steps = new List<double>();
        for (var step = 0; step < 60 && cases.Step(double.PositiveInfinity, meter) != CaseSearch.Outcome.Ended; step++)
        {
            steps.Add(cases.Bound);
        }

        return new(twins, cases, steps, seed < Compared ? new CountMaster(exact, parts).Solve(meter.Limits(30, 20_000)) : null, meter);
    }

    /// <param name="Steps">The bound after each step.</param>
    /// <param name="Whole">Answer of the programme of all parts; null: it was not asked.</param>
    private sealed record Searched(StockTwins Twins, CaseSearch Cases, List<double> Steps, CountMaster.Answer? Whole, ExactMeter Meter);
}
