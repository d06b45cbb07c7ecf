using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Angled blanks as the saw can hold and make them, and pieces as sets and spares ask for them.</summary>
public sealed class FitRulesTest
{
    private static readonly Length Nanometre = Length.FromNanometres(1);

    /// <summary>By hand: a strut of 300 × 40, 45° at one end and 30° the other way at the other: 300 − 40 × tan 45° = 260 are left of its shorter edge.</summary>
    [Fact]
    public void A_mitred_piece_is_held_at_its_shorter_edge()
    {
        Found(plan => plan).Should().BeEmpty();
        Found(plan => Held(plan, Mm(260))).Should().NotContain(finding => finding.Rule == "held-too-short" && finding.Where.File.Contains("(strut)"));
        Found(plan => Held(plan, Mm(260) + Nanometre)).Should().Contain(finding => finding.Rule == "held-too-short" && finding.Where.File == "layout 1, piece 2 (strut)");

        static Plan Held(Plan plan, Length shortest) => plan with { Job = plan.Job with { Saws = plan.Job.Saws.SetItem(1, plan.Job.Saws[1] with { ShortestHeld = shortest }) } };
    }

    [Fact]
    public void Angles_that_are_not_told_or_not_wanted_are_found()
    {
        Found(plan => Piece(plan, 0, piece => piece with { Ends = null })).Should().Contain(finding => finding.Rule == "end-angles");
        Found(plan => Piece(plan, 0, piece => piece with { Ends = new(piece.Ends!.End, piece.Ends.Start) })).Should().Contain(finding => finding.Rule == "end-angles");
        Found(plan => Piece(plan, 2, piece => piece with { Ends = new(Angle.FromDegrees(45), Angle.Square) })).Should().Contain(finding => finding.Rule == "end-angles");
        Found(plan => Piece(plan, 2, piece => piece with { Area = piece.Area with { SizeY = piece.Area.SizeY - Nanometre } })).Should().Contain(finding => finding.Rule == "blank-size");
        Found(plan => Piece(plan, 2, piece => piece with { Turned = true })).Should().Contain(finding => finding.Rule == "turn-mark-wrong");
    }

    [Theory]
    [InlineData(2, 2, 1, ""), InlineData(2, 2, 0, "more-than-asked"), InlineData(2, 2, 2, "demand-not-met"), InlineData(1, 5, 0, ""), InlineData(5, 1, 0, ""), InlineData(5, 1, 1, "demand-not-met")]
    public void Sets_and_spares_are_asked_for(int sets, int quantity, int spares, string expected)
    {
        // The good plan cuts five brackets.
        var plan = TestPlan.Good();
        var job = plan.Job with
        {
            Batch = sets,
            Parts = [plan.Job.Parts[0] with { Quantity = quantity, Extra = spares }, plan.Job.Parts[1] with { Quantity = 10 / sets, Extra = 10 % sets }, plan.Job.Parts[2] with { Quantity = 10 / sets, Extra = 10 % sets }],
        };
        PlanChecker.Check(plan with { Job = job }).Select(finding => finding.Rule).Should().Equal(expected.Length == 0 ? [] : [expected]);
    }

    private static ImmutableArray<Finding> Found(Func<Plan, Plan> change) => PlanChecker.Check(change(Struts()));

    private static Plan Piece(Plan plan, int index, Func<PlacedPiece, PlacedPiece> change) =>
        plan with { Layouts = [plan.Layouts[0] with { Pieces = plan.Layouts[0].Pieces.SetItem(index, change(plan.Layouts[0].Pieces[index])) }] };

    /// <summary>Two struts and a foot from one bar.</summary>
    private static Plan Struts()
    {
        var strut = Flat("strut", 300, 40, 20, 2) with
        {
            Forms = Forms.FlatBar,
            MayTurn = false,
            MillFaces = true,
            MillSides = true,
            Ends = new(Angle.FromDegrees(45), Angle.FromDegrees(-30)),
            Allowances = new() { EndCleanUp = Length.Zero, SideCleanUp = Length.Zero, FaceTop = Length.Zero, FaceBottom = Length.Zero },
        };
        var job = Job([strut, Flat("foot", 98, 34, 16) with { Forms = Forms.FlatBar }], [Bar("bar", Form.FlatBar, 40, 20, 1400) with { GoodFaces = true }]);
        var fit = Core.Blanks.BlankSizer.Size(job)[0].Fits.Single();
        var layout = TestPlan.OnSaw(job, "bar", (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [.. tree.Row("strut", fit.SizeX.ToMillimetres(), 2), .. tree.Row("foot", 100, 1)]));
        return TestPlan.Of(job, layout with { Pieces = [.. layout.Pieces.Select(piece => piece.PartId == "strut" ? piece with { Ends = fit.Ends } : piece)] });
    }
}
