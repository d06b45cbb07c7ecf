using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Desk.Model;
using Nest.Judge;
using Nest.Judge.Jobs;
using Nest.Judge.Runs;
using Nest.Planning;
using Nest.Solve.Spares;
using Nest.Tests.Check;
using Nest.Tests.Contracts;

namespace Nest.Tests.Spares;

/// <summary>Spares that take no more metal: laid into scrap, told, checked twice, and nothing of the plan's cost and bound changes.</summary>
public class FreeSparesTest
{
    // A bar of 520 mm: 8 mm off the raw left end, 8 mm reserved at the right. A pin of 100 mm is sawn to 102 mm.
    private static readonly Job Bars = TestShop.Job(
        [TestShop.Flat("pin", 100, 18, 8, 2) with { FreeSpares = 3 }], [TestShop.Bar("B", Form.FlatBar, 24, 12, 520)]);

    [Fact]
    public void Two_of_three_wanted_pins_come_out_of_the_end_of_the_bar()
    {
        var (plan, bare) = Both(Bars);

        // By hand: 504 − 2 × (102 + 2) = 296 are left, which give 2 × 102 + 2 = 206 and leave 88 behind a kerf.
        plan.Layouts.Should().ContainSingle().Which.Pieces.Where(piece => piece.Spare).Select(piece => piece.Area.X.ToMillimetres()).Should().Equal(216m, 320m);
        plan.Layouts[0].Offcuts.Should().ContainSingle().Which.Area.SizeX.ToMillimetres().Should().Be(88m);

        // Two cuts of 1 min + 2.88 cm² ÷ 40 cm²/min at 50 an hour = 0.8933 each; of the bar's 0.485222 as scrap (2.88 cm² × 52 cm × 2.7 g at 1.20 a kg)
        // 296 ÷ 520 before and 88 ÷ 520 after, down; what is milled of each is in the parts' own price.
        var facing = BlankSizer.Size(Bars)[0].Fits[0].ExtraCost;
        plan.SpareCost.Should().Be(Money.FromAmount((2 * 0.8933m) + (0.2761m - 0.0821m)) + (facing * 2));
        plan.TotalCost.Should().Be(bare.TotalCost);
        plan.Bound.Should().Be(bare.Bound);
        plan.Status.Should().Be(bare.Status);
        plan.PartCosts.Should().Equal(bare.PartCosts);
        SparesOut.Of(plan.Job, plan.Layouts).Single().Pieces.Should().Equal(bare.Layouts[0].Pieces);
    }

    [Fact]
    public void The_desk_says_which_are_cut_and_that_their_time_is_in_no_price()
    {
        var (plan, _) = Both(Bars);
        string Told(Plan one) => PlanView.Facts(one, CutSequencer.Order(one)).Single(fact => fact.Name == DeskTexts.FreeSpares).Value;
        Told(plan).Should().Be("2 of 3: 2 × pin");
        PlanView.Sentence(plan).Should().EndWith(FormattableString.Invariant($" The time of the free spares costs EUR {plan.SpareCost.Amount:0.00}, which is in no price here."));
        Told(Both(Bars with { FreeSparesUpTo = Money.Zero }).Plan).Should().Be("0 of 3");
        LayoutCard.TitleOf(plan, plan.Layouts[0]).Should().EndWith(", 2 pieces and 2 free spares each");
    }

    [Fact]
    public void With_nothing_allowed_for_their_time_there_are_none_and_with_enough_there_are()
    {
        var (free, _) = Both(Bars);
        Spares(Both(Bars with { FreeSparesUpTo = Money.Zero }).Plan).Should().Be(0);
        Spares(Both(Bars with { FreeSparesUpTo = Money.FromUnits((free.SpareCost.Units / 2) - 1) }).Plan).Should().Be(0);
        Spares(Both(Bars with { FreeSparesUpTo = Money.FromUnits((free.SpareCost.Units + 1) / 2) }).Plan).Should().Be(2);
    }

    [Fact]
    public void An_offcut_that_is_kept_stays_whole() =>
        Spares(Both(Bars with { OffcutRules = [new() { KeepLength = TestShop.Mm(250), Fraction = 0.5m }] }).Plan).Should().Be(0);

    [Fact]
    public void Bars_cut_alike_are_parted_where_fewer_spares_are_wanted_than_bars_are_cut()
    {
        // A bar takes an arm and a pin. Three arms, one pin: two bars with an arm alone, of which one gets the spare.
        var job = TestShop.Job(
            [TestShop.Flat("arm", 200, 18, 8, 3), TestShop.Flat("pin", 100, 18, 8) with { FreeSpares = 1 }], [TestShop.Bar("B", Form.FlatBar, 24, 12, 340)]);
        var (plan, bare) = Both(job);
        bare.Layouts.Select(layout => (layout.Count, layout.Pieces.Length)).Should().BeEquivalentTo([(2, 1), (1, 2)]);
        plan.Layouts.Select(layout => (layout.Count, layout.Pieces.Length, layout.Pieces.Any(piece => piece.Spare))).Should().BeEquivalentTo([(1, 2, true), (1, 1, false), (1, 2, false)]);
        SparesOut.Of(plan.Job, plan.Layouts).Select(layout => (layout.Count, layout.Pieces.Length)).Should().Equal(bare.Layouts.Select(layout => (layout.Count, layout.Pieces.Length)));
        plan.TotalCost.Should().Be(bare.TotalCost);
    }

    [Fact]
    public void A_plate_s_scrap_is_divided_by_through_cuts_of_which_the_saw_makes_each()
    {
        var job = TestShop.Job([TestShop.Flat("lug", 116, 76, 7, 3) with { FreeSpares = 9, Forms = Forms.Plate }], [TestShop.Plate("P", 420, 220, 10)]);
        var (plan, bare) = Both(job);

        // Blanks of 120 × 80 in 400 × 200: three a row of 124, two rows of 84; three are needed.
        Spares(plan).Should().Be(3);
        plan.TotalCost.Should().Be(bare.TotalCost);
    }

    [Fact]
    public void Whatever_the_job_the_checkers_agree_and_cost_and_bound_stay()
    {
        using var folder = new Data.JobFolder();
        var (laid, files) = (0, new List<string>());
        for (var seed = 0; seed < 48; seed++)
        {
            var made = TinyJobs.Make(seed);
            var job = made with { Parts = [.. made.Parts.Select((part, at) => part with { FreeSpares = part.PerBlank is null ? 2 + at : 0 })] };
            var (bare, _) = Verdict.Planned(job, TinyRun.Limits(200));
            var plan = FreeSpares.Lay(bare, BlankSizer.Size(job));
            PlanChecker.Check(plan).Should().BeEmpty("seed {0}", seed);
            (plan.TotalCost, plan.Bound, plan.Status).Should().Be((bare.TotalCost, bare.Bound, bare.Status));
            plan.SpareCost.Should().Be(CostSheet.Total(job, plan.Layouts) - CostSheet.Total(job, bare.Layouts));
            if (Spares(plan) > 0)
            {
                laid++;
                files.Add(Path.Combine(folder.Root, $"{seed}.json"));
                Planner.Save(plan, files[^1]).Should().BeEmpty();
            }
        }

        laid.Should().BeGreaterThan(8);
        if (SecondChecker.Python is not null)
        {
            var (code, text) = SecondChecker.Check(files);
            code.Should().Be(0, text);
        }
    }

    [Fact]
    public void A_plan_that_lies_about_its_spares_is_refused()
    {
        var (plan, _) = Both(Bars);
        var layout = plan.Layouts[0];
        Rules(plan with { Job = plan.Job with { Parts = [plan.Job.Parts[0] with { FreeSpares = 1 }] } }).Should().Contain("spares-too-many");
        Rules(plan with { Layouts = [layout with { Pieces = [.. layout.Pieces.Select(piece => piece with { Spare = true })] }] }).Should().Contain("demand-not-met");
        Rules(plan with { Layouts = [layout with { Pieces = [.. layout.Pieces.Select(piece => piece with { Spare = false })] }] }).Should().Contain("more-than-asked");
        Rules(plan with { SpareCost = Money.Zero }).Should().Equal("spare-cost");
        Rules(plan with { TotalCost = plan.TotalCost + plan.SpareCost }).Should().Contain("total-cost");
        Rules(plan with { Job = plan.Job with { FreeSparesUpTo = Money.FromAmount(0.5m) } }).Should().Equal("spare-cost");
        Rules(plan with { Unplaced = [new("pin", 1, "a test")] }).Should().Contain("spares-too-many");
    }

    [Fact]
    public void A_spare_out_of_an_offcut_that_would_be_kept_is_refused()
    {
        // The spares lie as without the rule; offcuts, credit and what they cost are right: only that metal worth keeping is gone is wrong.
        var (plan, _) = Both(Bars);
        var (kept, _) = Both(Bars with { OffcutRules = [new() { KeepLength = TestShop.Mm(250), Fraction = 0.5m }] });
        var cut = kept with { Layouts = [plan.Layouts[0] with { Cost = plan.Layouts[0].Cost }] };
        cut = cut with { SpareCost = CostSheet.Total(cut.Job, cut.Layouts) - cut.TotalCost };
        Rules(cut).Should().Equal("spare-takes-metal");
    }

    // The pins fill their bar; the arm's bar, thicker, has room for one. Where a further size of blank is set up for, it stays empty, and a plan that fills it is refused for just that.
    [Fact]
    public void A_spare_of_a_further_size_is_cut_only_where_sizes_cost_nothing()
    {
        var job = TestShop.Job(
            [TestShop.Flat("pin", 100, 18, 8, 4) with { FreeSpares = 1 }, TestShop.Flat("arm", 200, 18, 12)],
            [TestShop.Bar("thin", Form.FlatBar, 24, 12, 440), TestShop.Bar("thick", Form.FlatBar, 24, 16, 340, 45)]);
        job = job with { Mill = job.Mill with { HourlyRate = 60m } };
        var (plan, _) = Both(job);
        plan.Layouts.Single(layout => layout.StockId == "thick").Pieces.Select(piece => (piece.PartId, piece.Spare)).Should().Equal(("arm", false), ("pin", true));

        var fussy = job with { Fuss = new() { FurtherSizeMinutes = 30m } };
        Spares(Both(fussy).Plan).Should().Be(0);
        var refused = plan with { Job = fussy, SpareCost = CostSheet.Total(fussy, plan.Layouts) - plan.TotalCost };
        Rules(refused).Should().Equal("spare-further-size");
    }

    [Fact]
    public void A_bar_that_is_taken_for_spares_alone_is_refused()
    {
        // Four pins fill a bar and the fifth has one to itself; said to be a spare of four that are needed, it takes metal.
        var five = Bars with { Parts = [Bars.Parts[0] with { Quantity = 5, FreeSpares = 0 }] };
        var plan = Both(five).Plan;
        plan.Layouts.Select(layout => layout.Pieces.Length).Should().BeEquivalentTo([4, 1]);
        var four = five with { Parts = [five.Parts[0] with { Quantity = 4, FreeSpares = 1 }] };

        Layout Alone(Layout layout) => layout.Pieces.Length == 1 ? layout with { Pieces = [layout.Pieces[0] with { Spare = true }] } : layout;
        Rules(plan with { Job = four, Layouts = [.. plan.Layouts.Select(Alone)] }).Should().Contain("spare-takes-metal");
        Both(four).Plan.Layouts.Should().ContainSingle();
    }

    [Fact]
    public void Layouts_that_stay_of_an_earlier_plan_are_kept_without_their_spares()
    {
        var (plan, bare) = Both(Bars);
        var (job, problems) = KeptLayouts.On(Bars, plan, [1]);
        problems.Should().BeEmpty();
        job!.Kept.Single().Pieces.Should().Equal(bare.Layouts[0].Pieces);
        Spares(Planner.Plan(job, new() { Work = 200 }).Plan!).Should().Be(2);
    }

    [Fact]
    public void Several_parts_from_one_blank_and_free_spares_do_not_go_together() =>
        JobChecker.Check(Bars with { Parts = [Bars.Parts[0] with { PerBlank = new() { Counts = [2] } }] }).Select(finding => finding.Rule).Should().Contain("free-spares");

    private static ImmutableArray<string> Rules(Plan plan) => [.. PlanChecker.Check(plan).Select(finding => finding.Rule).Distinct()];

    private static int Spares(Plan plan) => plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Count(piece => piece.Spare));

    /// <summary>The plan of a job, checked, and the one without its free spares.</summary>
    private static (Plan Plan, Plan Bare) Both(Job job)
    {
        var plan = Planner.Plan(job, new() { Work = 200, Threads = 1 });
        plan.Findings.Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        var bare = Planner.Plan(job with { Parts = [.. job.Parts.Select(part => part with { FreeSpares = 0 })], FreeSparesUpTo = null }, new() { Work = 200, Threads = 1 });
        return (plan.Plan!, bare.Plan!);
    }
}
