using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Blanks for several parts: a plan with whole blanks, one for the rest and a pair of hands, and what makes it wrong.</summary>
/// <remarks>By hand: a part of 30 × 20 × 9 with gaps of 6 and 2 to clean up on each side: four in a square take 70 × 50, two in a row 70 × 24.
/// Fourteen clips are three blanks of four and one of two.</remarks>
public sealed class GangRulesTest
{
    private static readonly Part _clip = Flat("clip ×4", 30, 20, 9, 14) with
    {
        Forms = Forms.Plate,
        PerBlank = new() { Counts = [2, 4], Gap = Mm(6) },
        Gang = new() { Rows = 2, Columns = 2, Blanks = 3, Members = [new("clip", 4, 14)] },
    };

    private static readonly Part _rest = _clip with { Id = "clip ×2", Gang = new() { Rows = 1, Columns = 2, Blanks = 1, Rest = true, Members = [new("clip", 2, 14)] } };

    private static readonly Part _hands = _clip with
    {
        Id = "left + right ×2",
        Quantity = 2,
        PerBlank = new() { Counts = [2], Gap = Mm(6), With = "Right" },
        Gang = new() { Rows = 1, Columns = 2, Blanks = 2, Members = [new("left", 1, 2), new("right", 1, 2)] },
    };

    private static readonly MillRates _mill = new()
    {
        HourlyRate = 90m, DefaultRemovalRate = 30m, BlankMinutes = 2m, TravelX = Mm(70), TravelY = Mm(50), ViseOpening = Mm(50),
    };

    [Fact]
    public void The_plan_of_gang_blanks_is_right()
    {
        var plan = Good();
        var findings = PlanChecker.Check(plan);
        findings.Should().BeEmpty(string.Join("\n", findings.Select(finding => $"{finding.Rule} {finding}")));
        plan.Layouts[0].Pieces.Should().HaveCount(6);

        // By hand: four of 5.4 cm³ out of 7 × 5 × 1.2 cm: 20.4 cm³ at 30 cm³/min and 2 minutes to clamp, at 90 an hour.
        plan.PartCosts[0].Facing.Amount.Should().Be(3 * ((20.4m / 30 * 1.5m) + 3m));
    }

    /// <summary>What is done to the parts, and the rule and the part of a finding.</summary>
    public static TheoryData<string, Func<Job, Job>, string, string> Broken() => new()
    {
        { "several parts that are not allowed", job => At(job, 0, part => part with { PerBlank = null }), "gang", "clip ×4" },
        { "round", job => At(job, 0, part => part with { Round = true, Width = Mm(9) }), "gang", "clip ×4" },
        { "a length of a section", job => At(job, 0, part => part with { Detail = new() { Wall = Mm(2) } }), "gang", "clip ×4" },
        { "angled ends", job => At(job, 0, part => part with { Ends = new(Angle.FromDegrees(45), Angle.Square) }), "gang", "clip ×4" },
        { "no member", job => Gang(job, 0, gang => gang with { Members = [] }), "gang", "clip ×4" },
        { "three members", job => Gang(job, 0, gang => gang with { Members = [new("a", 1, 1), new("b", 1, 1), new("c", 2, 1)] }), "gang", "clip ×4" },
        { "a member of none", job => Gang(job, 2, gang => gang with { Members = [new("left", 2, 2), new("right", 0, 2)] }), "gang", "left + right ×2" },
        { "a member that nobody asks for", job => Gang(job, 2, gang => gang with { Members = [new("left", 1, 2), new("right", 1, 0)] }), "gang", "left + right ×2" },
        { "one blank too many", job => Gang(job, 0, gang => gang with { Blanks = 4 }), "gang-count", "clip" },
        { "one blank too few", job => Gang(job, 0, gang => gang with { Blanks = 2 }), "gang-count", "clip" },
        { "two words on what is asked for", job => Gang(job, 1, gang => gang with { Members = [new("clip", 2, 13)] }), "gang-count", "clip" },
        { "more asked for", job => At(job, 1, part => part with { Extra = 1 }), "gang-count", "clip ×2" },
        { "two sets", job => job with { Batch = 2 }, "gang-count", "clip ×2" },
        { "a blank of its own beside them", job => job with { Parts = [.. job.Parts, Flat("clip", 30, 20, 9, 1)] }, "gang-count", "clip" },
        { "fewer places than pieces", job => Gang(job, 0, gang => gang with { Rows = 1 }), "gang-count", "clip ×4" },
        { "hands that are not half and half", job => Gang(job, 2, gang => gang with { Columns = 3, Members = [new("left", 1, 2), new("right", 2, 2)] }), "gang-count", "left + right ×2" },
        { "another's hand", job => At(job, 2, part => part with { PerBlank = part.PerBlank! with { With = "left" } }), "gang-count", "left + right ×2" },
        { "whole blanks of two numbers", job => Gang(job, 1, gang => gang with { Rest = false }), "gang-count", "clip" },
        { "more than the largest number", job => At(job, 0, part => part with { PerBlank = part.PerBlank! with { Counts = [1, 2] } }), "gang-number", "clip ×4" },
        { "a number that is not allowed", job => At(job, 0, part => part with { PerBlank = part.PerBlank! with { Counts = [1, 2, 14] } }), "gang-number", "clip ×4" },
        { "longer than the travel", job => job with { Mill = _mill with { TravelX = Mm(69.9m) } }, "gang-size", "clip ×4" },
        { "wider than the travel", job => job with { Mill = _mill with { TravelY = Mm(49.9m) } }, "gang-size", "clip ×4" },
        { "wider than the vise", job => job with { Mill = _mill with { ViseOpening = Mm(49.9m) } }, "gang-size", "clip ×4" },
        { "wider than soft jaws", job => At(job with { Mill = _mill with { ViseOpening = Mm(49.9m) } }, 0, part => part with { Holding = Holding.SoftJaws }), "gang-size", "clip ×4" },
    };

    [Theory]
    [MemberData(nameof(Broken))]
    public void What_is_wrong_with_gang_blanks_is_found(string what, Func<Job, Job> change, string rule, string part) =>
        Findings(change).Should().Contain((rule, $"part {part}"), what);

    public static TheoryData<string, Func<Job, Job>> Fine() => new()
    {
        { "no limits of the mill", job => job with { Mill = _mill with { TravelX = null, TravelY = null, ViseOpening = null } } },
        { "a small vise for what is clamped elsewhere", job => Clamped(job with { Mill = _mill with { ViseOpening = Mm(10) } }, Holding.FixturePlate) },
        { "any number", job => At(job, 0, part => part with { PerBlank = part.PerBlank! with { Counts = [] } }) },
        { "a smaller rest than the list allows", job => At(job, 1, part => part with { PerBlank = part.PerBlank! with { Counts = [4] } }) },
        { "a number beside the list where the mill holds none of it", job => At(job, 0, part => part with { PerBlank = part.PerBlank! with { Counts = [9, 16] } }) },
        { "a number beside the list where fewer are asked for", job => At(job, 0, part => part with { PerBlank = part.PerBlank! with { Counts = [15] } }) },
        { "one part a blank, and nothing of a gang", job => job with { Parts = [.. job.Parts, Flat("nut", 30, 20, 9, 0) with { PerBlank = new() { Counts = [1] } }] } },
    };

    [Theory]
    [MemberData(nameof(Fine))]
    public void What_may_be_is_no_finding(string what, Func<Job, Job> change) =>
        Findings(change).Where(finding => finding.Rule.StartsWith("gang", StringComparison.Ordinal)).Should().BeEmpty(what);

    [Fact]
    public void A_number_that_stays_of_an_earlier_plan_may_be_another()
    {
        var plan = Good();
        plan = plan with { Job = Gang(plan.Job, 1, gang => gang with { Rest = false }) };
        var kept = plan with { Layouts = [plan.Layouts[0] with { Pieces = plan.Layouts[0].Pieces.RemoveAt(3) }, plan.Layouts[0] with { Pieces = [plan.Layouts[0].Pieces[3]], Kept = true }] };
        PlanChecker.Check(plan).Should().Contain(finding => finding.Message.Contains("different numbers"));
        PlanChecker.Check(kept).Should().NotContain(finding => finding.Message.Contains("different numbers"));
        PlanChecker.Check(kept with { Unplaced = [new("clip ×2", 1, "a test")] }).Should().Contain(finding => finding.Message.Contains("different numbers"));
    }

    private static List<(string Rule, string Where)> Findings(Func<Job, Job> change)
    {
        var plan = Good();
        return [.. PlanChecker.Check(plan with { Job = change(plan.Job) }).Select(finding => (finding.Rule, finding.Where.File))];
    }

    private static Plan Good()
    {
        var job = Job([_clip, _rest, _hands], [Leftover("R", 600, 400, 12)]) with { Mill = _mill };
        return TestPlan.Of(job, TestPlan.OnSaw(job, "R", (usable, tree) => tree.Split(usable, CutDirection.Rip,
            strip => tree.Split(strip(50), CutDirection.Crosscut, [.. tree.Row("clip ×4", 70, 3)]),
            strip => tree.Split(strip(24), CutDirection.Crosscut, [.. tree.Row("clip ×2", 70, 1), .. tree.Row("left + right ×2", 70, 2)]))));
    }

    private static Job At(Job job, int index, Func<Part, Part> change) => job with { Parts = job.Parts.SetItem(index, change(job.Parts[index])) };

    private static Job Gang(Job job, int index, Func<Gang, Gang> change) => At(job, index, part => part with { Gang = change(part.Gang!) });

    private static Job Clamped(Job job, Holding holding) => job with { Parts = [.. job.Parts.Select(part => part with { Holding = holding })] };
}
