namespace Nest.Core.Solids.Exact;

/// <summary>A curve by its parameter.</summary>
public abstract class Curve
{
    /// <summary>Parameter after which it comes round; null: it does not.</summary>
    public virtual double? Period => null;

    public abstract Vec3 At(double t);

    public abstract Vec3 Slope(double t);

    /// <summary>Parameter of the point of the curve nearest to this one.</summary>
    public abstract double Find(Vec3 point);

    /// <summary>Where the curve should be split between two parameters so that a piece is smooth and short.</summary>
    public abstract IEnumerable<double> Breaks(double from, double to);
}

/// <summary>Origin + t · direction.</summary>
public sealed class LineCurve(Vec3 origin, Vec3 direction) : Curve
{
    public override Vec3 At(double t) => origin + (direction * t);

    public override Vec3 Slope(double t) => direction;

    public override double Find(Vec3 point) => Vec3.Dot(point - origin, direction) / Vec3.Dot(direction, direction);

    public override IEnumerable<double> Breaks(double from, double to) => [];
}

/// <summary>Circle or ellipse: centre + a·cos t·X + b·sin t·Y.</summary>
public sealed class ConicCurve(Placing frame, double a, double b) : Curve
{
    private const double Piece = Math.PI / 4;

    public override double? Period => 2 * Math.PI;

    public Vec3 Centre => frame.Origin;

    public Vec3 A => frame.X * a;

    public Vec3 B => frame.Y * b;

    public Vec3 Axis => frame.Z;

    public bool IsCircle => a == b;

    public double Radius => a;

    public override Vec3 At(double t) => frame.Origin + (A * Math.Cos(t)) + (B * Math.Sin(t));

    public override Vec3 Slope(double t) => (B * Math.Cos(t)) - (A * Math.Sin(t));

    // On an ellipse the eccentric angle: exact for points on it.
    public override double Find(Vec3 point) => Math.Atan2(Vec3.Dot(point - frame.Origin, frame.Y) / b, Vec3.Dot(point - frame.Origin, frame.X) / a);

    public override IEnumerable<double> Breaks(double from, double to)
    {
        var count = (int)Math.Ceiling(Math.Abs(to - from) / Piece);
        for (var i = 1; i < count; i++)
        {
            yield return from + ((to - from) * i / count);
        }
    }
}
