namespace Nest.Core.Solids.Exact;

/// <summary>Patches of a face, for the picture of a shadow: a plane face by its loops, a curved one as small pieces of its grid.</summary>
internal static class FacePatches
{
    private const int Steps = 48;

    public static IEnumerable<Patch> Of(ExactFace face)
    {
        if (face.Surface is PlaneSurface)
        {
            yield return new([.. face.Loops.Where(loop => loop.Count > 0).Select(loop => loop.SelectMany(Points).ToArray())]);
            yield break;
        }

        var region = face.Region;
        for (var i = 0; i < Steps; i++)
        {
            for (var j = 0; j < Steps; j++)
            {
                var (u0, u1) = (U(i), U(i + 1));
                var (v0, v1) = (V(j), V(j + 1));
                if (region.Holds((u0 + u1) / 2, (v0 + v1) / 2))
                {
                    yield return new([[At(u0, v0), At(u1, v0), At(u1, v1), At(u0, v1)]]);
                }
            }
        }

        double U(int i) => region.LowU + ((region.HighU - region.LowU) * i / Steps);

        double V(int j) => region.LowV + ((region.HighV - region.LowV) * j / Steps);

        Vec3 At(double u, double v) => face.Surface.At(u, v).At;
    }

    private static IEnumerable<Vec3> Points(EdgeUse use) => use.Forward ? use.Edge.Points : use.Edge.Points.Reverse();
}
