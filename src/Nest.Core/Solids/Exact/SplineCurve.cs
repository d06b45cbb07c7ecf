namespace Nest.Core.Solids.Exact;

/// <summary>B-spline curve, rational or not.</summary>
public sealed class SplineCurve : Curve
{
    private readonly List<Weighted[]> pieces;
    private readonly List<double> ends;
    private readonly (double T, Vec3 At)[] samples;

    /// <param name="knots">With multiplicity.</param>
    public SplineCurve(Weighted[] points, double[] knots, int degree)
    {
        (pieces, ends) = Bezier.Split(points, knots, degree);
        var steps = Math.Clamp(MostSamples / pieces.Count, 1, Steps);
        samples = [.. Enumerable.Range(0, (pieces.Count * steps) + 1).Select(i =>
        {
            var piece = Math.Min(i / steps, pieces.Count - 1);
            var t = ends[piece] + ((ends[piece + 1] - ends[piece]) * (i - (piece * steps)) / steps);
            return (t, At(t));
        })];
    }

    private const int Steps = 8;

    /// <summary>Each search for the nearest place looks at all of them.</summary>
    private const int MostSamples = 4096;

    public double From => ends[0];

    public double To => ends[^1];

    /// <summary>Whether there is anything of it.</summary>
    public static bool IsSound(int points, double[] knots, int degree) =>
        degree is >= 1 and <= 25 && points > degree && knots.Length == points + degree + 1
        && knots.Zip(knots.Skip(1)).All(pair => pair.First <= pair.Second) && knots[degree] < knots[^(degree + 1)];

    /// <summary>A closed curve comes round.</summary>
    public override double? Period => (At(From) - At(To)).Norm <= 1e-9 * (1 + At(From).Norm) ? To - From : null;

    public override Vec3 At(double t) => Evaluate(t).Place;

    public override Vec3 Slope(double t) => Evaluate(t).Slope;

    public override double Find(Vec3 point)
    {
        var best = samples.MinBy(sample => (sample.At - point).Norm).T;
        for (var i = 0; i < 30; i++)
        {
            var (at, slope) = Evaluate(best);
            var square = Vec3.Dot(slope, slope);
            if (square == 0)
            {
                break;
            }

            var next = Math.Clamp(best + (Vec3.Dot(point - at, slope) / square), From, To);
            if (Math.Abs(next - best) <= 1e-14 * (To - From))
            {
                break;
            }

            best = next;
        }

        return best;
    }

    public override IEnumerable<double> Breaks(double from, double to)
    {
        var (low, high) = (Math.Min(from, to), Math.Max(from, to));
        var places = new List<double>();
        for (var turn = -1; turn <= 1; turn++)
        {
            if (turn != 0 && Period is null)
            {
                continue;
            }

            var shift = turn * (Period ?? 0);
            for (var i = 0; i < ends.Count; i++)
            {
                places.Add(ends[i] + shift);
                places.Add(i + 1 < ends.Count ? ((ends[i] + ends[i + 1]) / 2) + shift : ends[i] + shift);
            }
        }

        var inside = places.Where(t => t > low + 1e-12 && t < high - 1e-12).Distinct().Order();
        return from <= to ? inside : inside.Reverse();
    }

    /// <summary>Points whose convex hull holds the curve between two parameters, at most this far outside of it where that can be reached.</summary>
    public IEnumerable<Vec3> Outer(double from, double to, double close)
    {
        var (low, high) = (Math.Min(from, to), Math.Max(from, to));
        // A range over the seam of a closed curve takes all of it.
        var all = low < From - 1e-9 || high > To + 1e-9;
        for (var i = 0; i < pieces.Count; i++)
        {
            foreach (var point in Refined(pieces[i], ends[i], ends[i + 1], 0))
            {
                yield return point;
            }
        }

        IEnumerable<Vec3> Refined(Weighted[] control, double start, double end, int depth)
        {
            if (!all && (end < low || start > high))
            {
                return [];
            }

            var (first, last) = (control[0].Place, control[^1].Place);
            var away = 0.0;
            for (var k = 1; k < control.Length - 1; k++)
            {
                away = Math.Max(away, (control[k].Place - (first + ((last - first) * ((double)k / (control.Length - 1))))).Norm);
            }

            var within = all || (start >= low && end <= high);
            if ((away <= close && within) || depth >= 9)
            {
                return control.Select(point => point.Place);
            }

            var (left, right) = Bezier.Halves(control);
            var middle = (start + end) / 2;
            return Refined(left, start, middle, depth + 1).Concat(Refined(right, middle, end, depth + 1));
        }
    }

    private (Vec3 Place, Vec3 Slope) Evaluate(double t)
    {
        if (t < From || t > To)
        {
            // Only closed curves are asked beyond their ends.
            var whole = To - From;
            t = Math.Clamp(t - (Math.Floor((t - From) / whole) * whole), From, To);
        }

        var at = ends.BinarySearch(t);
        var piece = Math.Clamp(at >= 0 ? at : ~at - 1, 0, pieces.Count - 1);
        var width = ends[piece + 1] - ends[piece];
        var (value, slope) = Bezier.At(pieces[piece], (t - ends[piece]) / width);
        return Bezier.Divided(value, slope * (1 / width));
    }
}
