using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Parts;
using Nest.Planning;
using Nest.Planning.Design;
using Nest.Tests.Makers;

namespace Nest.Tests.Planning;

/// <summary>What a small change of a part would save: thresholds worked out by hand, and what a change is said to save is the difference of two plans.</summary>
public class DesignStudyTest
{
    private static Length Mm(decimal value) => Length.FromMillimetres(value);

    /// <summary>No allowances, no value of scrap, nothing kept, cuts for nothing: only bars and plates cost.</summary>
    private static Job Plain(Part[] parts, Stock[] stocks) => JobMaker.Job(parts, stocks,
        JobMaker.BarSaw with { HourlyRate = 0, ChargePerCut = 0 }, JobMaker.PlateSaw with { HourlyRate = 0, ChargePerCut = 0 }) with
    {
        AllowanceRules = [],
        OffcutRules = [],
        Mill = new() { HourlyRate = 0, DefaultRemovalRate = 60 },
        Materials = [JobMaker.Aluminium with { ScrapPricePerKilogram = 0 }],
    };

    private static Part Lug(decimal length, int quantity) => JobMaker.Part("lug", length, 40, 10, quantity, Forms.FlatBar) with { MayTurn = false, MillSides = true, MillFaces = true };

    private static DesignResult Study(Job job, DesignLimits? limits = null, decimal share = 0.05m) => DesignStudy.Of(
        new JobInput { Job = job, DesignLimits = limits is null ? ImmutableDictionary<string, DesignLimits>.Empty : ImmutableDictionary<string, DesignLimits>.Empty.Add("lug", limits) },
        new(6, share, 10, 20_000), (one, options, _) => Planner.Plan(one, options with { Threads = 1 }).Plan, default)!;

    /// <summary>A bar of 1000 is trimmed by 10 at both ends: 980 are usable, kerf 2.5. Lugs of 245: ⌊(980 + 2.5) ÷ 247.5⌋ = 3 (3.97). Four fit where 4 · (L + 2.5)
    /// ≤ 982.5, that is L ≤ 243.125: in hundredths 243.12, 1.88 less. Eight lugs take 3 bars at 20 = 60 now, 2 bars = 40 then: 20 is saved, and both
    /// plans are proven, so all of it is sure.</summary>
    [Fact]
    public void One_more_piece_on_the_bar()
    {
        var result = Study(Plain([Lug(245, 8)], [JobMaker.Bar("bar", 40, 10, 1000, 20) with { GoodFaces = true }]));
        (result.Plan.TotalCost.Amount, result.Plan.Status).Should().Be((60m, SolveStatus.Proven));
        var hint = result.Hints.Should().ContainSingle().Subject;
        hint.Change.What.Should().Be("length 245 → 243.12 (1.88 mm less)");
        hint.Change.Reasons.Should().Equal("4 instead of 3 from each bar");
        (hint.Plan.TotalCost.Amount, hint.Saves, hint.Sure).Should().Be((40m, 20m, 20m));
        hint.Change.Changed.Length.Should().Be(Mm(243.12m));
    }

    /// <summary>The same bar: three lugs leave 980 − 3 · 245 − 3 · 2.5 = 237.5 behind the last kerf, so with 3 on each of two bars each of six lugs may grow by 79.16 at
    /// least; the list allows 5.</summary>
    [Fact]
    public void A_part_may_grow_into_the_scrap_as_far_as_the_list_allows()
    {
        var result = Study(Plain([Lug(245, 6)], [JobMaker.Bar("bar", 40, 10, 1000, 20) with { GoodFaces = true }]), new(new(default, default, default), new(Mm(5), default, default)));
        result.Hints.Should().BeEmpty();
        result.Rooms.Should().ContainSingle().Which.Should().Be(new DesignRoom("lug", "length 245 → 250 (5 mm more)", 0m));
    }

    [Fact]
    public void What_the_list_forbids_is_not_proposed() =>
        Study(Plain([Lug(245, 8)], [JobMaker.Bar("bar", 40, 10, 1000, 20) with { GoodFaces = true }]), new(new(Mm(1.87m), default, default), null)).Hints.Should().BeEmpty();

    /// <summary>Plate 12 costs 50, plate 10 costs 30; the part is 10.2 thick and may stay as rolled: 0.2 less (the stock's own size) and the thinner plate serves.</summary>
    [Fact]
    public void The_next_thinner_plate()
    {
        var part = JobMaker.Part("tab", 100, 80, 10.2m, 4, Forms.Plate) with { MillFaces = true };
        var result = Study(Plain([part], [JobMaker.Plate("P12", 300, 300, 12, 50) with { GoodFaces = true }, JobMaker.Plate("P10", 300, 300, 10, 30) with { GoodFaces = true, MinThickness = Mm(9.8m) }]));
        var hint = result.Hints.First();
        (hint.Change.What, hint.Saves).Should().Be(("thickness 10.2 → 10 (0.2 mm less)", 20m));
        hint.Change.Reasons.Should().Contain("P10 would serve");
    }

    /// <summary>A leftover of 248 mm between clean ends holds one lug of 245 and its kerf not at all: 248 ≥ 245 does. One of 240 would do with 5 less.</summary>
    [Fact]
    public void The_leftover_that_would_just_do()
    {
        var rack = JobMaker.Bar("R7", 40, 10, 240, 1, 1) with { RackMark = "R7", Supplier = null, GoodFaces = true, CleanEdges = new(true, true, true, true) };
        var result = Study(Plain([Lug(245, 1)], [JobMaker.Bar("bar", 40, 10, 1000, 20) with { GoodFaces = true }, rack]));
        var hint = result.Hints.First();
        (hint.Change.What, hint.Saves).Should().Be(("length 245 → 240 (5 mm less)", 19m));
        hint.Change.Reasons.Should().Contain("leftover R7 would serve");
    }

    /// <summary>A bar 40 × 10 is too small for a lug whose sides take 1.5 each; where they stay as rolled it serves, and the wider bar is not needed.</summary>
    [Fact]
    public void A_side_that_stays_is_a_near_miss_too()
    {
        var job = Plain([Lug(200, 4) with { MillSides = false }], [JobMaker.Bar("wide", 50, 15, 1000, 60), JobMaker.Bar("40x10", 40, 10, 1000, 20) with { GoodFaces = true }]) with
        {
            AllowanceRules = [new() { Allowances = new() { SideCleanUp = Mm(1.5m), EndCleanUp = Length.Zero, FaceTop = Mm(0.5m), FaceBottom = Mm(0.5m), Grip = Length.Zero } }],
        };
        var result = Study(job);
        result.Hints.Should().Contain(hint => hint.Change.What == "sides stay as the mill made them" && hint.Saves == 40m);
    }

    [Fact]
    public void Columns_of_the_parts_list_limit_each_dimension()
    {
        using var folder = new Data.JobFolder();
        var result = folder.Parts("part,material,length (mm),width (mm),thickness (mm),quantity,may shrink,may grow\na,6061,100,50,10,2,length 2; width 0.5,no\nb,6061,100,50,10,2,1.5,\nc,6061,100,50,10,2,,\n");
        result.Findings.Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        var limits = result.Value!.DesignLimits;
        limits["a"].Should().Be(new DesignLimits(new(Mm(2), Mm(0.5m), default), new(default, default, default)));
        limits["b"].Should().Be(new DesignLimits(new(Mm(1.5m), Mm(1.5m), Mm(1.5m)), null));
        limits.Should().NotContainKey("c");
        folder.Parts("part,material,length (mm),width (mm),thickness (mm),quantity,may shrink\na,6061,100,50,10,2,a lot\n").Findings.Should().Contain(finding => finding.Rule == "limit-unreadable");
    }
}
