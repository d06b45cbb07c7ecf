using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Data.Models;
using Nest.Data.Tables;
using Nest.Planning;

namespace Nest.Tests.Models;

/// <summary>Models as jobs: one model, a folder with quantities, a parts list that names models.</summary>
public sealed class ModelJobTest : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("nest-models-").FullName;

    public void Dispose() => Directory.Delete(folder, true);

    private string Write(string name, string text)
    {
        var path = Path.Combine(folder, name);
        File.WriteAllText(path, text);
        return path;
    }

    private void Copy(params string[] names)
    {
        foreach (var name in names)
        {
            File.Copy(ModelFiles.Path(name), Path.Combine(folder, name));
        }
    }

    private static JobInput Read(string path, TableChoices? choices = null)
    {
        var read = JobReader.Read(path, choices);
        read.HasErrors.Should().BeFalse("{0}", string.Join("; ", read.Findings));
        return read.Value!;
    }

    [Fact]
    public void One_model_is_a_job_with_its_material_said()
    {
        var input = Read(ModelFiles.Path("l_bracket_turned_ap214_inch.step"), new() { Material = "6061-T6", Models = new() { Pieces = 5 } });

        var part = input.Job.Parts.Single();
        (part.Id, part.MaterialId, part.Quantity, part.Round).Should().Be(("L bracket 60x45x40", "6061-T6", 5, false));
        // An inch file makes an inch job; 60 mm are 2.3622 in, rounded up to a thousandth.
        input.Job.Unit.Should().Be(LengthUnit.Inch);
        (part.Length, part.Width, part.Thickness).Should().Be((Length.FromInches(2.363m), Length.FromInches(1.772m), Length.FromInches(1.575m)));
        JobReader.Read(ModelFiles.Path("l_bracket_ap242_mm.step")).Findings.Should().ContainSingle(finding => finding.Rule == "material-open");
    }

    [Fact]
    public void A_turned_part_gives_diameter_and_length_and_an_assembly_all_its_parts()
    {
        var job = Read(ModelFiles.Path("crane_head_assembly_ap242_mm.step"), new() { Material = "6061-T6" }).Job;

        job.Parts.Select(part => (part.Id, part.Quantity, part.Round)).Should().BeEquivalentTo(
            [("Base plate", 1, false), ("Spacer 24", 2, true), ("Cross pin", 2, true)]);
        var pin = job.Parts.Single(part => part.Id == "Cross pin");
        (pin.Width, pin.Length).Should().Be((Length.FromMillimetres(18), Length.FromMillimetres(56)));
        var plate = job.Parts.Single(part => part.Id == "Base plate");
        (plate.Length, plate.Width, plate.Thickness).Should().Be((Length.FromMillimetres(120), Length.FromMillimetres(80), Length.FromMillimetres(12)));
    }

    [Fact]
    public void A_list_names_models_beside_it()
    {
        Copy("hand_bracket_left_ap214_mm.step", "hand_bracket_right_ap214_mm.step", "gusset_polyline_bulge_r12_mm.dxf", "hex_standoff_ascii_inch.stl");
        var list = Write("parts.csv", """
            part,model,material,quantity,lie,thickness,length,width
            left,hand_bracket_left_ap214_mm.step,6061-T6,2,flat,,,
            right,hand_bracket_right_ap214_mm,6061-T6,2,as given,,,
            gusset,gusset_polyline_bulge_r12_mm.dxf,S235JR,3,,6 mm,,
            standoff,hex_standoff_ascii_inch.stl,304,8,,,,
            strip,,6061-T6,1,,10,100,50
            """);
        var read = JobReader.Read(list);
        read.HasErrors.Should().BeFalse("{0}", string.Join("; ", read.Findings));
        var parts = read.Value!.Job.Parts.ToDictionary(part => part.Id);

        (parts["left"].Length, parts["left"].Width, parts["left"].Thickness, parts["left"].Lie).Should()
            .Be((Length.FromMillimetres(80), Length.FromMillimetres(50), Length.FromMillimetres(26), Lie.Flat));
        // As given: along the model's axes, 94.3218569 × 34.2106659 × 75.0549129, rounded up to a hundredth.
        (parts["right"].Length, parts["right"].Width, parts["right"].Thickness).Should()
            .Be((Length.FromMillimetres(94.33m), Length.FromMillimetres(34.22m), Length.FromMillimetres(75.06m)));
        (parts["gusset"].Forms, parts["gusset"].Thickness, parts["gusset"].Round).Should().Be((Forms.Plate, Length.FromMillimetres(6), false));
        (parts["gusset"].Length, parts["gusset"].Width).Should().Be((Length.FromMillimetres(133.88m), Length.FromMillimetres(95)));
        parts["standoff"].Length.Should().Be(Length.FromMillimetres(31.75m), "what single precision adds to 1.25 in is not rounded up");
        parts["strip"].Lie.Should().BeNull();
        read.Findings.Should().Contain(finding => finding.Rule == "models-mirrored").And.Contain(finding => finding.Rule == "unit-assumed");
        read.Value.Models.Should().HaveCount(4);
    }

    [Fact]
    public void A_folder_takes_its_quantities_from_a_table()
    {
        Copy("spacer_ap203_mm.step", "l_bracket_ap242_mm.step");
        var list = Write("quantities.csv", "model,quantity\nspacer_ap203_mm,12\nl_bracket_ap242_mm.step,4\n");
        var job = Read(folder, new() { Material = "6061-T6", Models = new() { Quantities = list } }).Job;

        job.Parts.Select(part => (part.Id, part.Quantity)).Should().Equal(("Spacer 24x12", 12), ("L bracket 60x45x40", 4));
        Read(folder, new() { Material = "6061-T6" }).Job.Parts.Should().OnlyContain(part => part.Quantity == 1);
        JobReader.Read(folder).Findings.Should().ContainSingle(finding => finding.Rule == "material-open");
    }

    [Theory]
    [InlineData("model,material,quantity\nmissing.step,6061-T6,1\n", "model-missing", "parts.csv:2:1")]
    [InlineData("model,material,quantity,length\nspacer_ap203_mm.step,6061-T6,1,50\n", "model-and-size", "parts.csv:2:4")]
    [InlineData("model,material,quantity,thickness\nspacer_ap203_mm.step,6061-T6,1,5\n", "model-and-size", "parts.csv:2:4")]
    [InlineData("model,material,quantity,lie\nspacer_ap203_mm.step,6061-T6,1,upright\n", "word-unknown", "parts.csv:2:4")]
    [InlineData("model,material,quantity,lie\ntorus_ring_turned_ap242_mm.step,6061-T6,1,flat\n", "model-no-flat", "parts.csv:2:4")]
    [InlineData("model,quantity\nspacer_ap203_mm.step,1\n", "cell-missing", "parts.csv:2")]
    public void What_is_wrong_with_a_row_is_told_with_its_cell(string text, string rule, string where)
    {
        Copy("spacer_ap203_mm.step", "torus_ring_turned_ap242_mm.step");
        var findings = JobReader.Read(Write("parts.csv", text)).Findings;
        var finding = findings.Should().Contain(one => one.Rule == rule && one.Severity == Severity.Error).Which;
        finding.Where.ToString().Should().Contain(where);
    }

    /// <summary>What may lie which way, in sizer and checker alike: the checker works the blanks out a second time.</summary>
    [Theory]
    [InlineData(null, "plate 20", 60, 40, 15)]
    [InlineData(Lie.Flat, "plate 20", 60, 40, 15)]
    [InlineData(Lie.Any, "plate 50", 60, 15, 40)]
    [InlineData(Lie.Any, "plate 70", 40, 15, 60)]
    public void A_part_lies_as_it_may(Lie? lie, string stock, int along, int across, int up)
    {
        var text = $"part,material,length,width,thickness,quantity,lie,forms\na,6061-T6,60,40,15,1,{lie switch { Lie.Any => "any", Lie.Flat => "flat", Lie.AsGiven => "as given", _ => "" }},plate\n";
        var job = Read(Write("parts.csv", text)).Job;
        var thickness = Length.FromMillimetres(decimal.Parse(stock[6..], System.Globalization.CultureInfo.InvariantCulture));
        var plate = job.Stocks.First(one => one.Form == Form.Plate) with { Id = stock, Thickness = thickness, MinThickness = thickness, PiecePrice = Money.FromAmount(5_000), UnitPrice = 5_000, PriceBasis = PriceBasis.Piece };
        job = job with { Stocks = [plate], Saws = [.. job.Saws.Select(saw => saw with { LargestThickness = Length.FromMillimetres(200) })] };
        var blank = BlankSizer.Size(job).Single();
        var side = blank.Allowances.SideCleanUp * 2;

        var fit = blank.Fits.Should().ContainSingle().Subject;
        fit.SizeX.Should().Be(Length.FromMillimetres(along) + side);
        (fit.SizeY >= Length.FromMillimetres(across)).Should().BeTrue();
        (fit.SizeY <= Length.FromMillimetres(across) + side + side).Should().BeTrue();
        (fit.FacedAway <= thickness - Length.FromMillimetres(up)).Should().BeTrue();
        var result = Planner.Plan(job, new() { Work = 2_000, Threads = 1 });
        result.Refused.Should().BeFalse("{0}", string.Join("; ", result.Findings));
        result.Plan!.Unplaced.Should().BeEmpty();
    }
}
