using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Solve.Choose;
using Nest.Solve.Exact;
using Nest.Tests.Makers;

namespace Nest.Tests.Exact;

/// <summary>All loads of small jobs, worked out one by one, against the lists of all loads at their least cost.</summary>
public sealed class FewLoadsTest
{
    private static ExactMeter Meter => new(1000, null, default);

    [Theory]
    [InlineData(false), InlineData(true)]
    public void One_by_one_they_say_what_the_lists_say(bool withSettings)
    {
        var (met, closed) = (0, 0);
        for (var seed = 0; seed < 40; seed++)
        {
            var job = PlateJobs.Tiny(seed, scale: 2);
            job = withSettings ? job with { Saws = [.. job.Saws.Select(saw => saw with { SettingMinutes = 1 })] } : job;
            if (Job(job) is not { } exact || new FewLoads(exact, withSettings).Solve(Meter) is not { Closed: true, Plan.IsEmpty: false } listed || exact.Sources.Any(source => source.Frame.IsBar))
            {
                continue;
            }

            var parts = Enumerable.Range(0, exact.Components.Length).Select(c => new PartProof(exact, c, 1, 100, _ => { }, () => false, null)).ToList();
            parts.ForEach(part => part.Values.Generate(null, Meter));
            var alone = new FewLoads(exact, withSettings) { MostSteps = 0 }.ByValues(parts, Meter)!;

            // With settings the lists have a table of all loads beside them, so they may say more.
            (alone.Bound / Grain.PerCurrency).Should().BeLessThanOrEqualTo((listed.Cost / Grain.PerCurrency) + 0.01, "seed {0}", seed);
            closed += alone.Closed ? 1 : 0;
            met += alone.Bound > listed.Bound - (0.01 * Grain.PerCurrency) ? 1 : 0;
            if (alone.Closed && !withSettings)
            {
                (alone.Cost / Grain.PerCurrency).Should().BeApproximately(listed.Cost / Grain.PerCurrency, 0.01, "seed {0}", seed);
            }
        }

        closed.Should().BeGreaterThan(15);
        met.Should().BeGreaterThan(withSettings ? 10 : 15);
    }

    private static ExactJob? Job(Job job)
    {
        var components = Components.Of(job, BlankSizer.Size(job));
        return components.IsEmpty ? null : new(job, components, tied: true, 1e6);
    }

    /// <summary>Two covers and three lids from a plate of 1000 × 500, in a shop like that of <c>nest new</c>: far too large for a table of all loads; with a kerf of 3.2 for any table.</summary>
    [Theory]
    [InlineData(3), InlineData(3.2)]
    public void Few_pieces_on_a_large_plate_are_nearly_proven_with_their_settings(double kerf)
    {
        var plan = Choose.SolverTests.Solve(Covers(kerf, 1), new() { Seconds = 100, Work = 2_000_000 });

        Nest.Check.PlanChecker.Check(plan).Should().BeEmpty();
        plan.Gap.Should().BeLessThan(0.02m, "cost {0}, bound {1}", plan.TotalCost.Amount, plan.Bound);
    }

    /// <summary>The same where a unit of the currency is worth little, about as forint and rupiah (common practice, no source): amounts are beyond 32 bits of an eighth of 1/10 000.</summary>
    [Theory]
    [InlineData(3, 400), InlineData(3, 16_000), InlineData(3.2, 400), InlineData(3.2, 16_000)]
    public void They_are_in_a_currency_of_small_units(double kerf, int times)
    {
        var plan = Choose.SolverTests.Solve(Covers(kerf, times), new() { Seconds = 100, Work = 2_000_000 });

        Nest.Check.PlanChecker.Check(plan).Should().BeEmpty();
        plan.IsContradicted.Should().BeFalse();
        plan.Gap.Should().BeLessThan(0.05m, "cost {0}, bound {1}", plan.TotalCost.Amount, plan.Bound);
    }

    private static Job Covers(double kerf, int times)
    {
        var starter = PlateJobs.Starter(1);
        return starter with
        {
            Saws = [.. starter.Saws.Select(saw => saw with { Kerf = JobMaker.Mm((decimal)kerf), HourlyRate = saw.HourlyRate * times })],
            Stocks = [.. starter.Stocks.Select(stock => stock with { PiecePrice = stock.PiecePrice * times })],
            Mill = starter.Mill with { HourlyRate = starter.Mill.HourlyRate * times },
            Parts = [.. new[] { (180, 120, 2), (94, 35, 3) }.Select((size, i) => JobMaker.Part($"P{i}", size.Item1, size.Item2, 7, size.Item3, Forms.Plate) with { MayTurn = true })],
        };
    }
}
