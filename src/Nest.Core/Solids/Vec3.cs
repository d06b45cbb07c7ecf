namespace Nest.Core.Solids;

/// <summary>A point or direction in a model's space; millimetres unless said otherwise.</summary>
/// <remarks>Models come in floating point, so their geometry is measured in it. What leaves this room for the planner are exact
/// lengths, rounded up.</remarks>
public readonly record struct Vec3(double X, double Y, double Z)
{
    public double this[int axis] => axis == 0 ? X : axis == 1 ? Y : Z;

    public double Norm => Math.Sqrt((X * X) + (Y * Y) + (Z * Z));

    public bool IsFinite => double.IsFinite(X) && double.IsFinite(Y) && double.IsFinite(Z);

    /// <summary>The same direction with length one; zero stays zero.</summary>
    public Vec3 Unit => Norm is > 0 and var length ? new(X / length, Y / length, Z / length) : this;

    public static Vec3 operator +(Vec3 a, Vec3 b) => new(a.X + b.X, a.Y + b.Y, a.Z + b.Z);

    public static Vec3 operator -(Vec3 a, Vec3 b) => new(a.X - b.X, a.Y - b.Y, a.Z - b.Z);

    public static Vec3 operator -(Vec3 a) => new(-a.X, -a.Y, -a.Z);

    public static Vec3 operator *(Vec3 a, double times) => new(a.X * times, a.Y * times, a.Z * times);

    public static Vec3 operator *(double times, Vec3 a) => a * times;

    public static double Dot(Vec3 a, Vec3 b) => (a.X * b.X) + (a.Y * b.Y) + (a.Z * b.Z);

    public static Vec3 Cross(Vec3 a, Vec3 b) =>
        new((a.Y * b.Z) - (a.Z * b.Y), (a.Z * b.X) - (a.X * b.Z), (a.X * b.Y) - (a.Y * b.X));

    public static Vec3 Min(Vec3 a, Vec3 b) => new(Math.Min(a.X, b.X), Math.Min(a.Y, b.Y), Math.Min(a.Z, b.Z));

    public static Vec3 Max(Vec3 a, Vec3 b) => new(Math.Max(a.X, b.X), Math.Max(a.Y, b.Y), Math.Max(a.Z, b.Z));

    /// <summary>Some direction at right angles, of length one.</summary>
    public Vec3 AnyAcross()
    {
        var least = Math.Abs(X) <= Math.Abs(Y) && Math.Abs(X) <= Math.Abs(Z) ? new Vec3(1, 0, 0)
            : Math.Abs(Y) <= Math.Abs(Z) ? new Vec3(0, 1, 0)
            : new Vec3(0, 0, 1);
        return Cross(this, least).Unit;
    }
}
