using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Nest.Core.Plans;
using Nest.Output;
using Nest.Output.Files;
using Nest.Output.Sheets;

namespace Nest.Tests.Output;

/// <summary>DXF and SVG as they are read back, drawn on a raster of half a millimetre and laid beside the layout.</summary>
public sealed partial class ExchangeTest
{
    public static TheoryData<string> Names => [.. SamplePlans.All().Select(sample => sample.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Dxf_drawn_as_it_is_read_is_the_layout(string name)
    {
        foreach (var (layout, drawing) in Drawings(name))
        {
            Dxf(DxfFile.Bytes(drawing)).Differences(layout).Should().BeEmpty($"{name}, layout {layout.Number}");
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Svg_drawn_in_true_millimetres_is_the_layout(string name)
    {
        foreach (var (layout, drawing) in Drawings(name))
        {
            Svg(FullSizeSvg.Bytes(drawing)).Differences(layout).Should().BeEmpty($"{name}, layout {layout.Number}");
        }
    }

    [Fact]
    public void What_is_wrong_in_a_file_is_seen_on_the_raster()
    {
        var (layout, drawing) = Drawings("brackets").First();

        // A blank left out, then all of it a millimetre and a half to the right, then cuts too long and through a blank.
        var lost = Dxf(DxfFile.Bytes(drawing));
        var without = new DrawingRaster();
        foreach (var (x1, y1, x2, y2) in lost.Blanks.Skip(1))
        {
            without.AddRect("BLANKS", x1, y1, x2, y2);
        }

        without.Differences(layout).Should().Contain(finding => finding.EndsWith("pixels of pieces differ", StringComparison.Ordinal))
            .And.Contain(finding => finding.EndsWith("points of outlines have no line", StringComparison.Ordinal));

        var moved = new DrawingRaster();
        foreach (var (x1, y1, x2, y2) in lost.Blanks)
        {
            moved.AddRect("BLANKS", x1 + 1.5m, y1, x2 + 1.5m, y2);
        }

        moved.Differences(layout).Should().Contain(finding => finding.EndsWith("pixels of pieces differ", StringComparison.Ordinal));
        var far = Dxf(DxfFile.Bytes(drawing));
        far.Cuts.Add((0, 10, (decimal)layout.Sheet.SizeX.ToMillimetres() + 2, 10));
        var through = lost.Blanks[0];
        far.Cuts.Add(((through.X1 + through.X2) / 2, through.Y1, (through.X1 + through.X2) / 2, through.Y2));
        far.Differences(layout).Should().Contain(finding => finding.EndsWith("pixels of lines lie outside the plate", StringComparison.Ordinal))
            .And.Contain(finding => finding.EndsWith("pixels of cuts lie in a piece", StringComparison.Ordinal));
    }

    [Fact]
    public void Angled_ends_are_in_both_files_as_the_saw_leaves_them()
    {
        // long side: 620 mm long point to long point, both ends 45°, kerf 2.5 mm: by Math.Tan and Math.Cos, to 0.01 mm, which is what a
        // layout rounds the cut up to.
        var (layout, drawing) = Drawings("mitred").Single();
        var taken = 2.5 / Math.Cos(Math.PI / 4);
        var slope = 40 * Math.Tan(Math.PI / 4);
        var left = (double)layout.Pieces[0].Area.X.ToMillimetres();
        (double X, double Y)[] expected =
            [(left + taken, 0), (left + taken + 620, 0), (left + taken + 620 - slope, 40), (left + taken + slope, 40)];

        var dxf = DxfReader.Read(DxfFile.Bytes(drawing)).Polylines.Where(line => line.Layer == "ANGLED_ENDS").ToArray();
        var svg = XDocument.Parse(Encoding.UTF8.GetString(FullSizeSvg.Bytes(drawing))).Descendants()
            .Where(element => element.Name.LocalName == "polygon" && element.Parent!.Attribute("id")!.Value == "ANGLED_ENDS")
            .Select(element => Numbers().Matches(element.Attribute("points")!.Value).Select(match => (double)Number(match.Value)).ToArray()).ToArray();
        dxf.Should().HaveCount(layout.Pieces.Length).And.OnlyContain(line => line.Closed && line.Points.Count == 4);
        svg.Should().HaveCount(layout.Pieces.Length);
        for (var at = 0; at < 4; at++)
        {
            ((double)dxf[0].Points[at].X).Should().BeApproximately(expected[at].X, 0.02);
            ((double)dxf[0].Points[at].Y).Should().BeApproximately(expected[at].Y, 0.001);
            svg[0][2 * at].Should().BeApproximately(expected[at].X, 0.02);
            svg[0][(2 * at) + 1].Should().BeApproximately(40 - expected[at].Y, 0.001);
        }

        // The part's own length is exact; every outline stays in its blank; ends that lean across the thickness show no slope.
        for (var at = 0; at < layout.Pieces.Length; at++)
        {
            var (piece, points) = (layout.Pieces[at], dxf[at].Points);
            var length = SamplePlans.Mitred().Job.Parts.Single(part => part.Id == piece.PartId).Length.ToMillimetres();
            (points.Max(point => point.X) - points.Min(point => point.X)).Should().Be(length, piece.PartId);
            points.Should().OnlyContain(point => point.X >= piece.Area.X.ToMillimetres() && point.X <= piece.Area.Right.ToMillimetres());
            (points[0].X == points[3].X).Should().Be(piece.PartId is "lid stay" or "foot", piece.PartId);
        }
    }

    private static IEnumerable<(Layout Layout, Drawing Drawing)> Drawings(string name)
    {
        var context = new SheetContext(SamplePlans.All().First(sample => sample.Name == name).Plan, new OutputOptions());
        return context.Plan.Layouts.Select(layout => (layout, Drawing.Of(context, layout)));
    }

    private static DrawingRaster Dxf(byte[] bytes)
    {
        var read = DxfReader.Read(bytes);
        var raster = new DrawingRaster();
        foreach (var (layer, closed, points) in read.Polylines.Where(line => line.Layer != "ANGLED_ENDS"))
        {
            closed.Should().BeTrue();
            raster.AddRect(layer, points.Min(p => p.X), points.Min(p => p.Y), points.Max(p => p.X), points.Max(p => p.Y));
        }

        foreach (var (_, layer, codes) in read.Entities.Where(entity => entity.Type == "LINE"))
        {
            layer.Should().Be("CUTS");
            raster.Cuts.Add((DxfReader.Number(codes[10]), DxfReader.Number(codes[20]), DxfReader.Number(codes[11]), DxfReader.Number(codes[21])));
        }

        return raster;
    }

    // As the SVG recommendation says (W3C SVG 1.1, 7.7 and 7.10): one unit is width in millimetres by width of the view box; Y downwards.
    private static DrawingRaster Svg(byte[] bytes)
    {
        var root = XDocument.Parse(Encoding.UTF8.GetString(bytes)).Root!;
        var box = root.Attribute("viewBox")!.Value.Split(' ').Select(Number).ToArray();
        var (width, height) = (root.Attribute("width")!.Value, root.Attribute("height")!.Value);
        width.Should().EndWith("mm");
        height.Should().EndWith("mm");
        var (unitX, unitY) = (Number(width[..^2]) / box[2], Number(height[..^2]) / box[3]);
        var raster = new DrawingRaster();
        foreach (var group in root.Elements().Where(element => element.Name.LocalName == "g"))
        {
            group.Attribute("transform").Should().BeNull();
            foreach (var shape in group.Elements())
            {
                var numbers = shape.Name.LocalName switch
                {
                    "rect" => new[] { "x", "y", "width", "height" }.Select(name => Number(shape.Attribute(name)!.Value)).ToArray(),
                    "path" => [.. Numbers().Matches(shape.Attribute("d")!.Value).Select(match => Number(match.Value))],
                    _ => [],
                };
                if (shape.Name.LocalName == "rect")
                {
                    raster.AddRect(group.Attribute("id")!.Value, X(numbers[0]), Y(numbers[1] + numbers[3]), X(numbers[0] + numbers[2]), Y(numbers[1]));
                }
                else if (shape.Name.LocalName == "path")
                {
                    raster.Cuts.Add((X(numbers[0]), Y(numbers[1]), X(numbers[2]), Y(numbers[3])));
                }
            }
        }

        return raster;

        decimal X(decimal x) => (x - box[0]) * unitX;
        decimal Y(decimal y) => (box[1] + box[3] - y) * unitY;
    }

    private static decimal Number(string text) => decimal.Parse(text, CultureInfo.InvariantCulture);

    [GeneratedRegex(@"-?\d+(\.\d+)?")]
    private static partial Regex Numbers();
}
