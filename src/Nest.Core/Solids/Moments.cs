namespace Nest.Core.Solids;

/// <summary>Area, volume and the integrals of all products of coordinates up to the third degree over a body.</summary>
/// <remarks>
/// From the surface alone (divergence theorem): div(x·p) = (3+k)·p for p homogeneous of degree k, so ∫ p dV = ∮ p·(x·n) dA ÷ (3+k).
/// Coordinates are taken from <see cref="Origin"/> so that a body far from the model's origin loses no digits.
/// </remarks>
public sealed class Moments
{
    /// <summary>Exponents of x, y, z of the twenty products.</summary>
    internal static readonly (int X, int Y, int Z)[] Products =
    [
        (0, 0, 0),
        (1, 0, 0), (0, 1, 0), (0, 0, 1),
        (2, 0, 0), (0, 2, 0), (0, 0, 2), (1, 1, 0), (0, 1, 1), (1, 0, 1),
        (3, 0, 0), (0, 3, 0), (0, 0, 3), (2, 1, 0), (2, 0, 1), (1, 2, 0), (0, 2, 1), (1, 0, 2), (0, 1, 2), (1, 1, 1),
    ];

    private readonly double[] sums = new double[20];

    public Moments(Vec3 origin) => Origin = origin;

    public Vec3 Origin { get; }

    /// <summary>mm².</summary>
    public double Area { get; private set; }

    /// <summary>Sum of all normals, mm²: zero where the faces close.</summary>
    public Vec3 Normals { get; private set; }

    /// <summary>mm³; negative: inside out.</summary>
    public double Volume => sums[0];

    /// <summary>Adds a piece of surface.</summary>
    /// <param name="at">A point of it.</param>
    /// <param name="normal">Outward, as long as the piece's area.</param>
    public void Add(Vec3 at, Vec3 normal)
    {
        Area += normal.Norm;
        Normals += normal;
        AddSolid(at, normal);
    }

    /// <summary>The same with the area given apart (weights of a quadrature may be negative).</summary>
    public void Add(Vec3 at, Vec3 normal, double area)
    {
        Area += area;
        Normals += normal;
        AddSolid(at, normal);
    }

    /// <summary>Adds a triangle; exact for all products (Strang and Fix 1973: four points, exact to the third degree; here one more
    /// degree is in x·n, which is constant on a plane).</summary>
    public void AddTriangle(Vec3 a, Vec3 b, Vec3 c)
    {
        var normal = Vec3.Cross(b - a, c - a) * 0.5;
        Area += normal.Norm;
        Normals += normal;
        AddSolid((a + b + c) * (1.0 / 3), normal * (-27.0 / 48));
        AddSolid((a * 0.6) + (b * 0.2) + (c * 0.2), normal * (25.0 / 48));
        AddSolid((a * 0.2) + (b * 0.6) + (c * 0.2), normal * (25.0 / 48));
        AddSolid((a * 0.2) + (b * 0.2) + (c * 0.6), normal * (25.0 / 48));
    }

    /// <summary>Adds a face that was summed up apart; its area may come with either sign.</summary>
    internal void Add(Moments face)
    {
        Area += Math.Abs(face.Area);
        Normals += face.Normals;
        for (var i = 0; i < sums.Length; i++)
        {
            sums[i] += face.sums[i];
        }
    }

    /// <summary>The same body with its surface turned over.</summary>
    public Moments TurnedOver()
    {
        var other = new Moments(Origin) { Area = Area, Normals = -Normals };
        for (var i = 0; i < sums.Length; i++)
        {
            other.sums[i] = -sums[i];
        }

        return other;
    }

    /// <summary>Integral of x^i y^j z^k about the centre, by the numbers of <see cref="Products"/>.</summary>
    internal double[] Central(out Vec3 centre)
    {
        var v = sums[0];
        var c = new Vec3(sums[1] / v, sums[2] / v, sums[3] / v);
        centre = Origin + c;
        var central = new double[20];
        central[0] = v;
        for (var i = 4; i < 20; i++)
        {
            var (x, y, z) = Products[i];
            // (x−c)^i … multiplied out over the known sums.
            double sum = 0;
            for (var a = 0; a <= x; a++)
            {
                for (var b = 0; b <= y; b++)
                {
                    for (var d = 0; d <= z; d++)
                    {
                        sum += Choose(x, a) * Choose(y, b) * Choose(z, d)
                            * Power(-c.X, x - a) * Power(-c.Y, y - b) * Power(-c.Z, z - d) * sums[IndexOf(a, b, d)];
                    }
                }
            }

            central[i] = sum;
        }

        return central;
    }

    internal static int IndexOf(int x, int y, int z) => Array.IndexOf(Products, (x, y, z));

    private void AddSolid(Vec3 at, Vec3 normal)
    {
        var p = at - Origin;
        var out_ = Vec3.Dot(p, normal);
        var (one, two, three) = (out_ / 4, out_ / 5, out_ / 6);
        sums[0] += out_ / 3;
        sums[1] += one * p.X;
        sums[2] += one * p.Y;
        sums[3] += one * p.Z;
        sums[4] += two * p.X * p.X;
        sums[5] += two * p.Y * p.Y;
        sums[6] += two * p.Z * p.Z;
        sums[7] += two * p.X * p.Y;
        sums[8] += two * p.Y * p.Z;
        sums[9] += two * p.X * p.Z;
        sums[10] += three * p.X * p.X * p.X;
        sums[11] += three * p.Y * p.Y * p.Y;
        sums[12] += three * p.Z * p.Z * p.Z;
        sums[13] += three * p.X * p.X * p.Y;
        sums[14] += three * p.X * p.X * p.Z;
        sums[15] += three * p.X * p.Y * p.Y;
        sums[16] += three * p.Y * p.Y * p.Z;
        sums[17] += three * p.X * p.Z * p.Z;
        sums[18] += three * p.Y * p.Z * p.Z;
        sums[19] += three * p.X * p.Y * p.Z;
    }

    // n over k for n up to three.
    private static double Choose(int n, int k) => k == 0 || k == n ? 1 : n;

    private static double Power(double x, int n)
    {
        var result = 1.0;
        for (var i = 0; i < n; i++)
        {
            result *= x;
        }

        return result;
    }
}
