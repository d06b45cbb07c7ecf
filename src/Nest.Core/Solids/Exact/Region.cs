namespace Nest.Core.Solids.Exact;

/// <summary>The part of a surface that a face covers, in its parameters.</summary>
/// <remarks>
/// Loops are followed without jumps over the seam of a surface that comes round. A loop that has gone round once is closed over the
/// pole or over the other loops: from its end to a common value of v, and back at its start. A point is inside where the loops, counted
/// with their direction, go around it. Between its points a loop is straight; points nearer to it than <see cref="Near"/> count as inside, so that
/// nothing of a face is lost.
/// </remarks>
internal sealed class Region
{
    private const double Near = 4e-3;

    private readonly List<(double U, double V)[]> loops = [];
    private readonly double? periodU;
    private readonly double? periodV;
    private readonly bool whole;

    /// <param name="sign">1: the face's normal is that of the surface, −1: the opposite one.</param>
    /// <param name="all">The face is the whole closed surface.</param>
    public Region(IEnumerable<(double U, double V)[]> traced, Surface surface, double sign, bool all)
    {
        (periodU, periodV, whole) = (surface.PeriodU, surface.PeriodV, all);
        var list = traced.Where(loop => loop.Length > 1).ToList();
        var reference = Reference(list, surface, sign);
        foreach (var loop in list)
        {
            var (first, last) = (loop[0], loop[^1]);
            loops.Add(Math.Abs(last.U - first.U) > (periodU ?? double.PositiveInfinity) / 2
                ? [.. loop, (last.U, reference), (first.U, reference), first]
                : [.. loop, first]);
        }

        if (loops.Count > 0)
        {
            LowU = loops.Min(loop => loop.Min(point => point.U));
            HighU = loops.Max(loop => loop.Max(point => point.U));
            LowV = loops.Min(loop => loop.Min(point => point.V));
            HighV = loops.Max(loop => loop.Max(point => point.V));
        }

        // A loop that goes round the other way (a piece of a torus without seams) leaves open which side is meant: then all of it counts.
        whole |= list.Exists(loop => Math.Abs(loop[^1].V - loop[0].V) > (periodV ?? double.PositiveInfinity) / 2);
        if (whole)
        {
            (LowU, HighU) = (0, 2 * Math.PI);
            (LowV, HighV) = surface.Poles is ({ } low, { } high) ? (low, high) : (0, 2 * Math.PI);
        }
    }

    public double LowU { get; }

    public double HighU { get; }

    public double LowV { get; }

    public double HighV { get; }

    /// <summary>v to which loops are closed that go round once: the pole on the side of the face, else the first loop's.</summary>
    public static double Reference(IReadOnlyList<(double U, double V)[]> loops, Surface surface, double sign)
    {
        var turns = 0.0;
        foreach (var loop in loops)
        {
            turns += surface.PeriodU is { } period ? Math.Round((loop[^1].U - loop[0].U) / period) : 0;
        }

        var (low, high) = surface.Poles;
        var side = turns * sign;
        return (side > 0 ? high : side < 0 ? low : null) ?? (side == 0 ? null : high ?? low) ?? (loops.Count > 0 ? loops[0][0].V : 0);
    }

    public bool Holds(double u, double v)
    {
        if (whole)
        {
            return true;
        }

        var (fromU, toU) = Turns(u, periodU, LowU, HighU);
        var (fromV, toV) = Turns(v, periodV, LowV, HighV);
        var count = 0;
        for (var i = fromU; i <= toU; i++)
        {
            for (var j = fromV; j <= toV; j++)
            {
                if (Count(u + (i * (periodU ?? 0)), v + (j * (periodV ?? 0))) is not { } around)
                {
                    return true;
                }

                count += around;
            }
        }

        return count != 0;
    }

    private static (int From, int To) Turns(double at, double? period, double low, double high) => period is { } p
        ? ((int)Math.Max(-50, Math.Floor((low - at) / p)), (int)Math.Min(50, Math.Ceiling((high - at) / p)))
        : (0, 0);

    // How often the loops go around the point; null: it is near one.
    private int? Count(double u, double v)
    {
        var (sizeU, sizeV) = (Math.Max(HighU - LowU, 1e-12), Math.Max(HighV - LowV, 1e-12));
        var count = 0;
        foreach (var loop in loops)
        {
            for (var i = 0; i + 1 < loop.Length; i++)
            {
                var (a, b) = (loop[i], loop[i + 1]);
                var (au, av, bu, bv) = ((a.U - u) / sizeU, (a.V - v) / sizeV, (b.U - u) / sizeU, (b.V - v) / sizeV);
                var (du, dv) = (bu - au, bv - av);
                var square = (du * du) + (dv * dv);
                var share = square > 0 ? Math.Clamp(-((au * du) + (av * dv)) / square, 0, 1) : 0;
                var (nu, nv) = (au + (share * du), av + (share * dv));
                if ((nu * nu) + (nv * nv) < Near * Near)
                {
                    return null;
                }

                if ((av > 0) != (bv > 0) && au + (du * (-av / dv)) > 0)
                {
                    count += bv > av ? 1 : -1;
                }
            }
        }

        return count;
    }
}
