using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Cutting;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Choose;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Blanks;

/// <summary>Angled ends from the part to the checked plan. Expected lengths are worked out here by <c>Math.Cos</c>.</summary>
public class AngledEndsTest
{
    private static readonly Saw Saw = BarSaw with { ShortestHeld = Mm(30) };

    private static Part Side(decimal length, decimal start, decimal end, int quantity, string id = "side") =>
        Flat(id, length, 40, 20, quantity) with
        {
            Ends = new(Angle.FromDegrees(start), Angle.FromDegrees(end)),
            MillFaces = true,
            MillSides = true,
            MayTurn = false,
            Allowances = new() { EndCleanUp = Length.Zero, SideCleanUp = Length.Zero, FaceTop = Length.Zero, FaceBottom = Length.Zero },
        };

    private static Stock Flat40(decimal length = 3000m, decimal price = 40m) =>
        Bar($"40x20-{length}", Form.FlatBar, 40, 20, length, price) with { GoodFaces = true };

    private static Job Made(ImmutableArray<Part> parts, params ImmutableArray<Stock> stocks) => Job(parts, stocks, PlateSaw, Saw);

    [Fact]
    public void The_blank_is_long_point_to_long_point_and_the_kerfs_of_both_cuts()
    {
        var blank = BlankSizer.Size(Made([Side(500, 45, -30, 1)], Flat40(), Plate("plate", 1000, 600, 22))).Single();

        var bar = blank.Fits.Single(fit => fit.StockId == "40x20-3000");
        var kerfs = (2_000_000 / Math.Cos(Math.PI / 4)) + (2_000_000 / Math.Cos(Math.PI / 6));
        (bar.SizeX.Nanometres - 500_000_000 - kerfs).Should().BeInRange(0, 20_000);
        (bar.SizeX.Nanometres % 10_000).Should().Be(0);
        bar.Ends.Should().Be(new EndAngles(Angle.FromDegrees(45), Angle.FromDegrees(-30)));

        // From plate: the rectangle long point to long point.
        var plate = blank.Fits.Single(fit => fit.StockId == "plate");
        plate.SizeX.Should().Be(Mm(500));
        plate.Ends.Should().BeNull();
    }

    /// <summary>Trigonometry of the sawn bar, in floating point: wherever across the bar the part is milled from, its long points are there.</summary>
    [Theory]
    [InlineData(45, 45), InlineData(30, -30), InlineData(-60, -15), InlineData(0, 45), InlineData(-22.5, 0), InlineData(52, -10)]
    public void A_bar_wider_than_the_part_is_cut_long_enough_to_be_milled_from_anywhere(decimal start, decimal end)
    {
        var part = Side(250, start, end, 1) with { MillSides = false, MillFaces = false };
        var wide = Bar("100x25", Form.FlatBar, 100, 25, 3000, 80);
        var fit = BlankSizer.Size(Made([part], wide)).Single().Fits.Single();
        var kerfs = new EndAngles(part.Ends!.Start, part.Ends.End).Beyond(Saw.Kerf, LengthUnit.Millimetre);
        var sawn = (double)(fit.SizeX - kerfs).ToMillimetres();
        var least = double.MaxValue;
        for (var offset = 0.0; offset <= 60; offset += 0.5)
        {
            // How far in the sawn end stands at the height of the part's own long point.
            least = Math.Min(least, sawn - In((double)start, offset) - In((double)end, offset));
        }

        least.Should().BeInRange(250 - 1e-9, 250.03);
        PlanChecker.Check(SolverTests.Solve(Made([part with { Quantity = 3 }], wide))).Should().BeEmpty();

        // Sides that stay as rolled: nothing is milled, nothing is added.
        var stays = BlankSizer.Size(Made([part with { MillSides = true, MillFaces = true }], Flat40())).Single().Fits.Single();
        stays.SizeX.Should().Be(Mm(250) + kerfs);

        static double In(double angle, double offset) =>
            Math.Tan(Math.Abs(angle) * Math.PI / 180) * (angle > 0 ? offset : 100 - 40 - offset);
    }

    [Fact]
    public void Ends_that_are_machined_are_sawn_square_and_the_job_says_so()
    {
        var part = Side(500, 45, 45, 1);
        var job = Made([part with { Allowances = part.Allowances! with { EndCleanUp = Mm(1) } }], Flat40());

        BlankSizer.Size(job).Single().Fits.Single().Should().Match<BlankFit>(fit => fit.Ends == null && fit.SizeX == Mm(502));
        JobChecker.Check(job).Should().ContainSingle(finding => finding.Rule == "angle-not-sawn" && finding.Severity == Severity.Note);
    }

    [Fact]
    public void What_the_clamp_cannot_hold_at_the_short_edge_is_not_planned()
    {
        // 100 long point to long point, 40 wide, 45° at both ends: the short edge is 20, the clamp needs 30.
        var blank = BlankSizer.Size(Made([Side(100, 45, 45, 1)], Flat40())).Single();
        blank.Fits.Should().BeEmpty();
        blank.Reason.Should().Contain("shorter edge").And.Contain("20");

        // Parallel ends: both edges are 60.
        BlankSizer.Size(Made([Side(100, 45, -45, 1)], Flat40())).Single().Fits.Should().NotBeEmpty();
    }

    /// <summary>Small jobs against every way to fill bars (order does not matter: each blank takes its own length).</summary>
    [Theory]
    [InlineData(1), InlineData(2), InlineData(3), InlineData(4), InlineData(5), InlineData(6), InlineData(7), InlineData(8)]
    public void Plans_are_checked_proven_and_as_cheap_as_brute_force(int seed)
    {
        var random = new Random(seed);
        decimal Lean() => random.Next(4) switch { 0 => 0m, 1 => 45m, 2 => -22.5m, _ => random.Next(-60, 61) + 0.125m };
        ImmutableArray<Part> parts = [.. Enumerable.Range(0, 3).Select(k => Side(random.Next(260, 900), Lean(), Lean(), random.Next(1, 3), $"p{k}"))];
        parts = [.. parts.Select(part => part.Ends!.Cuts == 0 ? part with { Ends = null } : part)];

        // One length of stock and nothing kept: cost = bars × price + the same cuts in every plan.
        var stock = Flat40(1200) with { CleanEdges = new(true, true, true, true) };
        var job = Made(parts, stock) with { OffcutRules = [] };
        job = job with { Saws = [.. job.Saws.Select(saw => saw with { SettingMinutes = 0 })] };
        job = job with { Materials = [.. job.Materials.Select(material => material with { ScrapPricePerKilogram = 0 })] };
        var plan = SolverTests.Solve(job);

        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Status.Should().Be(SolveStatus.Proven);
        var needs = parts.SelectMany(part => Enumerable.Repeat(Need(part), part.Quantity)).OrderDescending().ToArray();
        plan.Layouts.Sum(layout => layout.Count).Should().Be(Bars(needs, 1_200_000_000 + 2_000_000));
        var cuts = parts.Sum(part => part.Quantity * (1 + (part.Ends?.Cuts ?? 0)));
        plan.Layouts.Sum(layout => layout.Count * CutSequencer.Sequence(plan, layout).AngledCuts.Sum(cut => cut.Pieces))
            .Should().Be(cuts - parts.Sum(part => part.Quantity));

        static long Need(Part part) => part.Length.Nanometres + 2_000_000 + (part.Ends is not { } ends ? 0 : Kerf(ends.Start) + Kerf(ends.End));

        static long Kerf(Angle angle) => angle.IsSquare ? 0
            : (long)Math.Ceiling((200 / Math.Cos((double)angle.ToDegrees() * Math.PI / 180)) - 1e-9) * 10_000;
    }

    [Fact]
    public void The_saw_is_set_to_each_angle_once_and_measures_to_the_long_points()
    {
        var plan = SolverTests.Solve(Made([Side(500, 45, 45, 3, "a"), Side(400, 45, 30, 2, "b")], Flat40()));
        PlanChecker.Check(plan).Should().BeEmpty();
        var sequence = CutSequencer.Sequence(plan, plan.Layouts.Single());

        sequence.AngledCuts.Count(cut => cut.NewAngle).Should().Be(2);
        sequence.AngledCuts.Select(cut => (cut.PartId, cut.End, cut.Angle.ToDegrees(), cut.Pieces)).Should().Equal(
            ("b", Edge.Right, 30m, 2), ("a", Edge.Left, 45m, 3), ("a", Edge.Right, 45m, 3), ("b", Edge.Left, 45m, 2));

        // The last cut of a blank is measured from long point to long point: the drawing's length.
        sequence.AngledCuts[2].Measure.Should().Be(Mm(500));
        sequence.AngledCuts[3].Measure.Should().Be(Mm(400));
        sequence.Settings.Should().Be(sequence.Steps.Count(step => step.NewSetting || step.Marked) + 4);
    }

    [Fact]
    public void The_checker_finds_angles_that_are_wrong_or_missing()
    {
        var good = SolverTests.Solve(Made([Side(500, 45, 45, 1)], Flat40()));
        PlanChecker.Check(good).Should().BeEmpty();
        foreach (var wrong in (EndAngles?[])[null, new(Angle.FromDegrees(45), Angle.FromDegrees(-45)), new(Angle.FromDegrees(45), Angle.Square)])
        {
            var layout = good.Layouts.Single();
            var broken = good with { Layouts = [layout with { Pieces = [layout.Pieces.Single() with { Ends = wrong }] }] };
            PlanChecker.Check(broken).Select(finding => finding.Rule).Should().Contain("end-angles");
        }
    }

    // Fewest bins by trying everything.
    private static int Bars(long[] needs, long capacity)
    {
        var best = needs.Length;
        Place(0, []);
        return best;

        void Place(int at, List<long> loads)
        {
            if (loads.Count >= best)
            {
                return;
            }

            if (at == needs.Length)
            {
                best = loads.Count;
                return;
            }

            for (var bar = 0; bar < loads.Count; bar++)
            {
                if (loads[bar] + needs[at] <= capacity)
                {
                    loads[bar] += needs[at];
                    Place(at + 1, loads);
                    loads[bar] -= needs[at];
                }
            }

            Place(at + 1, [.. loads, needs[at]]);
        }
    }
}
