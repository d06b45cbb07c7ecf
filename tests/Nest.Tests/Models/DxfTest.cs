using System.Globalization;
using System.Text;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Data;
using Nest.Data.Models;

namespace Nest.Tests.Models;

/// <summary>Curves and blocks of a DXF by closed forms, and what is refused.</summary>
public class DxfTest
{
    private const string Circle = "0 CIRCLE 10 0 20 0 40 10";

    /// <summary>Codes and values with blanks between them; an inch or millimetre file of these entities and blocks.</summary>
    private static ReadResult<Model> Read(string entities, string blocks = "", string header = "9 $INSUNITS 70 4")
    {
        var words = $"0 SECTION 2 HEADER {header} 0 ENDSEC 0 SECTION 2 BLOCKS {blocks} 0 ENDSEC 0 SECTION 2 ENTITIES {entities} 0 ENDSEC 0 EOF".Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return ModelReader.Read(new MemoryStream(Encoding.ASCII.GetBytes(string.Join('\n', words) + "\n")), "a.dxf", new(null, Length.FromMillimetres(10)));
    }

    private static (double X, double Y, double Area) Only(ReadResult<Model> read)
    {
        read.HasErrors.Should().BeFalse("{0}", string.Join("; ", read.Findings));
        var body = read.Value!.Parts.Should().ContainSingle().Subject.Body;
        var size = body.BoxAlong(new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)).Size;
        return (size.X, size.Y, body.Moments!.Volume / 10);
    }

    /// <summary>Half the box of an ellipse with half axes a, b turned by w is √(a²cos²w + b²sin²w); its area is πab.</summary>
    [Theory]
    [InlineData(40, 0.3, 0.7)]
    [InlineData(500, 0.02, 1.2)]
    [InlineData(3, 1, 0)]
    public void A_turned_ellipse_has_its_box_and_area(double a, double ratio, double turn)
    {
        var text = string.Create(CultureInfo.InvariantCulture, $"0 ELLIPSE 10 7 20 -9 11 {a * Math.Cos(turn):R} 21 {a * Math.Sin(turn):R} 40 {ratio:R} 41 0 42 6.283185307179586");
        var (x, y, area) = Only(Read(text));
        var b = a * ratio;
        x.Should().BeApproximately(2 * Math.Sqrt(Math.Pow(a * Math.Cos(turn), 2) + Math.Pow(b * Math.Sin(turn), 2)), 3e-4);
        y.Should().BeApproximately(2 * Math.Sqrt(Math.Pow(a * Math.Sin(turn), 2) + Math.Pow(b * Math.Cos(turn), 2)), 3e-4);
        area.Should().BeApproximately(Math.PI * a * b, 1e-4 * a * 7);
    }

    /// <summary>A circle that a block stretches is an ellipse; one that it only turns over and enlarges stays a circle.</summary>
    [Theory]
    [InlineData("41 3 42 2", 60, 40, 6)]
    [InlineData("41 -2 42 2 50 30", 40, 40, 4)]
    [InlineData("41 3 42 -2 50 90", 40, 60, 6)]
    public void A_block_is_put_in_with_its_scale_and_turn(string how, double x, double y, double times)
    {
        var found = Only(Read($"0 INSERT 2 C 10 100 20 50 {how}", $"0 BLOCK 2 C 10 5 20 5 70 0 {Circle} 0 ENDBLK"));
        found.X.Should().BeApproximately(x, 3e-4);
        found.Y.Should().BeApproximately(y, 3e-4);
        found.Area.Should().BeApproximately(Math.PI * 100 * times, 5e-2);
    }

    [Fact]
    public void Rows_of_a_block_are_as_many_parts() =>
        Read("0 INSERT 2 C 10 0 20 0 70 3 71 2 44 25 45 30", $"0 BLOCK 2 C {Circle} 0 ENDBLK").Value!.Parts.Should().HaveCount(6);

    /// <summary>Names in the header stand behind the code that names a section: the unit was lost when one stood before it.</summary>
    [Fact]
    public void A_name_in_the_header_does_not_hide_the_unit() =>
        Only(Read(Circle, header: "9 $CMLSTYLE 2 STANDARD 9 $INSUNITS 70 1")).X.Should().BeApproximately(508, 1e-6);

    [Theory]
    [InlineData("0 INSERT 2 A 10 0 20 0", "0 BLOCK 2 A 0 INSERT 2 B 10 0 20 0 0 ENDBLK 0 BLOCK 2 B 0 INSERT 2 A 10 1 20 1 0 ENDBLK", "model-damaged", "within itself")]
    [InlineData("0 INSERT 2 A 10 0 20 0 70 30000 71 30000 44 1 45 1", "0 BLOCK 2 A 0 CIRCLE 10 0 20 0 40 1 0 ENDBLK", "model-too-large", "too often")]
    [InlineData("0 SPLINE 70 0 71 3 40 0 40 1 10 0 20 0 10 1 20 1", "", "model-damaged", "spline")]
    [InlineData("0 SPLINE 70 0 71 1 40 0 40 0 40 1 40 2 40 2 10 0 20 0 30 0 10 9 20 0 30 0 10 9 20 9 30 4", "", "dxf-not-flat", "slanted")]
    [InlineData("0 INSERT 2 NONE 10 0 20 0", "", "dxf-no-outline", "no closed outline")]
    [InlineData("0 SPLINE 70 0 71 3 11 0 21 0 11 5 21 5", "", "dxf-no-outline", "no closed outline")]
    [InlineData("0 SPLINE 70 1 71 3 11 3 21 3 11 3 21 3", "", "dxf-no-outline", "no closed outline")]
    [InlineData("0 SPLINE 70 0 71 3 11 0 21 0 11 5", "", "model-damaged", "spline")]
    [InlineData("0 SPLINE 70 0 71 3 11 0 21 0 31 0 11 5 21 5 31 4", "", "dxf-not-flat", "slanted")]
    public void What_cannot_be_laid_out_is_refused(string entities, string blocks, string rule, string says)
    {
        var read = Read(entities, blocks);
        read.Value.Should().BeNull();
        read.Findings.Should().ContainSingle(finding => finding.Severity == Severity.Error).Which.Should().Match<Finding>(finding => finding.Rule == rule && finding.ToString().Contains(says, StringComparison.Ordinal) && finding.Advice.Length > 0);
    }

    /// <summary>Blocks of blocks of blocks, each twenty times: 20^6 circles.</summary>
    [Fact]
    public void Blocks_that_multiply_are_refused_in_time()
    {
        var blocks = string.Concat(Enumerable.Range(0, 6).Select(i => $"0 BLOCK 2 B{i} {(i == 0 ? Circle : $"0 INSERT 2 B{i - 1} 10 0 20 0 70 20 44 25")} 0 ENDBLK "));
        Read("0 INSERT 2 B5 10 0 20 0 70 20 44 1", blocks).Findings.Should().ContainSingle(finding => finding.Rule == "model-too-large");
        var empty = string.Concat(Enumerable.Range(0, 9).Select(i => $"0 BLOCK 2 B{i} {(i == 0 ? "" : $"0 INSERT 2 B{i - 1} 10 0 20 0 70 20 44 25")} 0 ENDBLK "));
        Read("0 INSERT 2 B8 10 0 20 0 70 20 44 1", empty).Findings.Should().ContainSingle(finding => finding.Rule == "model-too-large");
    }

    [Fact]
    public void A_spline_by_points_that_it_goes_through_is_told()
    {
        // Through points on a line it is the line.
        var read = Read("0 SPLINE 70 8 71 3 11 0 21 0 11 20 21 0 11 50 21 0 0 LINE 10 50 20 0 11 50 21 30 0 LINE 10 50 20 30 11 0 21 30 0 LINE 10 0 20 30 11 0 21 0 0 INSERT 2 NONE 10 0 20 0");
        var (x, y, area) = Only(read);
        (Math.Round(x, 6), Math.Round(y, 6), Math.Round(area, 6)).Should().Be((50, 30, 1500));
        read.Findings.Should().ContainSingle(finding => finding.Rule == "dxf-not-read").Which.Message.Should().Contain("1 INSERT without its block");
        read.Findings.Should().ContainSingle(finding => finding.Rule == "dxf-through-points").Which.Message.Should().Contain("cubic curve over the lengths of their chords");
    }
}
