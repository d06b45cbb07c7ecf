namespace Nest.Data.Models.Dxf;

/// <summary>The cubic curve that goes through points, one piece from each to the next, with slope and bend in common where they meet.</summary>
/// <remarks>The DXF reference says that a spline goes through its fit points, and not how: the parameter is taken to be the length of the chords
/// so far, the ends to be free of bending where no direction is given, and a direction that is given to be that of the curve at the speed of the
/// chords. Method: the slopes at the points solve a system with three diagonals (de Boor 1978, A Practical Guide to Splines, chapter IV); of a closed
/// curve it has two corners more, which Sherman and Morrison's formula takes off. Cost: n.</remarks>
internal sealed class ThroughPoints
{
    private readonly double[] at;
    private readonly (double X, double Y)[] points;
    private readonly (double X, double Y)[] slopes;

    private ThroughPoints((double X, double Y)[] points, double[] at, (double X, double Y)[] slopes) => (this.points, this.at, this.slopes) = (points, at, slopes);

    /// <summary>Parameters of the points.</summary>
    public IReadOnlyList<double> Stops => at;

    /// <summary>The curve; null where there are not two points apart.</summary>
    /// <param name="closed">Whether it comes round without a corner, from the last point to the first.</param>
    /// <param name="start">Direction at the first point; null or of no length: none is given.</param>
    /// <param name="end">Direction at the last.</param>
    public static ThroughPoints? Of(IEnumerable<(double X, double Y)> through, bool closed, (double X, double Y)? start, (double X, double Y)? end)
    {
        var list = new List<(double X, double Y)>();
        foreach (var point in through)
        {
            if (list.Count == 0 || Between(list[^1], point) > 0)
            {
                list.Add(point);
            }
        }

        if (closed && list.Count > 2 && Between(list[^1], list[0]) > 0)
        {
            list.Add(list[0]);
        }

        if (list.Count < 2)
        {
            return null;
        }

        var at = new double[list.Count];
        for (var i = 1; i < at.Length; i++)
        {
            at[i] = at[i - 1] + Between(list[i - 1], list[i]);
        }

        (double X, double Y)[] points = [.. list];
        closed = closed && points.Length > 3;
        var x = Slopes([.. points.Select(point => point.X)], at, closed, Unit(start)?.X, Unit(end)?.X);
        var y = Slopes([.. points.Select(point => point.Y)], at, closed, Unit(start)?.Y, Unit(end)?.Y);
        return new(points, at, [.. x.Zip(y)]);
    }

    /// <summary>Point of the curve.</summary>
    public (double X, double Y) At(double t)
    {
        var found = Array.BinarySearch(at, t);
        var i = Math.Clamp(found >= 0 ? found : ~found - 1, 0, at.Length - 2);
        var width = at[i + 1] - at[i];
        var s = (t - at[i]) / width;
        // Hermite's form.
        var (a, b, c, d) = ((1 + (2 * s)) * (1 - s) * (1 - s), s * s * (3 - (2 * s)), s * (1 - s) * (1 - s) * width, s * s * (s - 1) * width);
        return ((a * points[i].X) + (b * points[i + 1].X) + (c * slopes[i].X) + (d * slopes[i + 1].X),
            (a * points[i].Y) + (b * points[i + 1].Y) + (c * slopes[i].Y) + (d * slopes[i + 1].Y));
    }

    private static double[] Slopes(double[] value, double[] at, bool closed, double? start, double? end)
    {
        var last = at.Length - 1;
        var count = closed ? last : last + 1;
        var (below, middle, above, right) = (new double[count], new double[count], new double[count], new double[count]);
        for (var i = 0; i < count; i++)
        {
            if (!closed && (i == 0 || i == last))
            {
                // A given slope, or no bend: 2·m0 + m1 = 3·(the chord's slope).
                var given = i == 0 ? start : end;
                middle[i] = given is null ? 2 : 1;
                (below[i], above[i]) = (given is null && i > 0 ? 1 : 0, given is null && i == 0 ? 1 : 0);
                right[i] = given ?? (3 * Chord(i == 0 ? 0 : last - 1));
                continue;
            }

            var before = i == 0 ? last - 1 : i - 1;
            var (left, next) = (at[before + 1] - at[before], at[i + 1] - at[i]);
            (below[i], middle[i], above[i]) = (next, 2 * (left + next), left);
            right[i] = 3 * ((next * Chord(before)) + (left * Chord(i)));
        }

        if (!closed)
        {
            return Solved(below, middle, above, right);
        }

        // The corners: u·vᵀ with u = (−middle0, 0, …, above of the last), v = (1, 0, …, −below0 ÷ middle0).
        var (gamma, top, corner) = (-middle[0], below[0], above[^1]);
        middle[0] -= gamma;
        middle[^1] -= corner * top / gamma;
        var u = new double[count];
        (u[0], u[^1]) = (gamma, corner);
        var (plain, bent) = (Solved(below, middle, above, right), Solved(below, middle, above, u));
        var share = (plain[0] + (plain[^1] * top / gamma)) / (1 + bent[0] + (bent[^1] * top / gamma));
        double[] slopes = [.. plain.Zip(bent, (one, other) => one - (share * other))];
        return [.. slopes, slopes[0]];

        double Chord(int i) => (value[i + 1] - value[i]) / (at[i + 1] - at[i]);
    }

    /// <summary>Elimination on three diagonals; the middle one outweighs the others, so nothing is exchanged.</summary>
    private static double[] Solved(double[] below, double[] middle, double[] above, double[] right)
    {
        var (pivot, solved) = ((double[])middle.Clone(), (double[])right.Clone());
        for (var i = 1; i < solved.Length; i++)
        {
            var share = below[i] / pivot[i - 1];
            pivot[i] -= share * above[i - 1];
            solved[i] -= share * solved[i - 1];
        }

        for (var i = solved.Length - 1; i >= 0; i--)
        {
            solved[i] = (solved[i] - (i + 1 < solved.Length ? above[i] * solved[i + 1] : 0)) / pivot[i];
        }

        return solved;
    }

    private static (double X, double Y)? Unit((double X, double Y)? direction) =>
        direction is var (x, y) && Math.Sqrt((x * x) + (y * y)) is > 1e-12 and var length ? (x / length, y / length) : null;

    private static double Between((double X, double Y) a, (double X, double Y) b) => Math.Sqrt(((b.X - a.X) * (b.X - a.X)) + ((b.Y - a.Y) * (b.Y - a.Y)));
}
