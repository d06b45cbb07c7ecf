using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Rack.Plans;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>Which edges of what is left are clean: those that were sawn, and those that were clean before.</summary>
/// <remarks>One piece in the lower left corner of a plate of 600 × 400; what is left of its strip lies at its right, or what is left of its column above it.</remarks>
public sealed class SawnEdgesTest
{
    /// <summary>By hand, where the left and the bottom edge are trimmed: beside the piece the strip is sawn at its left, bottom and top, its right end is raw; the rest above is raw at its right
    /// and top. Without trims also the left edge of what lies above and the bottom of what lies beside are raw.</summary>
    [Theory]
    [InlineData(true, true, "left bottom top", "left bottom"), InlineData(true, false, "left bottom", "left right bottom")]
    [InlineData(false, true, "left top", "bottom"), InlineData(false, false, "left", "right bottom")]
    public void Edges_inside_the_sheet_were_sawn(bool trimmed, bool ripFirst, string beside, string above)
    {
        var (one, two) = Left(trimmed, ripFirst, default);
        (Words(one), Words(two)).Should().Be((beside, above));
    }

    [Fact]
    public void Edges_that_were_clean_stay_clean()
    {
        var (one, two) = Left(false, true, new(true, true, true, true));
        (Words(one), Words(two)).Should().Be(("left right bottom top", "left right bottom top"));
    }

    private static string Words(CleanEdges clean) =>
        string.Join(' ', new[] { clean.Left ? "left" : "", clean.Right ? "right" : "", clean.Bottom ? "bottom" : "", clean.Top ? "top" : "" }.Where(word => word.Length > 0));

    private static (CleanEdges Beside, CleanEdges Above) Left(bool trimmed, bool ripFirst, CleanEdges before)
    {
        var part = SamplePlans.Part("part", SamplePlans.Aluminium.Id, 200, 100, 10, 1);
        var stock = SamplePlans.Plate("plate", 600, 400, 10, 50) with { CleanEdges = before };
        var saw = SamplePlans.PlateSaw with { Kerf = SamplePlans.Mm(3), Trims = trimmed ? SamplePlans.PlateSaw.Trims : default };
        var job = SamplePlans.Job("edges", [part], [stock]) with { Saws = [saw] };
        var trims = saw.TrimsOn(stock);
        var sheet = Box(0, 0, 600, 400);
        var (x, y) = (trims.Left.ToMillimetres(), trims.Bottom.ToMillimetres());
        var (wide, high) = (600 - (2 * x), 400 - (2 * y));
        var piece = Box(x, y, 200, 100);
        var beside = Box(x + 203, y, wide - 203, ripFirst ? 100 : high);
        var above = Box(x, y + 103, ripFirst ? wide : 200, high - 103);
        var strip = ripFirst ? piece with { SizeX = SamplePlans.Mm(wide) } : piece with { SizeY = SamplePlans.Mm(high) };
        var (inside, outside) = ripFirst ? (Leaf(CutNodeKind.Offcut, beside, 0), Leaf(CutNodeKind.Offcut, above, 1)) : (Leaf(CutNodeKind.Offcut, above, 1), Leaf(CutNodeKind.Offcut, beside, 0));
        var tree = Split(Box(x, y, wide, high), ripFirst ? CutDirection.Rip : CutDirection.Crosscut,
            Split(strip, ripFirst ? CutDirection.Crosscut : CutDirection.Rip, Leaf(CutNodeKind.Piece, piece, 0), inside), outside);
        var layout = new Layout
        {
            Number = 1, StockId = "plate", SawId = saw.Id, Count = 1, Sheet = sheet, Trims = trims, Pieces = [new("part", piece, false)], Tree = tree, Offcuts = [new(beside, true, default), new(above, true, default)], Cost = default,
        };
        var blueprint = Blueprint.Of(SamplePlans.Plan(job, layout), layout);
        return (blueprint.Offcuts[0].Clean, blueprint.Offcuts[1].Clean);
    }

    private static Rect Box(decimal x, decimal y, decimal wide, decimal high) => new(SamplePlans.Mm(x), SamplePlans.Mm(y), SamplePlans.Mm(wide), SamplePlans.Mm(high));

    private static CutNode Leaf(CutNodeKind kind, Rect area, int index) => new() { Kind = kind, Area = area, Index = index };

    private static CutNode Split(Rect area, CutDirection direction, params CutNode[] children) => new() { Kind = CutNodeKind.Split, Area = area, Direction = direction, Children = [.. children] };
}
