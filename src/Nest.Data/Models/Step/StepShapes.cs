using Nest.Core.Solids;
using Nest.Core.Solids.Exact;

namespace Nest.Data.Models.Step;

/// <summary>Curves and surfaces of a STEP file.</summary>
internal sealed class StepShapes(StepGraph graph, double scale, double angleScale)
{
    private const int MostControlPoints = 100_000;

    /// <summary>Of a curve: looking for the nearest place on it costs its length for each point of an edge.</summary>
    private const int MostOfCurve = 5_000;

    private readonly Dictionary<int, Curve> curves = [];
    private readonly Dictionary<int, Surface> surfaces = [];
    private int depth;

    public Curve CurveOf(StepValue value)
    {
        var entity = graph.Get(value);
        if (!curves.TryGetValue(entity.Number, out var curve))
        {
            curves[entity.Number] = curve = Deeper(() => MakeCurve(entity));
        }

        return curve;
    }

    public Surface SurfaceOf(StepValue value)
    {
        var entity = graph.Get(value);
        if (!surfaces.TryGetValue(entity.Number, out var surface))
        {
            surfaces[entity.Number] = surface = Deeper(() => MakeSurface(entity));
        }

        return surface;
    }

    private T Deeper<T>(Func<T> make)
    {
        if (++depth > 16)
        {
            throw ModelFault.Damaged("a curve or surface is made of itself");
        }

        var made = make();
        depth--;
        return made;
    }

    private static ModelFault NotRead(StepEntity entity) => new(
        "step-not-read", $"#{entity.Number} is a {ModelLimits.CleanName(entity.Name)}, which is not read", "export the part as a solid of planes, turned faces and splines, or as a mesh");

    private Curve MakeCurve(StepEntity entity)
    {
        switch (entity.Name)
        {
            case "LINE":
                var vector = graph.Get(StepGraph.Value(entity, 2));
                return new LineCurve(graph.Point(StepGraph.Value(entity, 1), scale), graph.Direction(StepGraph.Value(vector, 1)));
            case "CIRCLE":
                var radius = StepGraph.Length(StepGraph.Value(entity, 2), scale);
                return new ConicCurve(graph.Frame(StepGraph.Value(entity, 1), scale), radius, radius);
            case "ELLIPSE":
                return new ConicCurve(graph.Frame(StepGraph.Value(entity, 1), scale), StepGraph.Length(StepGraph.Value(entity, 2), scale), StepGraph.Length(StepGraph.Value(entity, 3), scale));
            case "SURFACE_CURVE" or "SEAM_CURVE" or "INTERSECTION_CURVE" or "TRIMMED_CURVE":
                return CurveOf(StepGraph.Value(entity, 1));
            default:
                return entity.Is("B_SPLINE_CURVE_WITH_KNOTS") ? Spline(entity) : throw NotRead(entity);
        }
    }

    private SplineCurve Spline(StepEntity entity)
    {
        // One name with nine parameters, or several names with some of them each.
        var knots = entity.Part("B_SPLINE_CURVE_WITH_KNOTS")!;
        var simple = entity.Parts.Length == 1;
        var (shape, first) = simple ? (knots, 1) : (entity.Part("B_SPLINE_CURVE") ?? throw NotRead(entity), 0);
        var degree = (int)Math.Clamp(StepGraph.Number(StepGraph.Value(shape, first, entity.Number)), 0, 100);
        var points = StepGraph.List(StepGraph.Value(shape, first + 1, entity.Number));
        var at = simple ? 6 : 0;
        var expanded = Knots(StepGraph.Value(knots, at, entity.Number), StepGraph.Value(knots, at + 1, entity.Number));
        var weights = entity.Part("RATIONAL_B_SPLINE_CURVE") is { } rational ? StepGraph.List(StepGraph.Value(rational, 0, entity.Number)) : null;
        if (points.Length > MostOfCurve)
        {
            throw ModelFault.TooMuch($"#{entity.Number} is a curve with {points.Length} control points; at most {MostOfCurve} are read");
        }

        if (!SplineCurve.IsSound(points.Length, expanded, degree) || (weights is not null && weights.Length != points.Length))
        {
            throw ModelFault.Damaged($"#{entity.Number} is no sound spline");
        }

        return new([.. points.Select((point, i) => new Weighted(graph.Point(point, scale), Weight(weights?[i])))], expanded, degree);
    }

    private static double Weight(StepValue? value)
    {
        var weight = value is null ? 1 : StepGraph.Number(value);
        return weight is > 1e-9 and < 1e9 ? weight : throw ModelFault.Damaged("a spline has a weight that is not above zero");
    }

    private static double[] Knots(StepValue counts, StepValue knots)
    {
        var (times, values) = (StepGraph.List(counts), StepGraph.List(knots));
        if (times.Length != values.Length)
        {
            throw ModelFault.Damaged("the knots of a spline don't agree with their counts");
        }

        var expanded = new List<double>();
        for (var i = 0; i < times.Length; i++)
        {
            var count = (int)Math.Clamp(StepGraph.Number(times[i]), 0, MostControlPoints);
            if (expanded.Count + count > 2 * MostControlPoints)
            {
                throw ModelFault.TooMuch("a spline has too many knots");
            }

            expanded.AddRange(Enumerable.Repeat(StepGraph.Number(values[i]), count));
        }

        return [.. expanded];
    }

    private Surface MakeSurface(StepEntity entity)
    {
        switch (entity.Name)
        {
            case "PLANE":
                return new PlaneSurface(graph.Frame(StepGraph.Value(entity, 1), scale));
            case "CYLINDRICAL_SURFACE":
                return new ConeSurface(graph.Frame(StepGraph.Value(entity, 1), scale), StepGraph.Length(StepGraph.Value(entity, 2), scale), 0);
            case "CONICAL_SURFACE":
                var radius = StepGraph.Number(StepGraph.Value(entity, 2)) * scale;
                var slope = Math.Tan(StepGraph.Number(StepGraph.Value(entity, 3)) * angleScale);
                return radius is >= 0 and <= ModelLimits.Farthest && Math.Abs(slope) is > 1e-9 and < 1e9
                    ? new ConeSurface(graph.Frame(StepGraph.Value(entity, 1), scale), radius, slope)
                    : throw ModelFault.Damaged($"#{entity.Number} is no cone");
            case "SPHERICAL_SURFACE":
                return new TorusSurface(graph.Frame(StepGraph.Value(entity, 1), scale), 0, StepGraph.Length(StepGraph.Value(entity, 2), scale));
            case "TOROIDAL_SURFACE":
                var (large, small) = (StepGraph.Length(StepGraph.Value(entity, 2), scale), StepGraph.Length(StepGraph.Value(entity, 3), scale));
                return large > small * 1e-9 ? new TorusSurface(graph.Frame(StepGraph.Value(entity, 1), scale), large, small) : throw ModelFault.Damaged($"#{entity.Number} is no torus");
            case "SURFACE_OF_REVOLUTION":
                var axis = graph.Get(StepGraph.Value(entity, 2));
                return Turned(
                    entity, CurveOf(StepGraph.Value(entity, 1)), graph.Point(StepGraph.Value(axis, 1), scale),
                    StepGraph.Value(axis, 2).Kind == StepKind.Unset ? new(0, 0, 1) : graph.Direction(StepGraph.Value(axis, 2)));
            case "SURFACE_OF_LINEAR_EXTRUSION":
                var vector = graph.Get(StepGraph.Value(entity, 2));
                return new ExtrudedSurface(CurveOf(StepGraph.Value(entity, 1)), graph.Direction(StepGraph.Value(vector, 1)));
            case "RECTANGULAR_TRIMMED_SURFACE":
                return SurfaceOf(StepGraph.Value(entity, 1));
            default:
                return entity.Is("B_SPLINE_SURFACE_WITH_KNOTS") ? SplineFace(entity) : throw NotRead(entity);
        }
    }

    private static Surface Turned(StepEntity entity, Curve profile, Vec3 origin, Vec3 axis) => profile switch
    {
        SplineCurve spline => new TurnedSurface(spline, spline.From, spline.To, origin, axis),
        ConicCurve { IsCircle: true } circle when Math.Abs(Vec3.Dot(circle.Axis, axis)) < 1e-9 && Math.Abs(Vec3.Dot(circle.Centre - origin, circle.Axis)) < 1e-6 => Tube(circle, origin, axis),
        LineCurve line => TurnedLine(entity, line, origin, axis),
        _ => throw NotRead(entity),
    };

    // A circle in a plane of the axis makes a torus, or a sphere.
    private static TorusSurface Tube(ConicCurve circle, Vec3 origin, Vec3 axis)
    {
        var along = Vec3.Dot(circle.Centre - origin, axis);
        var out_ = circle.Centre - origin - (axis * along);
        var large = out_.Norm < 1e-9 ? 0 : out_.Norm;
        var x = large > 0 ? out_.Unit : axis.AnyAcross();
        return new(new(x, Vec3.Cross(axis, x), axis, origin + (axis * along)), large, circle.Radius);
    }

    private static Surface TurnedLine(StepEntity entity, LineCurve line, Vec3 origin, Vec3 axis)
    {
        var (at, direction) = (line.At(0) - origin, line.Slope(0).Unit);
        var rise = Vec3.Dot(direction, axis);
        var across = at - (axis * Vec3.Dot(at, axis));
        if (Math.Abs(rise) < 1e-12)
        {
            var x0 = axis.AnyAcross();
            return new PlaneSurface(new(x0, Vec3.Cross(axis, x0), axis, origin + (axis * Vec3.Dot(at, axis))));
        }

        // Radius over height; a line that passes the axis at a distance makes a hyperboloid.
        var step = direction * (1 / rise);
        var grow = step - axis;
        var out_ = across.Norm > 1e-9 ? across.Unit : grow.Norm > 1e-12 ? grow.Unit : axis.AnyAcross();
        if ((grow - (out_ * Vec3.Dot(grow, out_))).Norm > 1e-9)
        {
            throw NotRead(entity);
        }

        return new ConeSurface(new(out_, Vec3.Cross(axis, out_), axis, origin + (axis * Vec3.Dot(at, axis))), across.Norm, Vec3.Dot(grow, out_));
    }

    private SplineSurface SplineFace(StepEntity entity)
    {
        var knots = entity.Part("B_SPLINE_SURFACE_WITH_KNOTS")!;
        var simple = entity.Parts.Length == 1;
        var (shape, first) = simple ? (knots, 1) : (entity.Part("B_SPLINE_SURFACE") ?? throw NotRead(entity), 0);
        var degreeU = (int)Math.Clamp(StepGraph.Number(StepGraph.Value(shape, first, entity.Number)), 0, 100);
        var degreeV = (int)Math.Clamp(StepGraph.Number(StepGraph.Value(shape, first + 1, entity.Number)), 0, 100);
        var rows = StepGraph.List(StepGraph.Value(shape, first + 2, entity.Number)).Select(StepGraph.List).ToArray();
        var at = simple ? 8 : 0;
        var knotsU = Knots(StepGraph.Value(knots, at, entity.Number), StepGraph.Value(knots, at + 2, entity.Number));
        var knotsV = Knots(StepGraph.Value(knots, at + 1, entity.Number), StepGraph.Value(knots, at + 3, entity.Number));
        var weights = entity.Part("RATIONAL_B_SPLINE_SURFACE") is { } rational
            ? StepGraph.List(StepGraph.Value(rational, 0, entity.Number)).Select(StepGraph.List).ToArray()
            : null;
        var columns = rows.Length == 0 ? 0 : rows[0].Length;
        if (rows.Length * (long)columns > MostControlPoints || Array.Exists(rows, row => row.Length != columns)
            || !SplineCurve.IsSound(rows.Length, knotsU, degreeU) || !SplineCurve.IsSound(columns, knotsV, degreeV)
            || (weights is not null && (weights.Length != rows.Length || Array.Exists(weights, row => row.Length != columns))))
        {
            throw ModelFault.Damaged($"#{entity.Number} is no sound spline surface");
        }

        var points = new Weighted[rows.Length, columns];
        for (var u = 0; u < rows.Length; u++)
        {
            for (var v = 0; v < columns; v++)
            {
                points[u, v] = new(graph.Point(rows[u][v], scale), Weight(weights?[u][v]));
            }
        }

        return new(points, knotsU, knotsV, degreeU, degreeV);
    }
}
