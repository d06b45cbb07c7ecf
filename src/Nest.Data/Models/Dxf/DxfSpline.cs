using Nest.Core.Solids;
using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Dxf;

/// <summary>A SPLINE of a drawing as a curve in the plane.</summary>
/// <param name="At">Its point by the parameter.</param>
/// <param name="Stops">Parameters at which it is not smooth, with its ends, in order.</param>
/// <param name="Assumed">Whether the drawing says only what points it goes through.</param>
internal sealed record DxfSpline(Func<double, (double X, double Y)> At, List<double> Stops, bool Assumed)
{
    private const int MostPoints = 2_000;

    /// <summary>From control points, else from points that it goes through; null where it has none.</summary>
    public static DxfSpline? Of(DxfEntity entity) => entity.All(10) is { Length: > 0 } xs ? Controlled(entity, xs) : Through(entity);

    private static DxfSpline Controlled(DxfEntity entity, double[] xs)
    {
        var (ys, knots, weights) = (entity.All(20), entity.All(40), entity.All(41));
        var degree = (int)entity.Of(71);
        if (xs.Length > MostPoints)
        {
            throw ModelFault.TooMuch($"a spline has {xs.Length} control points; at most {MostPoints} are read");
        }

        if (ys.Length != xs.Length || (weights.Length > 0 && weights.Length != xs.Length) || Array.Exists(weights, weight => !(weight > 1e-9)) || !SplineCurve.IsSound(xs.Length, knots, degree))
        {
            throw ModelFault.Damaged("this is no sound spline", entity.Line);
        }

        CheckFlat(entity, xs, ys, entity.All(30));
        var curve = new SplineCurve([.. xs.Select((x, i) => new Weighted(new Vec3(x, ys[i], 0), weights.Length > 0 ? weights[i] : 1))], knots, degree);
        return new(t => curve.At(t) is var point ? (point.X, point.Y) : default, [curve.From, .. curve.Breaks(curve.From, curve.To), curve.To], false);
    }

    private static DxfSpline? Through(DxfEntity entity)
    {
        var (xs, ys) = (entity.All(11), entity.All(21));
        if (xs.Length > MostPoints)
        {
            throw ModelFault.TooMuch($"a spline goes through {xs.Length} points; at most {MostPoints} are read");
        }

        if (xs.Length != ys.Length)
        {
            throw ModelFault.Damaged("this is no sound spline", entity.Line);
        }

        CheckFlat(entity, xs, ys, entity.All(31));
        // Bits 1 and 2: closed, periodic.
        return ThroughPoints.Of(xs.Zip(ys), (entity.Flags & 3) != 0, Direction(12), Direction(13)) is { } curve ? new(curve.At, [.. curve.Stops], true) : null;

        (double X, double Y)? Direction(int code) => entity.All(code) is [var x, ..] && entity.All(code + 10) is [var y, ..] ? (x, y) : null;
    }

    private static void CheckFlat(DxfEntity entity, double[] xs, double[] ys, double[] zs)
    {
        if (zs.Length > 0 && xs.Length > 0 && zs.Max() - zs.Min() > 1e-6 * (1 + xs.Max() - xs.Min() + ys.Max() - ys.Min()))
        {
            throw DxfShapes.NotFlat(entity);
        }
    }
}
