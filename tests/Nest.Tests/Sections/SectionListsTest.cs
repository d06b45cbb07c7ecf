using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Tests.Data;

namespace Nest.Tests.Sections;

/// <summary>Sections in parts lists, catalogues and racks: as columns and as one text, in the trade's words of four languages.</summary>
public sealed class SectionListsTest : IDisposable
{
    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("40x40x3 tube x 500", "", "RectangularTube 40 40 3 x 500")]
    [InlineData("square tube 40x3x500", "", "RectangularTube 40 40 3 x 500")]
    [InlineData("40x60x3x500", "rect tube", "RectangularTube 60 40 3 x 500")]
    [InlineData("Vierkantrohr 40x40x3 x 500", "", "RectangularTube 40 40 3 x 500")]
    [InlineData("tube carré 40x40x3 x 500", "", "RectangularTube 40 40 3 x 500")]
    [InlineData("tubo redondo 25x2 x 60", "", "RoundTube 25 25 2 x 60")]
    [InlineData("Ø25 x 2 tube x 60", "", "RoundTube 25 25 2 x 60")]
    [InlineData("25x2x60", "tube", "RoundTube 25 25 2 x 60")]
    [InlineData("L 50x50x5 x 300", "", "Angle 50 50 5 x 300")]
    [InlineData("L50x5 x 300", "Winkel", "Angle 50 50 5 x 300")]
    [InlineData("cornière 60x30x3 x 300", "", "Angle 60 30 3 x 300")]
    [InlineData("hex 19 x 25", "", "HexBar 19 19 - x 25")]
    [InlineData("19 A/F x 25", "", "HexBar 19 19 - x 25")]
    [InlineData("6-kt 19 x 25", "", "HexBar 19 19 - x 25")]
    [InlineData("U 80x45x6x8 x 400", "", "Channel 80 45 6/8 x 400")]
    [InlineData("T 40x40x5 x 400", "tee", "Tee 40 40 5 x 400")]
    [InlineData("400 long x 40x40x3", "square tube", "RectangularTube 40 40 3 x 400")]
    [InlineData("1-1/2 x 1-1/2 x 1/8 in angle x 12 in", "", "Angle 38.1 38.1 3.175 x 304.8")]
    public void A_part_asks_for_a_section_in_one_text(string size, string form, string read)
    {
        var result = folder.Parts($"part;material;size;qty;form\nx;S235;{size};2;{form}\n");
        result.Findings.Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        Words(result.Value!.Job.Parts.Single()).Should().Be(read);
    }

    [Fact]
    public void A_part_asks_for_a_section_in_columns()
    {
        var result = folder.Parts("""
            Teil;Werkstoff;Profil;Breite;Höhe;Wanddicke;Länge;Anzahl;Durchmesser
            a;S235;Rechteckrohr;60;40;3;500;2;
            b;S235;Rohr;;;2,3;60;2;26,9
            c;S235;Winkel;50;;5;300;1;
            d;1215;Sechskant;19;;;25;4;
            """);
        result.Findings.Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        result.Value!.Job.Parts.Select(Words).Should().Equal("RectangularTube 60 40 3 x 500", "RoundTube 26.9 26.9 2.3 x 60", "Angle 50 50 5 x 300", "HexBar 19 19 - x 25");

        // Of sections only the forms that are asked for are in the job.
        result.Value.Job.Stocks.Where(stock => stock.Form.IsSection()).Select(stock => stock.Form).Distinct()
            .Should().BeSubsetOf([Form.RectangularTube, Form.RoundTube, Form.Angle, Form.HexBar]);
    }

    [Theory]
    [InlineData("x;S235;40x40;2;square tube", "size-unclear")]
    [InlineData("x;S235;40x40x25x300;2;square tube", "section-wall")]
    [InlineData("x;S235;hex 19 x 25;2;round bar", "size-not-of-form")]
    [InlineData("x;S235;40 x 20 x 300;2;hex bar + flat bar", "section-forms")]
    [InlineData("x;S235;40 x 40 x 300;2;profile", "cell-missing")]
    public void What_is_no_section_is_refused(string row, string rule)
    {
        var result = folder.Parts($"part;material;size;qty;form\n{row}\n");
        result.Findings.Should().Contain(finding => finding.Rule == rule && finding.Severity == Severity.Error);
        result.Value.Should().BeNull();
    }

    [Theory]
    [InlineData("60x40x3 tube x 500", "", "angle-side")]
    [InlineData("60x40x3 tube x 500", "width", null)]
    [InlineData("40x40x3 tube x 500", "", null)]
    [InlineData("L 50x50x5 x 500", "", null)]
    [InlineData("U 80x45x6x8 x 500", "", "angle-side")]
    [InlineData("hex 19 x 500", "width", "hex-angled")]
    public void The_side_that_a_mitred_section_lies_on_must_be_said(string size, string across, string? rule)
    {
        var result = folder.Parts($"part;material;size;qty;angle start;angle end;angle across\nx;S235;{size};2;45;45;{across}\n");
        result.Findings.Where(finding => finding.Severity == Severity.Error).Select(finding => finding.Rule).Should().Equal(rule is null ? [] : [rule]);
    }

    [Fact]
    public void A_catalogue_names_walls_profiles_and_masses()
    {
        folder.Write("own.csv", """
            id,form,material,size,width,thickness,wall,profile name,length,kg/m,price,per
            t1,square tube,S235,40x40x3,,,,,6000,,2,kg
            a1,angle,S235,,50,50,5,,6000,3.77,2,kg
            p1,profile,S235,,40,40,,Slot 40,3000,1.6,9,m
            """);
        folder.Write("list.csv", "part,material,form,size,length,profile name,qty\na,S235,square tube,40x40x3,500,,2\nb,S235,L,L 50x50x5,300,,1\nc,S235,profile,,700,slot 40,2\n");
        var result = folder.Job("parts = \"list.csv\"\ncatalogue = \"own.csv\"\n");
        result.Findings.Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        var job = result.Value!.Job;

        // 444 mm² × 6 m × 7850 kg/m³ × 2; 3.77 kg/m × 6 m × 2; 9 a metre × 3 m.
        job.Stocks.Select(stock => stock.PiecePrice.Amount).Should().Equal(41.8248m, 45.24m, 27m);
        job.Parts[2].Should().BeEquivalentTo(new { Width = Length.FromMillimetres(40), Thickness = Length.FromMillimetres(40) });
        job.Parts.Select(part => job.Stocks.Single(stock => stock.IsSectionOf(part)).Id).Should().Equal("t1", "a1", "p1");
    }

    [Fact]
    public void A_profile_that_nobody_sells_is_named()
    {
        folder.Write("own.csv", "id,form,material,width,thickness,profile name,length,kg/m,price\np1,profile,S235,40,40,Slot 40,3000,1.6,27\np2,profile,S235,40,40,No mass,3000,,27\n");
        folder.Write("list.csv", "part,material,form,length,profile name,qty\nc,S235,profile,700,Slot 30,2\n");
        var result = folder.Job("parts = \"list.csv\"\ncatalogue = \"own.csv\"\n");
        result.Findings.Select(finding => finding.Rule).Should().Contain(["section-mass"]);
        folder.Write("own.csv", "id,form,material,width,thickness,profile name,length,kg/m,price\np1,profile,S235,40,40,Slot 40,3000,1.6,27\n");
        folder.Job("parts = \"list.csv\"\ncatalogue = \"own.csv\"\n").Findings.Should().Contain(finding => finding.Rule == "profile-unknown" && finding.Advice.Contains("Slot 40"));
    }

    [Theory]
    [InlineData("mm", "S235JR", 6)]
    [InlineData("in", "6061-T6", 5)]
    public void The_starter_sells_sections(string unit, string material, int forms)
    {
        folder.Write("list.csv", "part,material,size,qty,form\n" + string.Concat(new[] { "hex 10 mm x 25 mm", "square tube 40 mm x 40 mm x 3 mm x 90 mm", "round tube 25 mm x 2 mm x 60 mm", "L 50 mm x 50 mm x 5 mm x 90 mm", "U 80 mm x 45 mm x 6 mm x 90 mm", "tee 40 mm x 40 mm x 5 mm x 90 mm" }
            .Select((size, at) => $"p{at},{material},{size},1,\n")));
        var result = folder.Job($"parts = \"list.csv\"\nunit = \"{unit}\"\n");
        result.Findings.Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        var sections = result.Value!.Job.Stocks.Where(stock => stock.Form.IsSection()).ToList();
        sections.Select(stock => stock.Form).Distinct().Count().Should().BeGreaterThanOrEqualTo(forms - 1);
        sections.Should().OnlyContain(stock => JobSections.Fault(stock) == null && stock.Source.Contains("from memory") && result.Value.Job.SawFor(stock) != null);
    }

    private static string Words(Part part) => FormattableString.Invariant(
        $"{part.Forms} {Mm(part.Width)} {Mm(part.Thickness)} {(part.Detail!.Wall is { } wall ? Mm(wall) : "-")}{(part.Detail.Flange is { } flange ? $"/{Mm(flange)}" : "")} x {Mm(part.Length)}");

    private static string Mm(Length length) => length.ToMillimetres().ToString("0.####", System.Globalization.CultureInfo.InvariantCulture);
}
