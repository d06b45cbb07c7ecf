using CsCheck;
using Nest.Check;
using Nest.Core.Costing;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Check;

/// <summary>Any layout of through-cuts with its costs passes the checker; moved by a nanometre it does not.</summary>
public class RandomPlansTest
{
    [Fact]
    public void The_checker_finds_nothing_in_plates() =>
        RandomPlans.Plates.Where(plan => plan.Layouts[0].Pieces.Length > 0).Sample(NoFindings, iter: 400, threads: 1);

    [Fact]
    public void The_checker_finds_nothing_in_bars() => RandomPlans.Bars.Sample(NoFindings, iter: 400, threads: 1);

    [Fact]
    public void Any_piece_moved_or_grown_by_a_nanometre_is_found() =>
        RandomPlans.Plates.Where(plan => plan.Layouts[0].Pieces.Length > 0).Select(CsCheck.Gen.Int[0, 1_000_000]).Sample((plan, choice) =>
        {
            var layout = plan.Layouts[0];
            var index = choice % layout.Pieces.Length;
            var piece = layout.Pieces[index];
            var nanometre = Length.FromNanometres(1);
            var area = (choice / 7 % 4) switch
            {
                0 => piece.Area with { X = piece.Area.X + nanometre },
                1 => piece.Area with { Y = piece.Area.Y + nanometre },
                2 => piece.Area with { SizeX = piece.Area.SizeX + nanometre },
                _ => piece.Area with { SizeY = piece.Area.SizeY - nanometre },
            };
            var broken = plan with { Layouts = [layout with { Pieces = layout.Pieces.SetItem(index, piece with { Area = area }) }] };
            return PlanChecker.Check(broken).Any();
        }, iter: 400, threads: 1);

    [Fact]
    public void The_mass_balance_is_exact_and_chips_are_the_kerfs() =>
        RandomPlans.Plates.Where(plan => plan.Layouts[0].Pieces.Length > 0).Sample(plan =>
        {
            var balance = MassBalance.Of(plan);
            var layout = plan.Layouts[0];
            balance.Taken.Should().Be(balance.Oversize + balance.Blanks + balance.Kept + balance.Scrap + balance.Chips);
            // Chips by another way: what the steps turn into chips, one by one.
            var chips = Nest.Core.Cutting.CutSequencer.Sequence(plan, layout).Steps.Sum(step => step.Kerf.Area.ToSquareMetres());
            balance.Chips.Kilograms.Should().BeApproximately(chips * 0.015m * 2700m * layout.Count, 0.000_001m);
        }, iter: 200, threads: 1);

    private static void NoFindings(Plan plan)
    {
        var findings = PlanChecker.Check(plan);
        findings.Should().BeEmpty("{0}", string.Join("\n", findings.Select(finding => $"{finding.Rule} {finding}")));
        plan.PartCosts.Aggregate(Money.Zero, (sum, cost) => sum + cost.Total).Should().Be(plan.TotalCost);
    }
}
