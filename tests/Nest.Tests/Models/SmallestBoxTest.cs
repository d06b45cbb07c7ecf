using Nest.Core.Solids;

namespace Nest.Tests.Models;

/// <summary>The smallest box over all turns, against closed forms and against a search that knows nothing of edges.</summary>
public class SmallestBoxTest
{
    private static (Vec3 X, Vec3 Y, Vec3 Z) Turned(Random random)
    {
        // A turn from three random angles about the fixed axes.
        var (x, y, z) = (new Vec3(1, 0, 0), new Vec3(0, 1, 0), new Vec3(0, 0, 1));
        for (var axis = 0; axis < 3; axis++)
        {
            var (sin, cos) = Math.SinCos(random.NextDouble() * 2 * Math.PI);
            (x, y, z) = axis switch
            {
                0 => (x, (y * cos) + (z * sin), (z * cos) - (y * sin)),
                1 => ((x * cos) - (z * sin), y, (z * cos) + (x * sin)),
                _ => ((x * cos) + (y * sin), (y * cos) - (x * sin), z),
            };
        }

        return (x, y, z);
    }

    private static MeshBody Hull(IEnumerable<Vec3> points)
    {
        var list = points.ToList();
        var hull = ConvexHull.Of(list, 0, 100_000)!;
        var mesh = new MeshBuilder();
        foreach (var face in hull.Faces)
        {
            mesh.Add(hull.Corners[face.A], hull.Corners[face.B], hull.Corners[face.C]);
        }

        return mesh.Build(1, 0)!;
    }

    [Theory]
    [InlineData(1, 120, 80, 12)]
    [InlineData(2, 50, 50, 50)]
    [InlineData(3, 600, 3, 2)]
    [InlineData(4, 33.3, 25.4, 7.77)]
    public void A_turned_cuboid_is_its_own_smallest_box(int seed, double a, double b, double c)
    {
        var (x, y, z) = Turned(new(seed));
        var body = Hull(Enumerable.Range(0, 8).Select(i => (x * (a * (i & 1))) + (y * (b * (i >> 1 & 1))) + (z * (c * (i >> 2))) + new Vec3(1000, -500, 77)));
        var boxes = BoxSearch.Of(body)!;

        body.Moments!.Volume.Should().BeApproximately(a * b * c, a * b * c * 1e-6);
        boxes.Smallest.Size.X.Should().BeApproximately(a, 1e-5);
        boxes.Smallest.Size.Y.Should().BeApproximately(b, 1e-5);
        boxes.Smallest.Size.Z.Should().BeApproximately(c, 1e-5);
        boxes.OnFlat!.Volume.Should().BeApproximately(a * b * c, a * b * c * 1e-5);
        boxes.Round.Should().BeNull();
    }

    /// <summary>The smallest box of a regular tetrahedron is the cube of which its edges are face diagonals: side a ÷ √2; one that stands on a face is
    /// larger (O'Rourke 1985 gives the tetrahedron as the case in which no face is flush).</summary>
    [Fact]
    public void A_tetrahedron_lies_in_a_cube_by_its_edges()
    {
        const double edge = 100;
        var half = edge / Math.Sqrt(8);
        var (x, y, z) = Turned(new(5));
        var body = Hull(new[] { (1, 1, 1), (1, -1, -1), (-1, 1, -1), (-1, -1, 1) }.Select(c => ((x * c.Item1) + (y * c.Item2) + (z * c.Item3)) * half));
        var boxes = BoxSearch.Of(body)!;

        body.Moments!.Volume.Should().BeApproximately(edge * edge * edge / (6 * Math.Sqrt(2)), 0.01);
        boxes.Smallest.Volume.Should().BeApproximately(Math.Pow(edge / Math.Sqrt(2), 3), 0.1);
        // On a face: height a·√(2/3), and the triangle in its smallest rectangle a × a·√3 ÷ 2.
        boxes.OnFlat!.Volume.Should().BeApproximately(edge * Math.Sqrt(2.0 / 3) * edge * edge * Math.Sqrt(3) / 2, 0.1);
    }

    [Fact]
    public void No_box_of_a_dense_search_is_smaller()
    {
        for (var seed = 10; seed < 16; seed++)
        {
            var random = new Random(seed);
            var points = Enumerable.Range(0, 9).Select(_ => new Vec3(random.NextDouble() * 40, random.NextDouble() * 30, random.NextDouble() * 20)).ToList();
            var body = Hull(points);
            var boxes = BoxSearch.Of(body)!;
            var least = double.PositiveInfinity;
            for (var i = 0; i < 20_000; i++)
            {
                var (x, y, z) = Turned(random);
                least = Math.Min(least, body.BoxAlong(x, y, z).Volume);
            }

            boxes.Smallest.Volume.Should().BeLessThanOrEqualTo(least * (1 + 1e-9));
            boxes.SmallestAtLeast.Should().BeLessThanOrEqualTo(least);
            boxes.Gap.Should().BeLessThan(1e-6);
        }
    }

    [Fact]
    public void A_prism_and_a_sphere_have_the_volume_of_their_polyhedra()
    {
        // A prism over a regular polygon of n sides: n ÷ 2 · r² · sin(2π ÷ n) · h.
        const int n = 48;
        var prism = Hull(Enumerable.Range(0, 2 * n).Select(i => new Vec3(25 * Math.Cos(2 * Math.PI * (i / 2) / n), 25 * Math.Sin(2 * Math.PI * (i / 2) / n), i % 2 * 60)));
        prism.Moments!.Volume.Should().BeApproximately(n / 2.0 * 625 * Math.Sin(2 * Math.PI / n) * 60, 0.01);
        var boxes = BoxSearch.Of(prism)!;
        boxes.Round!.Diameter.Should().BeApproximately(50, 1e-5);
        boxes.Round.Length.Should().BeApproximately(60, 1e-5);

        // Points on a sphere: below, but near, the sphere's volume, and round in every direction.
        var sphere = Hull(Enumerable.Range(0, 2000).Select(i =>
        {
            var (height, angle) = (1 - ((i + 0.5) / 1000), i * Math.PI * (3 - Math.Sqrt(5)));
            return new Vec3(Math.Cos(angle) * Math.Sqrt(1 - (height * height)), Math.Sin(angle) * Math.Sqrt(1 - (height * height)), height) * 30;
        }));
        sphere.Moments!.Volume.Should().BeInRange(4.0 / 3 * Math.PI * 27_000 * 0.99, 4.0 / 3 * Math.PI * 27_000);
        var round = BoxSearch.Of(sphere)!;
        round.Smallest.Volume.Should().BeInRange(60 * 60 * 60 * 0.98, 60.0 * 60 * 60);
        // The hull was cut short, and says by how much the box may be too large.
        round.Gap.Should().BeInRange(1e-6, 0.05);
        round.SmallestAtLeast.Should().BeLessThan(round.Smallest.Volume);
    }

    /// <summary>A thick ellipse of 248 sides. No rectangle about an ellipse is smaller than the one along its axes, which has the area 4·a·b: turned by φ it is
    /// 4·√(a²cos²φ + b²sin²φ)·√(a²sin²φ + b²cos²φ). The polygon lies within the ellipse and holds one that is smaller by cos(π ÷ n).</summary>
    [Fact]
    public void A_finely_curved_outline_is_searched_within_a_limit_of_work()
    {
        const int n = 248;
        const double volume = 120 * 70 * 6;
        var (x, y, z) = Turned(new(3));
        var points = Enumerable.Range(0, 2 * n).Select(i =>
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * (i / 2) / n);
            return (x * (60 * cos)) + (y * (35 * sin)) + (z * (i % 2 * 6));
        }).ToList();
        var hull = ConvexHull.Of(points, 0, 2 * n)!;
        var start = (new Vec3(1, 0, 0), new Vec3(0, 1, 0));

        var whole = SmallestBox.Of(hull, start, long.MaxValue);
        whole.Volume.Should().BeInRange(volume * Math.Pow(Math.Cos(Math.PI / n), 2), volume * (1 + 1e-6));
        whole.Work.Should().BeLessThan(BoxSearch.MostWork, "a part of this kind is searched whole; an outline like it once took 4.5 million pieces and six seconds");

        // With less work the corners are thinned out: the bound is lower, never higher, and the box is one that was measured.
        var limited = BoxSearch.Least(hull, start, 1e-6, 50_000);
        limited.Work.Should().BeLessThan(250_000);
        limited.Volume.Should().BeInRange(volume * 0.9, whole.Volume);
        var body = Hull(points);
        var box = BoxSearch.Of(body, 50_000)!;
        box.Smallest.Volume.Should().BeInRange(whole.Volume * (1 - 1e-6), volume * (1 + 1e-6));
        box.SmallestAtLeast.Should().BeLessThan(whole.Volume);
        box.Gap.Should().BeInRange(1e-9, 0.1);
    }
}
