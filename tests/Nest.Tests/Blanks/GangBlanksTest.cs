using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Planning;
using Nest.Solve;
using Nest.Solve.Batch;
using Nest.Solve.Gangs;
using Nest.Tests.Check;
using Nest.Tests.Data;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Blanks;

/// <summary>Several parts milled from one blank: every cost line by hand against single blanks, the choice of the number, pairs of hands, and what the checker refuses.</summary>
/// <remarks>By hand. Part 30 × 20 × 9; bar 26 × 12 × 1000 at 50.00; clean-up 2 on sides and 1 on ends, facing 0.5 + 0.5, grip 2: width 24, thickness 12. Saw at 60 an hour: a cut through 3.12 cm² at
/// 31.2 cm²/min takes 0.1 min + 1.5 handling = 1.60. Mill at 60 an hour, 10 cm³/min, 2 min to clamp a blank. A kept rest is worth half of its price, 25.00 for the bar.
/// <para>Four single blanks, 32 long with 2 of kerf: metal 50.00, saw 4 × 1.60 = 6.40, mill 4 × ((2.6 × 1.2 × 3.2 − 5.4) ÷ 10 + 2) = 4 × 2.4584 = 9.8336, rest 864 mm −21.60: 44.6336.</para>
/// <para>One blank for four with gaps of 6: 4 × 30 + 3 × 6 + 2 = 140 long: metal 50.00, saw 1.60, mill (2.6 × 1.2 × 14 − 4 × 5.4) ÷ 10 + 2 = 4.208, rest 858 mm −21.45: 34.358.</para></remarks>
public class GangBlanksTest
{
    private static readonly PlanOptions Little = new() { Work = 4000 };

    [Theory]
    [InlineData(1, 44.6336, 6.4, 9.8336, 21.6)]
    [InlineData(4, 34.358, 1.6, 4.208, 21.45)]
    public void Each_cost_line_is_as_worked_by_hand(int count, decimal total, decimal saw, decimal mill, decimal kept)
    {
        var plan = Planner.Plan(Four([count]), Little).Plan!;

        plan.TotalCost.Amount.Should().Be(total);
        plan.Status.Should().Be(SolveStatus.Proven);
        var cost = plan.Layouts.Single().Cost;
        (cost.Metal.Amount, cost.Saw.Amount, cost.Facing.Amount, cost.OffcutCredit.Amount).Should().Be((50m, saw, mill, kept));
        plan.PartCosts.Single().Total.Should().Be(plan.TotalCost);
    }

    [Fact]
    public void The_planner_takes_the_cheaper_number_and_proves_it_against_the_other()
    {
        var plan = Planner.Plan(Four([1, 4]), Little).Plan!;

        plan.TotalCost.Amount.Should().Be(34.358m);
        plan.Bound.Value!.Value.Amount.Should().Be(34.358m);
        plan.Status.Should().Be(SolveStatus.Proven);
        plan.Job.Parts.Single().Gang.Should().BeEquivalentTo(new { Rows = 1, Columns = 4, Blanks = 1, Rest = false });
    }

    // One set asks for four, so its point is the plan worked by hand above; every other one is what the plan of that number costs with the same work.
    [Fact]
    public void The_batch_curve_plans_each_number_as_the_plan_does()
    {
        var job = Four([1, 4]) with { Batch = 1 };

        var points = BatchCurve.Of(job, 1, 3, new SolveLimits { Seconds = 600, Work = 4000, Threads = 2 });

        points[0].Cost.Amount.Should().Be(34.358m);
        points.Select(point => point.Cost).Should().Equal(Enumerable.Range(1, 3).Select(sets => Planner.Plan(job.ForBatch(sets), Little).Plan!.TotalCost));
        points.Should().OnlyContain(point => point.Bound.Value == point.Cost && point.Plan.Job.Parts.Single().Gang!.Parts == 4);
        points.SelectMany(point => Planner.Check(point.Plan)).Should().BeEmpty();
        points.Select(point => point.Plan.PartCosts.Single().Total).Should().Equal(points.Select(point => point.Cost));
    }

    // Two of the choices for five sets are planned to their end in no time at all; what was not planned is under the bound of all choices.
    [Fact]
    public void However_short_the_time_every_number_has_a_plan_and_a_gap()
    {
        var points = BatchCurve.Of(Four([]) with { Batch = 1 }, 1, 12, new SolveLimits { Seconds = 0.05, Threads = 2 });

        points.Should().OnlyContain(point => point.Complete && point.Bound.IsKnown && point.Bound.Value <= point.Cost && point.Bound.Value * 8 > point.Cost);
    }

    // Two parts of which one to eight lie in a row on a blank are 64 choices: they are decided one after the other, and most choices are never planned.
    [Fact]
    public void Above_the_most_choices_there_is_a_bound_of_all_of_them()
    {
        var job = Four([]);
        var two = job.Parts[0] with { Id = "q", Quantity = 8, PerBlank = job.Parts[0].PerBlank! with { Gap = Mm(4) } };
        job = job with { Parts = [job.Parts[0] with { Quantity = 8 }, two] };

        var plan = GangSolver.Solve(job, new SolveLimits { Seconds = 600, Work = 4000 });

        (plan.Bound.Value <= plan.TotalCost && plan.Bound.Value * 4 > plan.TotalCost).Should().BeTrue($"{plan.Bound} and {plan.TotalCost}");
        plan.Bound.Source.Should().Be("size of the blanks, whatever the number per blank");
    }

    [Fact]
    public void The_mill_limits_the_number_and_a_smaller_blank_takes_the_rest()
    {
        var job = Four([]) with { Mill = Four([]).Mill with { TravelX = Mm(110) } };
        job = job with { Parts = [job.Parts[0] with { Quantity = 8 }] };

        var counts = GangOptions.Of(job, job.Parts[0], null).Where(option => option[0].Gang is { Rows: 1 }).Select(option => string.Join(" + ", option.Select(blank => $"{blank.Gang!.Blanks} × {blank.Gang.Parts}")));
        counts.Should().Equal("4 × 2", "2 × 3 + 1 × 2");
        Planner.Plan(job, Little).Plan!.Unplaced.Should().BeEmpty();
    }

    [Fact]
    public void Two_hands_share_blanks_as_long_as_both_are_needed()
    {
        var job = Four([2, 4]);
        var left = job.Parts[0] with { Id = "left", Quantity = 5, PerBlank = job.Parts[0].PerBlank! with { With = "right" } };
        var right = left with { Id = "right", Quantity = 4, PerBlank = left.PerBlank! with { With = "left" } };
        job = job with { Parts = [left, right] };

        var options = GangOptions.Of(job, left, right);

        options.First(option => option[0].Gang!.Parts == 2).Select(blank => (blank.Id, blank.Gang!.Blanks)).Should().Equal(("left + right ×2", 4), ("left ×1", 1));
        var plan = Planner.Plan(job, Little).Plan!;
        plan.Unplaced.Should().BeEmpty();
        plan.Job.Parts.SelectMany(part => part.Gang!.Members.Select(member => (member.Part, Pieces: member.Count * part.Gang.Blanks))).GroupBy(one => one.Part)
            .Select(group => (group.Key, group.Sum(one => one.Pieces))).Should().BeEquivalentTo([("left", 5), ("right", 4)]);
    }

    public static TheoryData<string, Func<Job, Job>> Broken => new()
    {
        { "gang-count", job => Changed(job, part => part with { Gang = part.Gang! with { Members = [part.Gang.Members[0] with { Asked = 5 }] } }) },
        { "gang-number", job => Changed(job, part => part with { PerBlank = part.PerBlank! with { Counts = [1, 2] } }) },
        { "gang-size", job => job with { Mill = job.Mill with { TravelX = Mm(100) } } },
        { "gang-size", job => job with { Mill = job.Mill with { ViseOpening = Mm(20) } } },
        { "gang", job => Changed(job, part => part with { PerBlank = null }) },
        { "blank-size", job => Changed(job, part => part with { PerBlank = part.PerBlank! with { Gap = Mm(5) } }) },
        { "layout-cost", job => job with { Mill = job.Mill with { BlankMinutes = 3m } } },
    };

    [Theory]
    [MemberData(nameof(Broken))]
    public void The_checker_refuses_a_plan_that_is_broken_in_just_that_way(string rule, Func<Job, Job> broken)
    {
        var plan = Planner.Plan(Four([4]), Little).Plan!;
        Planner.Check(plan).Should().BeEmpty();

        var found = Planner.Check(plan with { Job = broken(plan.Job) });

        (found.Any(finding => finding.Rule == rule) || (rule == "layout-cost" && found.Length > 0)).Should().BeTrue(string.Join("; ", found));
    }

    [Fact]
    public void A_quote_has_one_line_for_a_part_with_whole_blanks_and_a_rest()
    {
        var job = Four([4]);
        job = job with { Parts = [job.Parts[0] with { Quantity = 6, Extra = 1, MillMinutes = 2m, SetUpMinutes = 30m }] };
        var plan = Planner.Plan(job, Little).Plan!;
        plan.Job.Parts.Select(part => part.Gang!.Parts).Should().Equal(4, 3);

        // By hand: 7 are made, 6 go to the customer; 7 × 2 + 30 = 44 minutes at 60 an hour, the set-up once.
        var line = Quote.Of(plan, new(0m)).Lines.Should().ContainSingle().Subject;
        (line.Part.Id, line.Pieces, line.Part.Quantity).Should().Be(("p", 6, 6));
        line.Each.Should().Be(decimal.Ceiling((plan.TotalCost.Amount + 44m) * 100m / 6m) / 100m);

        // Several numbers of sets have the same lines, whatever their blanks hold.
        Quote.Of(Planner.Plan(job.ForBatch(2), Little).Plan!, new(0m)).Lines.Should().ContainSingle().Which.Pieces.Should().Be(12);
    }

    [Fact]
    public void Two_hands_of_a_pair_are_quoted_each_for_itself_at_one_price()
    {
        var left = Four([2]).Parts[0] with { Id = "left", Quantity = 3, PerBlank = Four([2]).Parts[0].PerBlank! with { With = "right" } };
        var right = left with { Id = "right", Quantity = 2, PerBlank = left.PerBlank! with { With = "left" } };
        var plan = Planner.Plan(Four([2]) with { Parts = [left, right] }, Little).Plan!;

        var lines = Quote.Of(plan, new(0m)).Lines;

        lines.Select(line => (line.Part.Id, line.Pieces)).Should().BeEquivalentTo([("left", 3), ("right", 2)]);
        lines.Select(line => line.Each).Distinct().Should().ContainSingle().Which.Should().Be(decimal.Ceiling(plan.TotalCost.Amount * 100m / 5m) / 100m);
    }

    [Fact]
    public void Hands_of_a_pair_find_each_other_in_a_plan_of_several_jobs()
    {
        var left = Four([2]).Parts[0] with { Id = "left", PerBlank = Four([2]).Parts[0].PerBlank! with { With = "right" } };
        var right = left with { Id = "right", PerBlank = left.PerBlank! with { With = "left" } };
        var given = new JobInput { Job = Four([2]) with { Parts = [left, right] } };

        var joined = TogetherStudy.Join([("a", given), ("b", given with { Job = Four([4]) })]).Value!.Job;

        JobChecker.Check(joined).Should().NotContain(finding => finding.Severity == Severity.Error);
        Planner.Plan(joined, Little).Plan!.Unplaced.Should().BeEmpty();
    }

    [Fact]
    public void A_plan_with_gang_blanks_comes_back_from_its_file()
    {
        var plan = Planner.Plan(Four([4]), Little).Plan!;
        using var folder = new JobFolder();
        var path = Path.Combine(folder.Root, "plan.json");

        Planner.Save(plan, path).Should().BeEmpty();

        Planner.Load(path).Plan!.Job.Parts.Single().Gang.Should().BeEquivalentTo(plan.Job.Parts.Single().Gang);
    }

    // By hand: the first blank begins at the bar's end, 140 long; four parts of 30 with gaps of 6 and 1 of clean-up at each end begin at 1, 37, 73 and 109; of the width, 26, 3 are over on both sides.
    [Fact]
    public void The_parts_within_the_blank_are_on_the_drawing_and_on_the_page_for_the_saw()
    {
        var plan = Planner.Plan(Four([4]), Little).Plan!;
        var context = new Nest.Output.Sheets.SheetContext(plan, new());

        var drawn = Nest.Output.Files.Drawing.Of(context, plan.Layouts[0]).Rects.Where(rect => rect.Layer == "PARTS_TO_MILL").Select(rect => rect.Area).ToList();
        drawn.Select(area => (area.X - drawn[0].X).ToMillimetres()).Should().Equal(0m, 36m, 72m, 108m);
        (drawn[0].X - plan.Layouts[0].Pieces[0].Area.X).Should().Be(Mm(1));
        drawn.Should().OnlyContain(area => area.Y == Mm(3) && area.SizeX == Mm(30) && area.SizeY == Mm(20));
        Drawn(System.Text.Encoding.UTF8.GetString(Nest.Output.Tablet.TabletPage.Bytes(context, Nest.Core.Cutting.CutSequencer.Order(plan)))).Should().Be(4);

        int Drawn(string html) => html.Split("class=\"milled\"").Length - 1;
    }

    [Theory]
    [InlineData("4", "4")]
    [InlineData("2-4", "2,3,4")]
    [InlineData("\"1, 4\"", "1,4")]
    [InlineData("any", "")]
    [InlineData("5-2", null)]
    [InlineData("many", null)]
    public void The_column_is_read(string cell, string? counts)
    {
        using var folder = new JobFolder();
        var read = folder.Parts("part,material,length (mm),width (mm),thickness (mm),quantity,per blank,gap between\np,6082-T6,30,20,8,8," + cell + ",6\n");

        if (counts is null)
        {
            JobFolder.Short(read.Findings).Should().Contain("parts.csv:2:7 per-blank-unreadable");
        }
        else
        {
            read.Value!.Job.Parts.Single().PerBlank!.Key.Should().Be($"{counts}|6000000|");
        }
    }

    [Fact]
    public void A_number_without_a_gap_or_of_a_round_part_is_refused()
    {
        var job = Four([4]);
        Planner.Plan(Changed(job, part => part with { PerBlank = part.PerBlank! with { Gap = Length.Zero } })).Findings.Should().ContainSingle(finding => finding.Rule == "per-blank");
        Planner.Plan(Changed(job, part => part with { Round = true, Thickness = part.Width })).Findings.Should().Contain(finding => finding.Rule == "per-blank");
    }

    private static Job Changed(Job job, Func<Part, Part> change) => job with { Parts = [.. job.Parts.Select(change)] };

    internal static Job Four(ImmutableArray<int> counts) => new()
    {
        Name = "four",
        Materials = [Aluminium with { ScrapPricePerKilogram = 0m }],
        Parts = [Flat("p", 30, 20, 9, 4) with { Forms = Forms.FlatBar, PerBlank = new() { Counts = counts, Gap = Mm(6) } }],
        Stocks = [Bar("bar", Form.FlatBar, 26, 12, 1000, 50m, 0)],
        Saws = [new() { Id = "saw", Kind = SawKind.BarSaw, Kerf = Mm(2), HourlyRate = 60m, HandlingMinutes = 1.5m, DefaultCutRate = 31.2m }],
        AllowanceRules = [new() { Allowances = new() { SideCleanUp = Mm(2), EndCleanUp = Mm(1), FaceTop = Mm(0.5m), FaceBottom = Mm(0.5m), Grip = Mm(2) } }],
        OffcutRules = [new() { KeepLength = Mm(100), Fraction = 0.5m }],
        Mill = new() { HourlyRate = 60m, DefaultRemovalRate = 10m, BlankMinutes = 2m },
    };
}
