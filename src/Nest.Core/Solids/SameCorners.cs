namespace Nest.Core.Solids;

/// <summary>The turns, around one of them, in which no other corner of a hull takes the place of those that are farthest out.</summary>
/// <remarks>A neighbour takes over where its lead over the corner becomes positive. The lead is linear or a square in the turn, as the direction is.</remarks>
internal struct SameCorners(HullWalk walk, double low, double middle, double high)
{
    /// <summary>The first of these turns.</summary>
    public double From { get; private set; } = low;

    /// <summary>The last of these turns.</summary>
    public double To { get; private set; } = high;

    /// <summary>The corner that is farthest in the direction n0 + τ·n1.</summary>
    public void Linear(int corner, Vec3 n0, Vec3 n1)
    {
        foreach (var neighbour in walk.Neighbours(corner))
        {
            var step = walk[neighbour] - walk[corner];
            var (a, b) = (Vec3.Dot(step, n0), Vec3.Dot(step, n1));
            if (Math.Abs(b) > 1e-300)
            {
                Limit(-a / b);
            }
        }
    }

    /// <summary>The corner that is farthest in the direction c0 + τ·c1 + τ²·c2.</summary>
    public void Square(int corner, Vec3 c0, Vec3 c1, Vec3 c2)
    {
        foreach (var neighbour in walk.Neighbours(corner))
        {
            var step = walk[neighbour] - walk[corner];
            var (a, b, c) = (Vec3.Dot(step, c2), Vec3.Dot(step, c1), Vec3.Dot(step, c0));
            var inside = (b * b) - (4 * a * c);
            if (inside < 0)
            {
                continue;
            }

            var half = -0.5 * (b + Math.CopySign(Math.Sqrt(inside), b));
            if (half != 0)
            {
                Limit(c / half);
            }

            if (Math.Abs(a) > 1e-300)
            {
                Limit(half / a);
            }
        }
    }

    private void Limit(double at)
    {
        if (at > From && at < middle)
        {
            From = at;
        }
        else if (at < To && at > middle)
        {
            To = at;
        }
    }
}
