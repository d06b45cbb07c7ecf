using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Judge.Enumeration;
using Nest.Tests.Data;

using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Judge;

/// <summary>The enumeration itself against costs worked out by hand, and that it stands on its own.</summary>
public class EnumerationTests
{
    private static readonly Saw FreeTime = new()
    {
        Id = "saw", Kind = SawKind.PlateSaw, Kerf = Mm(10), HourlyRate = 0, ChargePerCut = 1,
    };

    /// <summary>Bar of 1000 at 10.00, kerf 2, a cut costs 1.00. Two blanks of 300: 600 and two kerfs leave 396, kept at half price:
    /// 10 + 2 − 5 × 396 ÷ 1000 = 10.02.</summary>
    [Fact]
    public void A_bar_with_a_kept_rest()
    {
        var job = Plain(
            [Part("A", 300, 20, 10, 2)], [Bar("B", 20, 10, 1000, 10)], FreeTime with { Kind = SawKind.BarSaw, Kerf = Mm(2) },
            new() { KeepLength = Mm(300), Fraction = 0.5m });
        Optimum.Of(job).Cost.Should().Be(Money.FromAmount(10.02m));
    }

    /// <summary>Plate of 100 × 60 at 12.00, kerf 10: one cut takes a blank of 40 × 60 off, 50 × 60 is kept: 12 + 1 − 6 × 3000 ÷ 6000 = 10.</summary>
    [Fact]
    public void A_plate_with_a_kept_rest()
    {
        var job = Plain(
            [Part("A", 40, 60, 10, 1)], [Plate("S", 100, 60, 10, 12)], FreeTime, new() { KeepLength = Mm(50), KeepWidth = Mm(50), Fraction = 0.5m });
        Optimum.Of(job).Cost.Should().Be(Money.FromAmount(10m));
    }

    /// <summary>Plate of 110 × 90 at 19.80 (0.002 a mm²), kerf 10, kept from 50 × 40 at half; blank 50 × 40. Cut at 50 first, the rest beside
    /// it is 50 × 90, the one above the blank 50 × 40: both are kept, 2 cuts: 19.80 + 2 − 4.50 − 2.00 = 15.30. Cut at 40 across first: 110 × 40
    /// above, 50 × 40 beside: 19.80 + 2 − 4.40 − 2.00 = 15.40.</summary>
    [Fact]
    public void Two_kept_rests_in_the_better_order()
    {
        var job = Plain(
            [Part("A", 50, 40, 10, 1) with { MayTurn = false }], [Plate("S", 110, 90, 10, 19.8m)], FreeTime,
            new() { KeepLength = Mm(50), KeepWidth = Mm(40), Fraction = 0.5m });
        Optimum.Of(job).Cost.Should().Be(Money.FromAmount(15.3m));
    }

    /// <summary>One plate costs 10, two cost 6 each and the second is kept at 3: 9.</summary>
    [Fact]
    public void A_plate_more_for_the_price_break()
    {
        var terms = new PriceTerms { Breaks = [new(2, Money.FromAmount(6))] };
        var job = Plain(
            [Part("A", 100, 60, 10, 1)], [Plate("S", 100, 60, 10, 10) with { Terms = terms }], FreeTime,
            new() { KeepLength = Mm(50), KeepWidth = Mm(50), Fraction = 0.5m });
        Optimum.Of(job).Cost.Should().Be(Money.FromAmount(9m));
    }

    /// <summary>A clamp that holds 60: a blank of 50 cannot come off a plate of 110 with a kerf of 10 (50 and 50), off one of 120 it can.</summary>
    [Theory]
    [InlineData(110, false)]
    [InlineData(120, true)]
    public void What_the_clamp_cannot_hold_is_not_cut(int length, bool possible)
    {
        var job = Plain(
            [Part("A", 50, 60, 10, 1) with { MayTurn = false }], [Plate("S", length, 60, 10, 10)], FreeTime with { ShortestHeld = Mm(60) },
            new() { KeepLength = Mm(500), Fraction = 0.5m });
        Optimum.Of(job).Cost.HasValue.Should().Be(possible);
    }

    [Fact]
    public void The_enumeration_uses_the_jobs_values_and_nothing_of_the_planner()
    {
        string[] allowed = ["Nest.Core.Jobs", "Nest.Core.Quantities", "Nest.Core.Plans"];
        foreach (var file in Directory.GetFiles(Path.Combine(Repository.Root, "tests", "Nest.Judge", "Enumeration"), "*.cs"))
        {
            var text = File.ReadAllText(file);
            text.Split('\n').Where(line => line.StartsWith("using ", StringComparison.Ordinal))
                .Select(line => line["using ".Length..].TrimEnd(';'))
                .Where(space => !allowed.Contains(space) && !space.StartsWith("System.", StringComparison.Ordinal))
                .Should().BeEmpty(file);

            // Of the room of plans only the direction of a first cut, which is a limit of the saw.
            text.Should().NotContainAny("CostModel", "StockWorth", "Purchasing", "BlankSizer", "TrimsOn", "RateFor(", "LineCost", "LowestPrice", "new Layout");
        }
    }

    /// <summary>A job of these things alone: no allowances, one rule for offcuts, no scrap, milling costs nothing.</summary>
    internal static Job Plain(Part[] parts, Stock[] stocks, Saw saw, OffcutRule rule) => Job(parts, stocks, saw) with
    {
        AllowanceRules = [],
        OffcutRules = [rule],
        Mill = new(),
        Materials = [Aluminium with { ScrapPricePerKilogram = 0 }],
    };
}
