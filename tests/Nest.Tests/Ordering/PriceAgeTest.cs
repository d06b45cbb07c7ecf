using Nest.Cli;
using Nest.Solve.Batch;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Cli.Commands;
using Nest.Core.Quantities;
using Nest.Solve;
using Nest.Tests.Data;
using Nest.Tests.Makers;
using Nest.Tests.Rack;

namespace Nest.Tests.Ordering;

/// <summary>Old price lists are told; price breaks and free sets of a batch curve are named.</summary>
public sealed class PriceAgeTest : IDisposable
{
    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("2026-02-01", "", "29 days old", false)]
    [InlineData("2026-01-30", "", "31 days old", true)]
    [InlineData("2026-01-01", "prices_good_for_days = 90\n", "60 days old", false)]
    public void Prices_that_are_older_than_they_hold_are_told(string of, string more, string words, bool told)
    {
        folder.Write("parts.csv", JobFolder.Head + "a,6061,120,40,8,2\n");
        var job = folder.Write("job.toml", $"parts = \"parts.csv\"\n[[supplier]]\nname = \"Demo\"\nprices_of = \"{of}\"\n{more}");
        var (output, error) = (new StringWriter(), new StringWriter());
        App.Run(["blanks", job], new World(output, error, true, new StillClock(new DateTimeOffset(2026, 3, 2, 12, 0, 0, TimeSpan.Zero)), default)).Should().Be(0, error.ToString());
        (error.ToString().Contains("its prices are of " + of, StringComparison.Ordinal) && error.ToString().Contains(words, StringComparison.Ordinal)).Should().Be(told, error.ToString());
    }

    [Fact]
    public void A_day_that_is_none_is_refused()
    {
        folder.Write("parts.csv", JobFolder.Head + "a,6061,120,40,8,2\n");
        folder.Job("parts = \"parts.csv\"\n[[supplier]]\nname = \"Demo\"\nprices_of = \"last week\"\n").Findings.Should().Contain(finding => finding.Rule == "date-unreadable");
    }

    /// <summary>Three lugs of 300 a bar of 1000 (980 usable, kerf 2.5: 3 · 302.5 ≤ 982.5), at 20, from 3 bars at 15. One lug a set: 1 to 3 sets take one bar, so with one set two
    /// more are free; 7 sets take the third bar and reach the break: 3 · 15 = 45.</summary>
    [Fact]
    public void Free_sets_and_price_breaks_are_named()
    {
        var bar = JobMaker.Bar("bar", 40, 10, 1000, 20) with { GoodFaces = true, Terms = new() { Breaks = [new(3, Money.FromAmount(15))] } };
        var job = JobMaker.Job(
            [JobMaker.Part("lug", 300, 40, 10, 1, Forms.FlatBar) with { MayTurn = false, MillSides = true, MillFaces = true }], [bar],
            JobMaker.BarSaw with { HourlyRate = 0, ChargePerCut = 0 }) with
        {
            AllowanceRules = [],
            OffcutRules = [],
            Materials = [JobMaker.Aluminium with { ScrapPricePerKilogram = 0 }],
        };
        var points = BatchCurve.Of(job, 1, 9, new SolveLimits { Seconds = 60, Work = 20_000 });
        points.Select(point => point.Cost.Amount).Should().Equal(20m, 20m, 20m, 40m, 40m, 40m, 45m, 45m, 45m);
        points.Select(point => BatchNotes.FreeSets(points, point)).Should().Equal(2, 1, 0, 2, 1, 0, 2, 1, 0);
        BatchNotes.Breaks(points[5], points[6]).Should().Equal("3 of bar (price from 3)");
        BatchNotes.Breaks(points[6], points[7]).Should().BeEmpty();
        BatchNotes.Breaks(null, points[8]).Should().ContainSingle();
    }
}
