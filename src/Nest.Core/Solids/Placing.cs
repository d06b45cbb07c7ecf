namespace Nest.Core.Solids;

/// <summary>Where a body stands in another frame: the images of the three axes and of the origin.</summary>
/// <remarks>May scale or mirror (3MF allows both); STEP's placements are rigid.</remarks>
public readonly record struct Placing(Vec3 X, Vec3 Y, Vec3 Z, Vec3 Origin)
{
    public static Placing None { get; } = new(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1), default);

    public double Determinant => Vec3.Dot(X, Vec3.Cross(Y, Z));

    public bool IsFinite => X.IsFinite && Y.IsFinite && Z.IsFinite && Origin.IsFinite;

    /// <summary>Neither scaled nor mirrored, to nine digits: the part stays the same part.</summary>
    public bool IsRigid =>
        Math.Abs(Determinant - 1) < 1e-6
        && Math.Abs(Vec3.Dot(X, X) - 1) < 1e-6 && Math.Abs(Vec3.Dot(Y, Y) - 1) < 1e-6 && Math.Abs(Vec3.Dot(Z, Z) - 1) < 1e-6
        && Math.Abs(Vec3.Dot(X, Y)) < 1e-6 && Math.Abs(Vec3.Dot(Y, Z)) < 1e-6 && Math.Abs(Vec3.Dot(Z, X)) < 1e-6;

    public Vec3 Turn(Vec3 direction) => (X * direction.X) + (Y * direction.Y) + (Z * direction.Z);

    public Vec3 Of(Vec3 point) => Turn(point) + Origin;

    /// <summary>First this, then the outer one.</summary>
    public Placing Then(Placing outer) => new(outer.Turn(X), outer.Turn(Y), outer.Turn(Z), outer.Of(Origin));

    /// <summary>The way back; of a rigid placing only.</summary>
    public Placing Back()
    {
        var (x, y, z) = (new Vec3(X.X, Y.X, Z.X), new Vec3(X.Y, Y.Y, Z.Y), new Vec3(X.Z, Y.Z, Z.Z));
        var turn = new Placing(x, y, z, default);
        return turn with { Origin = -turn.Turn(Origin) };
    }
}
