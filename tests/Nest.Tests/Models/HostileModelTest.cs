using System.Globalization;
using System.IO.Compression;
using System.Text;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Data;
using Nest.Data.Models;

namespace Nest.Tests.Models;

/// <summary>Files that are broken or made to hurt: each is refused with what is wrong and what to do.</summary>
public class HostileModelTest
{
    private static ReadResult<Model> Read(string name, byte[] bytes, string? unit = "mm") =>
        ModelReader.Read(new MemoryStream(bytes), name, new(unit, Length.FromMillimetres(6)));

    private static ReadResult<Model> Read(string name, string text, string? unit = "mm") => Read(name, Encoding.UTF8.GetBytes(text), unit);

    private static void Refused(ReadResult<Model> result, string rule, string message, int row = 0)
    {
        result.Value.Should().BeNull();
        var finding = result.Findings.Should().ContainSingle(one => one.Severity == Severity.Error).Subject;
        finding.Rule.Should().Be(rule);
        finding.Message.Should().Contain(message);
        finding.Advice.Should().NotBeEmpty();
        finding.Where.Row.Should().Be(row);
    }

    private const string Facet = "facet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 10 0 0\nvertex 0 10 0\nendloop\nendfacet\n";

    [Theory]
    [InlineData("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 nan\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid", "'nan' is not a number", 4)]
    [InlineData("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 1e400\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid", "is not a number", 4)]
    [InlineData("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 1,5\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid", "'1,5' is not a number", 4)]
    [InlineData("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 5e12\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid", "beyond all sizes", 4)]
    [InlineData("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 5e11\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid", "kilometre", 0)]
    [InlineData("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\n", "where 'vertex' must stand", 6)]
    [InlineData("solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 0 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid padded to be longer than the head of a binary", "no triangle with an area", 0)]
    [InlineData("solid a\nhello there and some more words to pass the eighty-four bytes of a binary file's head", "'hello' where 'facet'", 2)]
    public void A_damaged_text_stl_is_refused_with_its_line(string text, string message, int row) =>
        Refused(Read("part.stl", text), "model-damaged", message, row);

    [Fact]
    public void A_binary_stl_that_is_cut_off_or_lies_about_its_length_is_refused()
    {
        var file = File.ReadAllBytes(ModelFiles.Path("wedge_solid_header_binary_mm.stl"));
        Refused(Read("part.stl", file[..^60]), "model-damaged", "cut off");
        Refused(Read("part.stl", new byte[40]), "model-damaged", "too short");
        Refused(Read("part.stl", new byte[84]), "model-damaged", "no triangles");

        // Four thousand million triangles in a file of a few bytes: nothing is made room for.
        var huge = (byte[])file.Clone();
        huge.AsSpan(80, 4).Fill(0xFF);
        Refused(Read("part.stl", huge), "model-damaged", "4294967295 triangles");

        var infinite = (byte[])file.Clone();
        BitConverter.TryWriteBytes(infinite.AsSpan(96), float.PositiveInfinity);
        Refused(Read("part.stl", infinite), "model-damaged", "not a number");
    }

    [Fact]
    public void A_unit_that_nothing_tells_is_asked_for()
    {
        static string Scaled(double by) => "solid a\n" + Facet.Replace("10", (10 * by).ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal) + "endsolid";

        var small = Read("part.stl", Scaled(0.1), null);
        small.HasErrors.Should().BeFalse();
        small.Value!.Unit.Should().Contain("inch");
        small.Findings.Should().Contain(finding => finding.Rule == "unit-assumed");
        Read("part.stl", Scaled(1), null).Value!.Unit.Should().StartWith("mm");
        Refused(Read("part.stl", Scaled(0.001), null), "unit-open", "no usual size");
        Refused(Read("part.stl", Scaled(10_000), null), "unit-open", "no usual size");
        Refused(Read("part.stl", Scaled(1), "parsec"), "unit-unknown", "parsec");
        Refused(Read("part.dxf", Dxf("0\nCIRCLE\n10\n0\n20\n0\n40\n5\n"), null), "unit-open", "$INSUNITS");
    }

    [Theory]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 9\n", "no corner 9", 4)]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 0\n", "no corner 0", 4)]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1 0\nf -1 -2 -4\n", "no corner -4", 4)]
    [InlineData("v 0 0\nv 1 0 0\n", "fewer than three numbers", 1)]
    [InlineData("v 0 0 0\nv 1 0 0\nf 1 2\n", "fewer than three corners", 3)]
    [InlineData("v 0 0 0\n", "no face", 0)]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1//x 2 3a\n", "'3a' is not a corner", 4)]
    public void A_damaged_obj_is_refused_with_its_line(string text, string message, int row) =>
        Refused(Read("part.obj", text), "model-damaged", message, row);

    private static byte[] Zip(params (string Name, string Text)[] entries)
    {
        using var memory = new MemoryStream();
        using (var archive = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, text) in entries)
            {
                using var writer = new StreamWriter(archive.CreateEntry(name).Open());
                writer.Write(text);
            }
        }

        return memory.ToArray();
    }

    private const string Space = "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\"";

    private static byte[] ThreeMf(string resources, string build) =>
        Zip(("3D/3dmodel.model", $"<model unit=\"millimeter\" {Space}><resources>{resources}</resources><build>{build}</build></model>"));

    [Fact]
    public void Bombs_entities_and_tricks_with_names_do_nothing()
    {
        // External and inner entities are refused before anything is fetched or multiplied.
        Refused(
            Read("part.3mf", Zip(("3D/3dmodel.model", $"<!DOCTYPE m [<!ENTITY a SYSTEM \"file:///etc/passwd\">]><model {Space}>&a;</model>"))),
            "model-damaged", "no sound XML");
        Refused(Read("part.3mf", Zip(("_rels/.rels", "<Relationships><Relationship Type=\"x/3dmodel\" Target=\"../../secret\"/></Relationships>"))), "model-damaged", "leads out of it");
        Refused(Read("part.3mf", Zip(("other", "text"))), "model-damaged", "has no '3D/3dmodel.model'");
        Refused(Read("part.3mf", "this is no archive at all, only text that goes on for a while"), "model-damaged", "archive is damaged");

        // Ten thousand pieces by components within components: refused, not built.
        var nested = new StringBuilder("<object id=\"0\"><mesh><vertices><vertex x=\"0\" y=\"0\" z=\"0\"/><vertex x=\"1\" y=\"0\" z=\"0\"/><vertex x=\"0\" y=\"1\" z=\"0\"/></vertices><triangles><triangle v1=\"0\" v2=\"1\" v3=\"2\"/></triangles></mesh></object>");
        for (var i = 1; i < 12; i++)
        {
            nested.Append(CultureInfo.InvariantCulture, $"<object id=\"{i}\"><components>{string.Concat(Enumerable.Repeat($"<component objectid=\"{i - 1}\"/>", 10))}</components></object>");
        }

        Refused(Read("part.3mf", ThreeMf(nested.ToString(), "<item objectid=\"11\"/>")), "model-too-large", "pieces");
        Refused(Read("part.3mf", ThreeMf("<object id=\"1\"><components><component objectid=\"1\"/></components></object>", "<item objectid=\"1\"/>")), "model-damaged", "in a circle");
        Refused(Read("part.3mf", ThreeMf("", "<item objectid=\"4\"/>")), "model-damaged", "no object 4");
        Refused(Read("part.3mf", ThreeMf("", "")), "model-damaged", "builds nothing");
    }

    private static string Step(string data) => $"ISO-10303-21;\nHEADER;\nFILE_SCHEMA(('X'));\nENDSEC;\nDATA;\n{data}\nENDSEC;\nEND-ISO-10303-21;\n";

    private const string Units = "#900=(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNIT_ASSIGNED_CONTEXT((#901))REPRESENTATION_CONTEXT('',''));#901=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));\n";

    [Theory]
    [InlineData("#1=A();", "no unit of length", 0)]
    [InlineData("#1=A();#1=B();", "there twice", 6)]
    [InlineData("#1=A(((((((((((((((((((((((((((((((((((((((((((1", "too deep", 6)]
    [InlineData("#1=A('never closed", "never closed", 6)]
    [InlineData("#1=A(1.0E);", "is not a number", 6)]
    [InlineData("#99999999999=A();", "missing or too large", 6)]
    [InlineData(Units + "#1=MANIFOLD_SOLID_BREP('',#2);", "#2 is named, but is not there", 0)]
    [InlineData(Units + "#1=MANIFOLD_SOLID_BREP('',#1);", "#1 is no shell", 0)]
    [InlineData(Units + "#1=MANIFOLD_SOLID_BREP('',#2);#2=CLOSED_SHELL('',());", "no face with edges", 0)]
    public void A_damaged_step_is_refused(string data, string message, int row) => Refused(Read("part.step", Step(data)), "model-damaged", message, row);

    [Fact]
    public void A_step_that_goes_in_circles_or_is_cut_off_is_refused()
    {
        var file = File.ReadAllText(ModelFiles.Path("crane_head_assembly_ap242_mm.step"));
        var half = file[..file.LastIndexOf("ENDSEC", StringComparison.Ordinal)];
        Refused(Read("part.step", half), "model-damaged", "cut off", half.Count(c => c == '\n') + 1);
        Refused(Read("part.step", file[..^10]), "model-damaged", "cut off", file.Count(c => c == '\n'));
        Refused(Read("part.step", "hello"), "model-damaged", "no STEP file", 1);
        Refused(Read("part.step", Step(Units)), "step-no-solid", "no solid");

        // A curve of itself, and a product within itself.
        var loop = Units + "#1=MANIFOLD_SOLID_BREP('',#2);#2=CLOSED_SHELL('',(#3));#3=ADVANCED_FACE('',(),#4,.T.);#4=RECTANGULAR_TRIMMED_SURFACE('',#4,0.,1.,0.,1.,.T.,.T.);";
        Refused(Read("part.step", Step(loop)), "model-damaged", "made of itself");
        var circle = Units + "#1=PRODUCT_DEFINITION('','',#9,#9);#2=PRODUCT_DEFINITION('','',#9,#9);#3=NEXT_ASSEMBLY_USAGE_OCCURRENCE('','','',#2,#2,$);#4=NEXT_ASSEMBLY_USAGE_OCCURRENCE('','','',#1,#2,$);";
        Refused(Read("part.step", Step(circle)), "model-damaged", "in a circle");
        Refused(
            Read("part.step", Step(Units + "#1=MANIFOLD_SOLID_BREP('',#2);#2=CLOSED_SHELL('',(#3));#3=ADVANCED_FACE('',(),#4,.T.);#4=OFFSET_SURFACE('',#4,1.,.F.);")),
            "step-not-read", "OFFSET_SURFACE");
    }

    private static string Dxf(string entities) => $"0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n";

    [Fact]
    public void A_damaged_or_odd_dxf_is_refused()
    {
        Refused(Read("part.dxf", "0\nSECTION\n2\nENTITIES\n0\nLINE\n"), "model-damaged", "cut off", 7);
        Refused(Read("part.dxf", "zero\nSECTION\n"), "model-damaged", "group code", 1);
        Refused(Read("part.dxf", Dxf("0\nLINE\n10\n0\n20\n0\n11\n9\n21\n0\n")), "dxf-no-outline", "no closed outline");
        Refused(Read("part.dxf", Dxf("0\nCIRCLE\n10\nnan\n20\n0\n40\n5\n")), "model-damaged", "no number", 8);
        Refused(Read("part.dxf", Dxf("0\nCIRCLE\n10\n0\n20\n0\n40\n5\n0\nCIRCLE\n10\n4\n20\n0\n40\n4\n")), "dxf-crossing", "cross");
        Refused(Read("part.dxf", "AutoCAD Binary DXF\r\n\x1a\0 and more"), "dxf-binary", "binary");
        Refused(ModelReader.Read(new MemoryStream(Encoding.ASCII.GetBytes(Dxf("0\nCIRCLE\n10\n0\n20\n0\n40\n5\n"))), "part.dxf", new("mm")), "thickness-open", "no thickness");
        Refused(Read("part.dxf", Dxf("0\nSPLINE\n70\n1\n")), "dxf-no-outline", "no closed outline");
    }

    [Fact]
    public void Names_lose_control_and_direction_characters_and_their_length()
    {
        var step = File.ReadAllText(ModelFiles.Path("spacer_ap203_mm.step")).Replace("Spacer 24x12", @"a\X2\202E0007\X0\b" + new string('x', 10_000), StringComparison.Ordinal);
        var name = Read("part.step", step).Value!.Parts[0].Name;
        name.Should().StartWith("abx").And.HaveLength(ModelLimits.Name);
    }

    [Fact]
    public void A_pipe_and_a_folder_are_refused()
    {
        ModelReader.Read("/dev/null.stl", new()).Findings.Should().ContainSingle(finding => finding.Rule == "file-missing");
        ModelReader.Read(ModelFiles.Folder, new()).Findings.Should().ContainSingle(finding => finding.Rule == "file-is-folder");
        Refused(Read("part.stl", []), "file-empty", "empty");
        Refused(Read("part.xyz", "text"), "file-kind", "no model");
    }
}
