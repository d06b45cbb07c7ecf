using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>Mitred or angled ends of a part, each from square.</summary>
/// <remarks>
/// The part's length is given long point to long point. A positive angle has its long point on the near edge (below in pictures), a
/// negative one on the far edge: 45 and 45 is a side of a picture frame, 45 and −45 a brace with parallel ends.
/// </remarks>
/// <param name="Start">At the left end.</param>
/// <param name="End">At the right end.</param>
/// <param name="AcrossThickness">The cuts lean across the thickness (a bevel), else across the width (a mitre).</param>
public sealed record EndAngles(Angle Start, Angle End, bool AcrossThickness = false)
{
    /// <summary>Cuts that are not square.</summary>
    public int Cuts => (Start.IsSquare ? 0 : 1) + (End.IsSquare ? 0 : 1);

    /// <summary>What the cuts at an angle take along the bar, beyond the part's length.</summary>
    public Length Beyond(Length kerf, LengthUnit unit) =>
        (Start.IsSquare ? Length.Zero : Start.Taken(kerf, unit)) + (End.IsSquare ? Length.Zero : End.Taken(kerf, unit));

    /// <summary>Length of the shorter of the two edges that the ends leave; negative where the cuts meet within the part.</summary>
    /// <param name="length">Long point to long point.</param>
    /// <param name="across">Width or thickness that the cuts run across.</param>
    public Length ShortEdge(Length length, Length across)
    {
        var (near, far) = (length, length);
        foreach (var angle in (Angle[])[Start, End])
        {
            if (angle > Angle.Square)
            {
                far -= angle.Slope(across);
            }
            else
            {
                near -= angle.Slope(across);
            }
        }

        return Length.Min(near, far);
    }

    /// <summary>The shorter edge of this part.</summary>
    public Length ShortEdge(Part part) => ShortEdge(part.Length, AcrossThickness ? part.Thickness : part.Width);
}
