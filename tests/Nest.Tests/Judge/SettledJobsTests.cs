using System.Collections.Concurrent;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Judge;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;
using Nest.Judge.Runs;
using Nest.Judge.Settings;

using static Nest.Tests.Judge.EnumerationTests;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Judge;

/// <summary>Where settings of fence and stop have a price: no bound above a plan that there is, no plan proven above it; bars proven and the cheapest.</summary>
public class SettledJobsTests
{
    private static readonly Saw Dear = new()
    {
        Id = "saw", Kind = SawKind.BarSaw, Kerf = Mm(2), HourlyRate = 60, SettingMinutes = 1, ChargePerCut = 1,
    };

    /// <summary>Before the small loads were cut anew with what settings cost, one in seven of these plates was dearer than a plan that there is; of the bars a quarter was not proven, as nothing counted settings for them.</summary>
    [Fact]
    public void No_plan_or_bound_contradicts_the_enumeration()
    {
        var wrong = new ConcurrentBag<string>();
        var dearer = new ConcurrentBag<string>();
        var (bars, proven, judged) = (0, 0, 0);
        Parallel.For(0, 64, new ParallelOptions { MaxDegreeOfParallelism = 2 }, seed =>
        {
            try
            {
                var job = SettledJobs.Make(seed);
                var verdict = SettledVerdict.Of(job, TinyRun.Limits(TinyRun.Work));
                verdict.Wrong.ToList().ForEach(one => wrong.Add($"{job.Name}: {one}"));
                if (verdict is { Optimum: not null, Plan.Unplaced.IsEmpty: true })
                {
                    if (!verdict.IsBest)
                    {
                        dearer.Add(job.Name);
                    }

                    Interlocked.Increment(ref judged);
                    var isBars = TinyJobs.ClassOf(seed) == JobClass.Bars;
                    Interlocked.Add(ref bars, isBars ? 1 : 0);
                    Interlocked.Add(ref proven, isBars && verdict.Plan.Status == SolveStatus.Proven ? 1 : 0);
                }
            }
            catch (TooLargeException)
            {
                // Not every made job can be enumerated.
            }
        });
        wrong.Order().Should().BeEmpty();
        judged.Should().BeGreaterThan(30);
        dearer.Should().BeEmpty();
        bars.Should().BeGreaterThan(8);
        proven.Should().Be(bars);
    }

    /// <summary>Bar of 1000 at 10.00, kerf 2, a cut costs 1.00 and 0.04 for its section (2 cm² at 50 cm² and 1.00 a minute), a setting 1.00. Two blanks of 300 and one of 200: three cuts and two positions of the stop; nothing
    /// is kept: 10 + 3.12 + 2 = 15.12.</summary>
    [Fact]
    public void A_bar_with_two_sizes_needs_two_settings()
    {
        var job = Plain([Part("A", 300, 20, 10, 2), Part("B", 200, 20, 10, 1)], [Bar("B", 20, 10, 1000, 10)], Dear, new() { KeepLength = Mm(900), Fraction = 0.5m });
        SettledOptimum.Of(job).Should().Be(new SettledOptimum(Money.FromAmount(15.12m), true));
    }

    /// <summary>A vise that holds 250, a bar of 810: two blanks of 270 are cut to the stop (266 remain after the second), the third is 260 and is cut at a mark, since 4 remain. 3 cuts, 2 settings: 10 + 3.12 + 2 = 15.12.
    /// Were a blank of 270 the last, the stop would stand at 260 and at 270, and the mark would be a third setting.</summary>
    [Fact]
    public void The_blank_that_is_cut_at_a_mark_needs_no_stop()
    {
        var job = Plain(
            [Part("A", 270, 20, 10, 2), Part("B", 260, 20, 10, 1)], [Bar("B", 20, 10, 810, 10)], Dear with { ShortestHeld = Mm(250) }, new() { KeepLength = Mm(900), Fraction = 0.5m });
        SettledOptimum.Of(job).Cost.Should().Be(Money.FromAmount(15.12m));
        SettledVerdict.Of(job, TinyRun.Limits(TinyRun.Work)).Plan!.TotalCost.Should().Be(Money.FromAmount(15.12m));
    }

    /// <summary>Two bars that each hold one blank: the stop that the first layout leaves stands for the second, so two bars of 310 at 4.00 cost 8 + 2.08 for cuts + 1 setting = 11.08.</summary>
    [Fact]
    public void The_stop_that_stands_is_not_set_again()
    {
        var job = Plain(
            [Part("A", 300, 20, 10, 2)], [Bar("B", 20, 10, 310, 4) with { Available = 1 }, Bar("C", 20, 10, 310, 4) with { Available = 1 }], Dear, new() { KeepLength = Mm(900), Fraction = 0.5m });
        SettledOptimum.Of(job).Cost.Should().Be(Money.FromAmount(11.08m));
    }

    /// <summary>Plate of 210 × 100 at 20.00, kerf 10, a cut of 100 costs 1.20 (10 cm² of section), a setting 1.00, no trims; blanks of 100 × 100, two of them: one cut, one position: 20 + 1.20 + 1 = 22.20. With blanks of 100 × 45 four of them: one
    /// cut across at 100, one cut along at 45 in each half, the fence set once for both: 20 + 3.60 + 2 = 25.60.</summary>
    [Theory]
    [InlineData(100, 2, "22.20")]
    [InlineData(45, 4, "25.60")]
    public void A_plate_level_by_level(int width, int count, string amount)
    {
        var cost = decimal.Parse(amount, System.Globalization.CultureInfo.InvariantCulture);
        var job = Plain(
            [Part("A", 100, width, 10, count) with { MayTurn = false }], [Plate("S", 210, 100, 10, 20)], Dear with { Kind = SawKind.PlateSaw, Kerf = Mm(10) },
            new() { KeepLength = Mm(500), Fraction = 0.5m });
        SettledOptimum.Of(job).Should().Be(new SettledOptimum(Money.FromAmount(cost), false));
        SettledVerdict.Of(job, TinyRun.Limits(TinyRun.Work)).Plan!.TotalCost.Should().Be(Money.FromAmount(cost));
    }
}
