using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Judge.Enumeration;

/// <summary>Which cuts are still allowed, by the saw's stages and first cut.</summary>
/// <param name="Next">Plane of the parts of a cut that divides X, and of one that divides Y; −1: not allowed.</param>
/// <param name="Trimming">Direction in which one trimming cut is allowed; −1: none.</param>
internal sealed record CutPlane(int[] Next, int Trimming)
{
    /// <summary>Plane 0 is the whole sheet; behind it one plane, or one for each number of stages left and last direction.</summary>
    public static CutPlane[] Of(Saw saw)
    {
        var (x, y) = (saw.FirstCut is not CutDirection.Rip, saw.FirstCut is not CutDirection.Crosscut);
        if (saw.Stages is not { } stages)
        {
            return saw.FirstCut is null ? [new([0, 0], -1)] : [new([x ? 1 : -1, y ? 1 : -1], -1), new([1, 1], -1)];
        }

        // Number of the plane with so many stages left, the last cut along (0) or across (1) the plate's length.
        int At(int left, int way) => 1 + (left * 2) + way;
        var planes = new CutPlane[1 + (stages * 2)];
        planes[0] = new([x ? At(stages - 1, 0) : -1, y ? At(stages - 1, 1) : -1], -1);
        for (var left = 0; left < stages; left++)
        {
            for (var way = 0; way < 2; way++)
            {
                var turn = left > 0 ? At(left - 1, 1 - way) : -1;
                planes[At(left, way)] = new(
                    way == 0 ? [At(left, 0), turn] : [turn, At(left, 1)], left == 0 && saw.TrimmingCut ? 1 - way : -1);
            }
        }

        return planes;
    }
}
