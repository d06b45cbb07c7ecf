namespace Nest.Core.Solids.Exact;

/// <summary>An edge: a curve from one parameter to another, in the direction of the edge (which may fall).</summary>
public sealed class ExactEdge
{
    private readonly Vec3[] inner;
    private readonly Vec3[] outer;

    public ExactEdge(Curve curve, double from, double to)
    {
        (Curve, From, To) = (curve, from, to);
        inner = [.. Spans().SelectMany(span => Enumerable.Range(0, Steps).Select(i => curve.At(span.From + ((span.To - span.From) * i / Steps)))), curve.At(to)];
        var size = inner.Max(point => (point - inner[0]).Norm);
        outer = curve switch
        {
            // Ends and the highest point of the arc are taken by formula.
            ConicCurve => [inner[0], inner[^1]],
            SplineCurve spline => [.. spline.Outer(from, to, Math.Max(1e-7, 1e-7 * size))],
            _ => [inner[0], inner[^1]],
        };
    }

    private const int Steps = 8;

    public Curve Curve { get; }

    public double From { get; }

    public double To { get; }

    /// <summary>Points of the edge, in its direction.</summary>
    public IReadOnlyList<Vec3> Points => inner;

    /// <summary>Pieces that are smooth and short.</summary>
    public IEnumerable<(double From, double To)> Spans()
    {
        var before = From;
        foreach (var at in Curve.Breaks(From, To).Append(To))
        {
            yield return (before, at);
            before = at;
        }
    }

    public Reach ReachAlong(Vec3 direction)
    {
        var most = double.NegativeInfinity;
        foreach (var point in outer)
        {
            most = Math.Max(most, Vec3.Dot(point, direction));
        }

        switch (Curve)
        {
            case ConicCurve conic:
                most = Math.Max(most, Arc(conic, direction));
                return new(most, most);
            case SplineCurve:
                var least = double.NegativeInfinity;
                foreach (var point in inner)
                {
                    least = Math.Max(least, Vec3.Dot(point, direction));
                }

                return new(most, least);
            default:
                return new(most, most);
        }
    }

    private double Arc(ConicCurve conic, Vec3 direction)
    {
        var (a, b) = (Vec3.Dot(conic.A, direction), Vec3.Dot(conic.B, direction));
        var highest = Math.Atan2(b, a);
        var (low, high) = (Math.Min(From, To), Math.Max(From, To));
        var turns = Math.Ceiling((low - highest) / (2 * Math.PI));
        return highest + (turns * 2 * Math.PI) <= high
            ? Vec3.Dot(conic.Centre, direction) + Math.Sqrt((a * a) + (b * b))
            : double.NegativeInfinity;
    }
}
