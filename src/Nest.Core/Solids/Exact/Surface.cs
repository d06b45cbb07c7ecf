namespace Nest.Core.Solids.Exact;

/// <summary>A surface by two parameters.</summary>
public abstract class Surface
{
    public virtual double? PeriodU => null;

    public virtual double? PeriodV => null;

    /// <summary>Values of v at which all u are one point; null: there is none on that side.</summary>
    public virtual (double? Low, double? High) Poles => (null, null);

    /// <summary>Place and both partial derivatives.</summary>
    public abstract (Vec3 At, Vec3 U, Vec3 V) At(double u, double v);

    /// <summary>Parameters of the point nearest to this one; where u is open (a pole), the hint's.</summary>
    public abstract (double U, double V) Find(Vec3 point, (double U, double V) hint);

    /// <summary>Where it should be split between two values of u so that pieces are smooth.</summary>
    public abstract IEnumerable<double> BreaksU(double from, double to);

    /// <summary>Whether its highest point in a direction may lie inside a face; else a face's edges reach as far (ruled surfaces).</summary>
    public virtual bool Bulges => false;

    protected static IEnumerable<double> Even(double from, double to, double step)
    {
        var count = (int)Math.Min(1000, Math.Ceiling(Math.Abs(to - from) / step));
        for (var i = 1; i < count; i++)
        {
            yield return from + ((to - from) * i / count);
        }
    }
}

/// <summary>Plane: origin, x and y of the frame.</summary>
public sealed class PlaneSurface(Placing frame) : Surface
{
    public Placing Frame => frame;

    public override (Vec3 At, Vec3 U, Vec3 V) At(double u, double v) => (frame.Of(new(u, v, 0)), frame.X, frame.Y);

    public override (double U, double V) Find(Vec3 point, (double U, double V) hint) =>
        (Vec3.Dot(point - frame.Origin, frame.X), Vec3.Dot(point - frame.Origin, frame.Y));

    public override IEnumerable<double> BreaksU(double from, double to) => [];
}

/// <summary>Cylinder and cone: radius + v·tan of the half angle at height v.</summary>
public sealed class ConeSurface(Placing frame, double radius, double slope) : Surface
{
    public Vec3 Axis => frame.Z;

    public override double? PeriodU => 2 * Math.PI;

    public override (double? Low, double? High) Poles => slope > 0 ? (-radius / slope, null) : slope < 0 ? (null, -radius / slope) : (null, null);

    public override (Vec3 At, Vec3 U, Vec3 V) At(double u, double v)
    {
        var (sin, cos) = Math.SinCos(u);
        var (out_, around, r) = ((frame.X * cos) + (frame.Y * sin), (frame.Y * cos) - (frame.X * sin), radius + (v * slope));
        return (frame.Origin + (out_ * r) + (frame.Z * v), around * r, (out_ * slope) + frame.Z);
    }

    public override (double U, double V) Find(Vec3 point, (double U, double V) hint)
    {
        var p = point - frame.Origin;
        var (x, y, v) = (Vec3.Dot(p, frame.X), Vec3.Dot(p, frame.Y), Vec3.Dot(p, frame.Z));
        return (Math.Sqrt((x * x) + (y * y)) <= 1e-9 * (1 + Math.Abs(radius)) ? hint.U : Math.Atan2(y, x) + (radius + (v * slope) < 0 ? Math.PI : 0), v);
    }

    public override IEnumerable<double> BreaksU(double from, double to) => Even(from, to, Math.PI / 4);
}

/// <summary>Torus; a sphere is one whose tube's centre lies on the axis (large radius 0), of which v runs from pole to pole.</summary>
public sealed class TorusSurface(Placing frame, double large, double small) : Surface
{
    public Vec3 Axis => frame.Z;

    public Vec3 Centre => frame.Origin;

    public double Large => large;

    public double Small => small;

    public bool IsSphere => large == 0;

    public override bool Bulges => true;

    public override double? PeriodU => 2 * Math.PI;

    public override double? PeriodV => IsSphere ? null : 2 * Math.PI;

    public override (double? Low, double? High) Poles => IsSphere ? (-Math.PI / 2, Math.PI / 2) : (null, null);

    public override (Vec3 At, Vec3 U, Vec3 V) At(double u, double v)
    {
        var ((sin, cos), (up, flat)) = (Math.SinCos(u), Math.SinCos(v));
        var (out_, around) = ((frame.X * cos) + (frame.Y * sin), (frame.Y * cos) - (frame.X * sin));
        var r = large + (small * flat);
        return (frame.Origin + (out_ * r) + (frame.Z * (small * up)), around * r, (frame.Z * (small * flat)) - (out_ * (small * up)));
    }

    public override (double U, double V) Find(Vec3 point, (double U, double V) hint)
    {
        var p = point - frame.Origin;
        var (x, y, z) = (Vec3.Dot(p, frame.X), Vec3.Dot(p, frame.Y), Vec3.Dot(p, frame.Z));
        var r = Math.Sqrt((x * x) + (y * y));
        return (r <= 1e-9 * (large + small) ? hint.U : Math.Atan2(y, x), Math.Atan2(z, r - large));
    }

    public override IEnumerable<double> BreaksU(double from, double to) => Even(from, to, Math.PI / 4);
}

/// <summary>A curve moved along a direction: u is the curve's parameter.</summary>
public sealed class ExtrudedSurface(Curve curve, Vec3 direction) : Surface
{
    public override double? PeriodU => curve.Period;

    public override (Vec3 At, Vec3 U, Vec3 V) At(double u, double v) => (curve.At(u) + (direction * v), curve.Slope(u), direction);

    public override (double U, double V) Find(Vec3 point, (double U, double V) hint)
    {
        // Nearest in the plane across the direction; a few rounds, as the curve need not lie across it.
        var unit = direction.Unit;
        var (u, v) = (hint.U, 0.0);
        for (var i = 0; i < 20; i++)
        {
            var next = curve.Find(point - (unit * (v * direction.Norm)));
            v = Vec3.Dot(point - curve.At(next), unit) / direction.Norm;
            if (i > 0 && Math.Abs(next - u) < 1e-13)
            {
                break;
            }

            u = next;
        }

        return (u, v);
    }

    public override IEnumerable<double> BreaksU(double from, double to) => curve.Breaks(from, to);
}

/// <summary>A curve turned about an axis: v is the curve's parameter.</summary>
public sealed class TurnedSurface : Surface
{
    private readonly Vec3 origin;
    private readonly Vec3 axis;

    public TurnedSurface(Curve profile, double from, double to, Vec3 origin, Vec3 axis)
    {
        (Profile, From, To, this.origin, this.axis) = (profile, from, to, origin, axis.Unit);
    }

    public Curve Profile { get; }

    public double From { get; }

    public double To { get; }

    public Vec3 Axis => axis;

    public Vec3 Origin => origin;

    public override bool Bulges => true;

    public override double? PeriodU => 2 * Math.PI;

    public override (double? Low, double? High) Poles => (Radius(From) < 1e-7 ? From : null, Radius(To) < 1e-7 ? To : null);

    public override (Vec3 At, Vec3 U, Vec3 V) At(double u, double v)
    {
        var at = Turn(Profile.At(v) - origin, u);
        return (at + origin, Vec3.Cross(axis, at), Turn(Profile.Slope(v), u));
    }

    public override (double U, double V) Find(Vec3 point, (double U, double V) hint)
    {
        var p = point - origin;
        var z = Vec3.Dot(p, axis);
        var r = (p - (axis * z)).Norm;
        var v = FindProfile(r, z);
        var start = Profile.At(v) - origin;
        var (from, to) = (start - (axis * Vec3.Dot(start, axis)), p - (axis * z));
        return (r < 1e-9 || from.Norm < 1e-9 ? hint.U : Math.Atan2(Vec3.Dot(axis, Vec3.Cross(from, to)), Vec3.Dot(from, to)), v);
    }

    public override IEnumerable<double> BreaksU(double from, double to) => Even(from, to, Math.PI / 4);

    /// <summary>Radius and height of a point.</summary>
    public (double R, double Z) Section(Vec3 point)
    {
        var p = point - origin;
        var z = Vec3.Dot(p, axis);
        return ((p - (axis * z)).Norm, z);
    }

    private double Radius(double v) => Section(Profile.At(v)).R;

    private double FindProfile(double r, double z)
    {
        var (best, least) = (From, double.PositiveInfinity);
        const int steps = 64;
        for (var i = 0; i <= steps; i++)
        {
            var v = From + ((To - From) * i / steps);
            var (pr, pz) = Section(Profile.At(v));
            var away = ((pr - r) * (pr - r)) + ((pz - z) * (pz - z));
            (best, least) = away < least ? (v, away) : (best, least);
        }

        for (var i = 0; i < 40; i++)
        {
            var at = Profile.At(best) - origin;
            var slope = Profile.Slope(best);
            var (pr, pz) = Section(Profile.At(best));
            var out_ = pr > 1e-12 ? (at - (axis * pz)) * (1 / pr) : default;
            var (dr, dz) = (pr > 1e-12 ? Vec3.Dot(slope, out_) : (slope - (axis * Vec3.Dot(slope, axis))).Norm, Vec3.Dot(slope, axis));
            var square = (dr * dr) + (dz * dz);
            if (square == 0)
            {
                break;
            }

            var next = Math.Clamp(best + ((((r - pr) * dr) + ((z - pz) * dz)) / square), Math.Min(From, To), Math.Max(From, To));
            if (Math.Abs(next - best) <= 1e-14 * Math.Abs(To - From))
            {
                break;
            }

            best = next;
        }

        return best;
    }

    private Vec3 Turn(Vec3 p, double u)
    {
        var (sin, cos) = Math.SinCos(u);
        return (p * cos) + (Vec3.Cross(axis, p) * sin) + (axis * (Vec3.Dot(axis, p) * (1 - cos)));
    }
}
