using System.Text.Json;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Core.Solids.Exact;
using Nest.Data.Models;

namespace Nest.Tests.Models;

/// <summary>Against general-purpose libraries that share nothing with Nest: ezdxf, GEOS, Qhull, scipy's optimisers, admesh; see
/// <c>independent/measure.py</c>, which wrote the drawings and the figures. STEP is compared with the CAD kernel that wrote the files elsewhere.</summary>
public class IndependentTest
{
    private static readonly string Folder = Path.Combine(Path.GetDirectoryName(ModelFiles.Folder)!, "independent");

    private static readonly JsonElement Measured = JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, "measured.json"))).RootElement;

    [Theory]
    [InlineData("curves_mm.dxf", 4, "")]
    [InlineData("blocks_inch.dxf", 14, "")]
    [InlineData("through_mm.dxf", 4, "dxf-through-points")]
    public void Outlines_of_curves_and_blocks_have_the_area_and_boxes_that_other_libraries_find(string file, int count, string told)
    {
        var read = ModelReader.Read(Path.Combine(Folder, file), new(null, Length.FromMillimetres(10)));
        string.Join(" ", read.Findings.Select(finding => finding.Rule)).Should().Be(told);
        var parts = read.Value!.Parts.Select(part => (part.Body, Area: part.Body.Moments!.Volume / 10, Box: part.Body.BoxAlong(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)).Size)).ToList();
        parts.Should().HaveCount(count);
        var rectangles = new HashSet<double>();
        foreach (var other in Measured.GetProperty("drawings").GetProperty(file).EnumerateArray())
        {
            // They take chords for curves, 0.01 µm within them; the area is the net one.
            var (area, x, y) = (other.GetProperty("area").GetDouble(), other.GetProperty("box")[0].GetDouble(), other.GetProperty("box")[1].GetDouble());
            var mine = parts.MinBy(part => Math.Abs(part.Area - area) + Math.Abs(part.Box.X - x) + Math.Abs(part.Box.Y - y));
            mine.Area.Should().BeApproximately(area, 0.05);
            mine.Box.X.Should().BeApproximately(x, 0.001);
            mine.Box.Y.Should().BeApproximately(y, 0.001);
            var (longer, shorter) = (other.GetProperty("rectangle")[0].GetDouble(), other.GetProperty("rectangle")[1].GetDouble());
            if (rectangles.Add(longer))
            {
                var standing = BoxSearch.Standing(mine.Body, new(0, 0, 1))!.Size;
                standing.X.Should().BeApproximately(longer, 0.001);
                standing.Y.Should().BeApproximately(shorter, 0.001);
            }
        }
    }

    public static TheoryData<string> Meshes => [.. Measured.GetProperty("meshes").EnumerateArray().Select(mesh => mesh.GetProperty("file").GetString()!)];

    [Theory]
    [MemberData(nameof(Meshes))]
    public void Hull_volume_and_smallest_box_agree(string file)
    {
        var other = Measured.GetProperty("meshes").EnumerateArray().First(mesh => mesh.GetProperty("file").GetString() == file);
        var model = ModelFiles.Read(file);
        var cube = Math.Pow(model.MillimetresPerUnit, 3);
        var body = model.Parts[0].Body;
        var (hull, box) = (other.GetProperty("hull").GetDouble() * cube, other.GetProperty("box").GetDouble() * cube);

        HullVolume(body).Should().BeApproximately(hull, hull * 1e-6);
        var boxes = BoxSearch.Of(body)!;
        boxes.Smallest.Volume.Should().BeLessThanOrEqualTo(box * (1 + 1e-6), "the optimiser found one of this volume");
        // The bound is that of the points to the nearest nanometre: each side may be two of them longer.
        var (size, sides) = (boxes.Smallest.Size, 2e-6);
        boxes.SmallestAtLeast.Should().BeLessThanOrEqualTo(
            box + (sides * ((size.X * size.Y) + (size.Y * size.Z) + (size.Z * size.X))), "a bound above a box that holds the part is none");
        if (other.GetProperty("volume") is { ValueKind: JsonValueKind.Number } volume)
        {
            // Single precision.
            body.Moments!.Volume.Should().BeApproximately(volume.GetDouble() * cube, volume.GetDouble() * cube * 1e-4);
        }
    }

    private static double HullVolume(Body body)
    {
        var hull = ConvexHull.Of(body.Points, 0, 100_000)!;
        return hull.Faces.Sum(face => Vec3.Dot(hull.Corners[face.A], Vec3.Cross(hull.Corners[face.B], hull.Corners[face.C]))) / 6;
    }

    [Fact]
    public void Hulls_with_few_and_many_corners_from_one_run_are_those_of_two()
    {
        var body = ModelFiles.Read("pocket_plate_fine_binary_mm.stl").Parts[0].Body;
        var both = ConvexHull.Of(body.Points, 0, 12, 40)!;
        foreach (var (hull, most) in both.Zip([12, 40]))
        {
            var alone = ConvexHull.Of(body.Points, 0, most)!;
            hull.Corners.Should().Equal(alone.Corners);
            hull.Missed.Should().Be(alone.Missed);
            hull.Corners.Count.Should().BeLessThanOrEqualTo(most);
        }
    }

    /// <summary>A clamped cubic with a knot that stands twice: the pieces' ends and slopes by de Boor's own recursion.</summary>
    [Fact]
    public void A_spline_in_pieces_is_the_spline_itself()
    {
        double[] knots = [0, 0, 0, 0, 1, 2, 2, 3.5, 5, 5, 5, 5];
        Vec3[] points = [new(0, 0, 0), new(1, 4, 0), new(3, 5, 1), new(5, -2, 0), new(8, 0, 2), new(9, 3, 0), new(7, 6, 1), new(4, 7, 0)];
        var curve = new SplineCurve([.. points.Select(point => new Weighted(point, 1))], knots, 3);
        for (var i = 0; i <= 500; i++)
        {
            var t = i / 100.0;
            var k = Math.Min(Array.FindLastIndex(knots, knot => knot <= t), 7);
            var d = Enumerable.Range(0, 4).Select(j => points[k - 3 + j]).ToArray();
            for (var r = 1; r <= 3; r++)
            {
                for (var j = 3; j >= r; j--)
                {
                    var share = (t - knots[k - 3 + j]) / (knots[k + 1 + j - r] - knots[k - 3 + j]);
                    d[j] = (d[j - 1] * (1 - share)) + (d[j] * share);
                }
            }

            (curve.At(t) - d[3]).Norm.Should().BeLessThan(1e-12);
        }
    }
}
