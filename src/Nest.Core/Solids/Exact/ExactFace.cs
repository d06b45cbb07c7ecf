namespace Nest.Core.Solids.Exact;

/// <summary>An edge as a loop uses it.</summary>
/// <param name="Forward">Along the edge's direction.</param>
public readonly record struct EdgeUse(ExactEdge Edge, bool Forward);

/// <summary>A face: a surface within loops of edges, the face's inside to their left, seen against its outward normal.</summary>
/// <remarks>
/// Area, flux and moments by Green's theorem in the surface's parameters: ∫∫ F du dv = ∮ G dv with G the integral of F along u, both by
/// Gauss–Legendre over smooth pieces. Loops that go round once are closed as in <see cref="Region"/>. The direction of the loops gives the
/// outside; the sense flag is used only where a loop alone does not tell which side of it is meant.
/// </remarks>
public sealed class ExactFace
{
    private readonly List<(double U, double V)[]> traced = [];
    private readonly List<List<(double U, double V, double Dv, double Weight)>> steps = [];
    private readonly double sign;
    private readonly bool whole;

    /// <param name="sense">Whether the face's normal is the surface's.</param>
    public ExactFace(Surface surface, bool sense, IReadOnlyList<IReadOnlyList<EdgeUse>> loops)
    {
        (Surface, Loops, sign) = (surface, loops, sense ? 1 : -1);
        foreach (var loop in loops.Where(loop => loop.Count > 0))
        {
            Trace(loop);
        }

        whole = surface is TorusSurface torus && Enclosed(torus) < 1e-9;
        Region = new(traced, surface, sign, whole);
    }

    public Surface Surface { get; }

    public IReadOnlyList<IReadOnlyList<EdgeUse>> Loops { get; }

    internal Region Region { get; }

    /// <summary>Adds the face to the sums of its body; how far its edges lie off the surface at most comes back (mm).</summary>
    public void AddTo(Moments sums)
    {
        var own = new Moments(sums.Origin);
        if (whole)
        {
            AddWhole(own);
        }
        else
        {
            var reference = traced.Count > 0 ? Region.Reference(traced, Surface, sign) : 0;
            var start = traced.Count > 0 ? traced[0][0].U : 0;
            for (var i = 0; i < steps.Count; i++)
            {
                foreach (var (u, v, dv, weight) in steps[i])
                {
                    AddLine(own, start, u, v, dv * weight);
                }

                Close(own, traced[i], reference);
            }
        }

        sums.Add(own);
    }

    /// <summary>Whether all points of the edges lie on the surface, within a length.</summary>
    public double OffSurface()
    {
        var most = 0.0;
        foreach (var use in Loops.SelectMany(loop => loop))
        {
            foreach (var point in use.Edge.Points)
            {
                var (u, v) = Surface.Find(point, default);
                most = Math.Max(most, (Surface.At(u, v).At - point).Norm);
            }
        }

        return most;
    }

    // Follows a loop in the surface's parameters: without jumps over its seam.
    private void Trace(IReadOnlyList<EdgeUse> loop)
    {
        var path = new List<(double U, double V)>();
        var weights = new List<(double U, double V, double Dv, double Weight)>();
        var before = Surface.Find(Start(loop[0]), default);
        path.Add(before);
        foreach (var use in loop)
        {
            var spans = use.Edge.Spans();
            foreach (var (from, to) in use.Forward ? spans : spans.Reverse().Select(span => (span.To, span.From)))
            {
                foreach (var (at, weight) in Gauss.Points)
                {
                    var t = from + ((to - from) * at);
                    before = Next(use.Edge.Curve.At(t), before);
                    path.Add(before);
                    weights.Add((before.U, before.V, Rate(before, use.Edge.Curve.Slope(t)) * (to - from), weight));
                }

                before = Next(use.Edge.Curve.At(to), before);
                path.Add(before);
            }
        }

        traced.Add([.. path]);
        steps.Add(weights);
    }

    private static Vec3 Start(EdgeUse use) => use.Edge.Curve.At(use.Forward ? use.Edge.From : use.Edge.To);

    private (double U, double V) Next(Vec3 point, (double U, double V) before)
    {
        var (u, v) = Surface.Find(point, before);
        return (Nearest(u, before.U, Surface.PeriodU), Nearest(v, before.V, Surface.PeriodV));
    }

    private static double Nearest(double value, double to, double? period) =>
        period is { } p ? value + (Math.Round((to - value) / p) * p) : value;

    // dv/dt of a curve on the surface: its slope split into both directions, least squares.
    private double Rate((double U, double V) at, Vec3 slope)
    {
        var (_, u, v) = Surface.At(at.U, at.V);
        var (a, b, c, d, e) = (Vec3.Dot(u, u), Vec3.Dot(u, v), Vec3.Dot(v, v), Vec3.Dot(slope, u), Vec3.Dot(slope, v));
        var det = (a * c) - (b * b);
        return det > 1e-14 * a * c ? ((e * a) - (d * b)) / det : c > 0 ? e / c : 0;
    }

    private void AddLine(Moments sums, double from, double to, double v, double weight)
    {
        var before = from;
        foreach (var end in Surface.BreaksU(from, to).Append(to))
        {
            foreach (var (at, share) in Gauss.Points)
            {
                var (place, du, dv) = Surface.At(before + ((end - before) * at), v);
                var normal = Vec3.Cross(du, dv) * ((end - before) * share * weight);
                sums.Add(place, normal, Vec3.Cross(du, dv).Norm * ((end - before) * share * weight));
            }

            before = end;
        }
    }

    private void Close(Moments sums, (double U, double V)[] loop, double reference)
    {
        var (first, last) = (loop[0], loop[^1]);
        if (Surface.PeriodU is not { } period || Math.Abs(last.U - first.U) < period / 2)
        {
            return;
        }

        // From the loop's end up to the reference and back at its start: what lies between is one turn.
        const int pieces = 8;
        for (var i = 0; i < pieces; i++)
        {
            var (from, to) = (last.V + ((reference - last.V) * i / pieces), last.V + ((reference - last.V) * (i + 1) / pieces));
            foreach (var (at, weight) in Gauss.Points)
            {
                AddLine(sums, first.U, last.U, from + ((to - from) * at), (to - from) * weight);
            }
        }
    }

    private void AddWhole(Moments sums)
    {
        var (low, high) = Surface.Poles is ({ } a, { } b) ? (a, b) : (0, 2 * Math.PI);
        const int pieces = 8;
        for (var i = 0; i < pieces; i++)
        {
            foreach (var (at, weight) in Gauss.Points)
            {
                AddLine(sums, 0, 2 * Math.PI, low + ((high - low) * (i + at) / pieces), (high - low) / pieces * weight * sign);
            }
        }
    }

    // Share of the surface within the loops; nothing: they only run along its seams.
    private double Enclosed(TorusSurface torus)
    {
        var sum = 0.0;
        for (var i = 0; i < steps.Count; i++)
        {
            sum += steps[i].Sum(step => step.U * step.Dv * step.Weight);
            if (Math.Abs(traced[i][^1].U - traced[i][0].U) > Math.PI)
            {
                return 1;
            }
        }

        return Math.Abs(sum) / (torus.IsSphere ? 2 * Math.PI * Math.PI : 4 * Math.PI * Math.PI);
    }
}
