using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Inputs;

/// <summary>Blanks for several parts that stay in a job whose number per blank is open again.</summary>
/// <remarks>By hand: a clip of 30 × 20 × 9 with gaps of 6 and 2 to clean up on each side: four in a square take 70 × 50, two in a row 70 × 24. Fourteen clips are three blanks of four
/// (layout 1) and one of two (layout 2, beside two blanks of a left and a right one).</remarks>
public sealed class KeptGangsTest
{
    private static readonly Part _clip = Flat("clip", 30, 20, 9, 14) with { Forms = Forms.Plate, PerBlank = new() { Counts = [2, 4], Gap = Mm(6) } };

    private static readonly Part _left = _clip with { Id = "left", Quantity = 2, PerBlank = new() { Counts = [2], Gap = Mm(6), With = "Right" } };

    private static readonly Job _open = Job(
        [_clip, _left, _left with { Id = "right", PerBlank = _left.PerBlank! with { With = "left" } }],
        [Leftover("R1", 600, 400, 12), Leftover("R2", 600, 400, 12)]) with
    {
        Mill = new() { HourlyRate = 90m, DefaultRemovalRate = 30m, TravelX = Mm(70), TravelY = Mm(50), ViseOpening = Mm(50) },
    };

    [Fact]
    public void Blanks_that_stay_stand_before_the_part_that_is_milled_from_them()
    {
        var (job, problems) = KeptLayouts.On(_open, Old(), [1, 2]);
        problems.Should().BeEmpty();
        job!.Parts.Select(part => (part.Id, part.Gang?.Blanks)).Should().Equal(("clip ×4", 3), ("clip ×2", 1), ("clip", null), ("left + right ×2", 2), ("left", null), ("right", null));
        job.Kept.Select(layout => layout.Pieces.Length).Should().Equal(3, 3);

        // Of one layout only its own blanks; what is asked for is the new job's.
        var one = KeptLayouts.On(Part(0, part => part with { Quantity = 20 }), Old(), [1]).Job!;
        one.Parts.Select(part => (part.Id, part.Gang?.Blanks)).Should().Equal(("clip ×4", 3), ("clip", null), ("left", null), ("right", null));
        one.Parts[0].Gang!.Members.Should().Equal(new GangMember("clip", 4, 20));
        var gone = KeptLayouts.On(_open with { Parts = [_open.Parts[0], _open.Parts[1]] }, Old(), [2]).Job!;
        gone.Parts[2].Gang!.Members.Should().Equal([new("left", 1, 2), new("right", 1, 1)], "the job asks for no right one any more");
    }

    /// <summary>What the new job says, which layout is to stay, and what is in the way; empty: nothing.</summary>
    public static TheoryData<Job, int, string> Changes() => new()
    {
        { Rule(0, rule => rule with { Counts = [4] }), 1, "" },
        { Rule(0, rule => rule with { Counts = [4] }), 2, "" },
        { Rule(0, rule => rule with { Counts = [2] }), 1, "layout 1 cannot stay: 'per blank' of clip does not allow 4 any more" },
        { Rule(0, rule => rule with { Counts = [1] }), 2, "layout 2 cannot stay: 'per blank' of clip does not allow 2 any more" },
        { Rule(0, rule => rule with { Counts = [] }), 1, "" },
        { _open with { Mill = _open.Mill with { TravelX = Mm(69.9m) } }, 1, "layout 1 cannot stay: clip ×4 is larger than the mill takes now" },
        { _open with { Mill = _open.Mill with { TravelY = Mm(49.9m) } }, 1, "layout 1 cannot stay: clip ×4 is larger than the mill takes now" },
        { _open with { Mill = _open.Mill with { TravelY = Mm(49.9m) } }, 2, "" },
        { Rule(1, rule => rule with { With = null }), 2, "layout 2 cannot stay: left + right ×2 is for two parts that no longer share their blanks" },
        { Rule(0, rule => rule with { Gap = Mm(5) }), 1, "layout 1 cannot stay: clip ×4 is no part of this job, or its blank from R1 is another now" },
        { Part(0, part => part with { PerBlank = null }), 1, "layout 1 cannot stay: clip ×4 is no part of this job, or its blank from R1 is another now" },
        { Part(0, part => part with { Quantity = 12 }), 1, "" },
        { Part(0, part => part with { Quantity = 11 }), 1, "the layouts that are to stay give 12 of clip, and 11 are wanted: let one of them go" },
        { Part(2, part => part with { Quantity = 1 }), 2, "the layouts that are to stay give 2 of right, and 1 are wanted: let one of them go" },
    };

    [Theory]
    [MemberData(nameof(Changes))]
    public void What_the_list_and_the_mill_allow_today_decides(Job job, int layout, string problem) =>
        KeptLayouts.On(job, Old(), [layout]).Problems.Should().Equal(problem.Length == 0 ? [] : [problem]);

    /// <summary>Single blanks of an earlier plan become blanks for one, and are counted off.</summary>
    [Fact]
    public void Single_blanks_stay_as_blanks_for_one()
    {
        var plain = Job([Flat("clip", 30, 20, 9, 5) with { Forms = Forms.Plate }], [_open.Stocks[0]]);
        var old = TestPlan.Of(plain, TestPlan.OnSaw(plain, "R1", (usable, tree) => tree.Split(usable, CutDirection.Rip,
            strip => tree.Split(strip(24), CutDirection.Crosscut, [.. tree.Row("clip", 34, 5)]))));
        var (job, problems) = KeptLayouts.On(Rule(0, rule => rule with { Counts = [1, 4] }), old, [1]);
        problems.Should().BeEmpty();
        job!.Parts.Take(2).Select(part => (part.Id, part.Gang?.Blanks)).Should().Equal(("clip ×1", 5), ("clip", null));
        job.Parts[0].Gang!.Members.Should().Equal(new GangMember("clip", 1, 14));
        job.Kept.Single().Pieces.Should().OnlyContain(piece => piece.PartId == "clip ×1");
        KeptLayouts.On(_open, old, [1]).Problems.Should().Equal("layout 1 cannot stay: 'per blank' of clip does not allow 1 any more");

        // Of a job without open numbers nothing is renamed.
        KeptLayouts.On(plain, old, [1]).Job!.Kept.Single().Pieces.Should().OnlyContain(piece => piece.PartId == "clip");
    }

    [Fact]
    public void As_many_stay_as_go_together_and_the_first_ones_first()
    {
        var good = TestPlan.Good();
        Numbers(good.Job, [], [1, 2, 3]).Should().Equal(1, 2, 3);
        Numbers(good.Job, [3], [2]).Should().Equal(2, 3);
        Numbers(good.Job, [2], [2, 9]).Should().Equal(2);

        // Four brackets are wanted, layout 1 cuts four of them and layout 2 one.
        var fewer = good.Job with { Parts = good.Job.Parts.SetItem(0, good.Job.Parts[0] with { Quantity = 4 }) };
        Numbers(fewer, [], [1, 2, 3]).Should().Equal(1, 3);
        Numbers(fewer, [], [2, 1, 3]).Should().Equal(2, 3);
        Numbers(fewer, [2], [1, 3]).Should().Equal(2, 3);
        Numbers(fewer, [1, 2], [3]).Should().BeNull("both must stay and cannot");
        Numbers(fewer, [9], [3]).Should().BeNull("there is no layout 9");
        Numbers(good.Job with { Stocks = [good.Job.Stocks[3]] }, [], [1, 2, 3]).Should().BeNull("no stock is left");

        // With open numbers: the blanks of those that stay, and of no other.
        KeptLayouts.AsMany(_open, Old(), [], [1, 2])!.Kept.Select(layout => layout.Number).Should().Equal(1, 2);
        var twelve = Part(0, part => part with { Quantity = 12 });
        KeptLayouts.AsMany(twelve, Old(), [], [1, 2])!.Kept.Select(layout => layout.Number).Should().Equal([1], "layout 1 gives all twelve clips");
        KeptLayouts.AsMany(twelve, Old(), [], [2, 1])!.Kept.Select(layout => layout.Number).Should().Equal([2], "twelve more clips would be too many");
        KeptLayouts.AsMany(Rule(0, rule => rule with { Counts = [2] }), Old(), [], [1, 2])!.Parts.Select(part => part.Id)
            .Should().Equal("clip ×2", "clip", "left + right ×2", "left", "right");

        IEnumerable<int>? Numbers(Job wanted, int[] must, int[] others) => KeptLayouts.AsMany(wanted, good, must, others)?.Kept.Select(layout => layout.Number);
    }

    /// <summary>A spare that was laid for nothing is laid anew, so it hinders no layout that stays.</summary>
    [Fact]
    public void Free_spares_do_not_stay()
    {
        var good = TestPlan.Good();
        var feet = good.Layouts[2];
        var spared = good with
        {
            Job = good.Job with { Parts = good.Job.Parts.SetItem(2, good.Job.Parts[2] with { Quantity = 9, FreeSpares = 1 }) },
            Layouts = good.Layouts.SetItem(2, feet with { Pieces = feet.Pieces.SetItem(9, feet.Pieces[9] with { Spare = true }) }),
        };
        KeptLayouts.On(spared.Job, spared, [3]).Job!.Kept.Single().Pieces.Should().Equal(feet.Pieces.Take(9));
        KeptLayouts.AsMany(spared.Job, spared, [3], [])!.Kept.Single().Pieces.Should().Equal(feet.Pieces.Take(9));
    }

    private static Job Part(int index, Func<Part, Part> change) => _open with { Parts = _open.Parts.SetItem(index, change(_open.Parts[index])) };

    private static Job Rule(int index, Func<PerBlank, PerBlank> change) => Part(index, part => part with { PerBlank = change(part.PerBlank!) });

    private static Plan Old()
    {
        var four = _clip with { Id = "clip ×4", Gang = new() { Rows = 2, Columns = 2, Blanks = 3, Members = [new("clip", 4, 14)] } };
        var job = _open with
        {
            Parts =
            [
                four,
                four with { Id = "clip ×2", Gang = new() { Rows = 1, Columns = 2, Blanks = 1, Rest = true, Members = [new("clip", 2, 14)] } },
                _left with { Id = "left + right ×2", Gang = new() { Rows = 1, Columns = 2, Blanks = 2, Members = [new("left", 1, 2), new("right", 1, 2)] } },
            ],
        };
        return TestPlan.Of(
            job,
            TestPlan.OnSaw(job, "R1", (usable, tree) => tree.Split(usable, CutDirection.Rip, strip => tree.Split(strip(50), CutDirection.Crosscut, [.. tree.Row("clip ×4", 70, 3)]))),
            TestPlan.OnSaw(job, "R2", (usable, tree) => tree.Split(usable, CutDirection.Rip,
                strip => tree.Split(strip(24), CutDirection.Crosscut, [.. tree.Row("clip ×2", 70, 1), .. tree.Row("left + right ×2", 70, 2)]))));
    }
}
