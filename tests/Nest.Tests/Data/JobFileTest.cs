using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Data;

public sealed class JobFileTest : IDisposable
{
    private readonly JobFolder folder = new();

    public JobFileTest() => folder.Write("parts.csv", JobFolder.Head + "a,6061,120,62,8,4\n");

    public void Dispose() => folder.Dispose();

    [Fact]
    public void All_settings_are_read()
    {
        folder.Write("saws.toml", """
            [[saw]]
            name = "s"
            kind = "plate-saw"
            kerf = "1/8 in"
            trim = 5
            trim_left = 12.5
            shortest_held = 40
            largest_cut = "1.2 m"
            largest_thickness = 60
            longest_stock = "10 ft"
            stages = 3
            trimming_cut = true
            first_cut = "rip"
            hourly_rate = 50.25
            charge_per_cut = 0.1
            handling_minutes = 1.5
            setting_minutes = 2
            default_cut_rate = 33.3
            stack_height = 50
            cut_rates = { aluminium = 100, steel = 20.5 }
            """);
        var result = folder.Job("""
            name = "All"
            currency = "CHF"
            unit = "mm"
            batch = 3
            parts = "parts.csv"
            saws = ["saws.toml", "starter"]
            catalogue = ["starter-metric"]
            lift-limit = "51 lb"
            long_bar = "10 ft"
            [allowances]
            side_clean_up = 1
            end_clean_up = 2
            face_top = 0.5
            face_bottom = 0.25
            grip = 0
            [[allowances.rule]]
            holding = "chuck"
            family = "steel"
            material = "EN AW 6061"
            grip = "3/8 in"
            [[offcuts]]
            form = "plate"
            material = "6061"
            keep_length = 300
            keep_width = 100
            fraction = 0.5
            leftover_fraction = 0.8
            [mill]
            hourly_rate = 70
            default_removal_rate = 10
            [mill.removal_rates]
            aluminium = 90
            [limits]
            seconds = 2.5
            seed = 42
            """);
        result.Findings.Should().BeEmpty();
        var input = result.Value!;
        input.Seconds.Should().Be(2.5);
        input.Seed.Should().Be(42);
        var job = input.Job;
        (job.Name, job.Currency, job.Batch).Should().Be(("All", "CHF", 3));
        job.LiftLimit.Kilograms.Should().Be(51 * 0.45359237m);
        job.LongBar.Should().Be(Length.FromMillimetres(3048));
        job.AllowanceRules.Should().HaveCount(2);
        job.AllowanceRules[0].Allowances.FaceBottom.Should().Be(Length.FromMillimetres(0.25m));
        job.AllowanceRules[1].Should().BeEquivalentTo(new { MaterialId = "6061-T6", Family = "steel", Holding = Holding.Chuck });
        job.AllowanceRules[1].Allowances.Grip.Should().Be(Length.FromMillimetres(9.525m));
        job.OffcutRules.Should().ContainSingle().Which.Should().BeEquivalentTo(
            new { Form = Form.Plate, MaterialId = "6061-T6", Fraction = 0.5m, LeftoverFraction = 0.8m });
        job.Mill.RateFor("aluminium").Should().Be(90m);
        job.Mill.RateFor("steel").Should().Be(10m);
        job.Saws.Should().HaveCount(4);
        var saw = job.Saws[0];
        saw.Should().BeEquivalentTo(new
        {
            Id = "s",
            Kind = SawKind.PlateSaw,
            Stages = 3,
            TrimmingCut = true,
            FirstCut = CutDirection.Rip,
            HourlyRate = 50.25m,
            ChargePerCut = 0.1m,
            HandlingMinutes = 1.5m,
            SettingMinutes = 2m,
            DefaultCutRate = 33.3m,
        });
        saw.Kerf.Should().Be(Length.FromMillimetres(3.175m));
        saw.Trims.Should().Be(new EdgeTrims(
            Length.FromMillimetres(12.5m), Length.FromMillimetres(5), Length.FromMillimetres(5), Length.FromMillimetres(5)));
        saw.RateFor("steel").Should().Be(20.5m);
        saw.LargestCut.Should().Be(Length.FromMillimetres(1200));
        saw.LongestStock.Should().Be(Length.FromMillimetres(3048));
    }

    [Theory]
    [InlineData("parts = \"parts.csv\"\nbatches = 2", "job.toml:2:1 key-unknown", "did you mean 'batch'?")]
    [InlineData("parts = \"parts.csv\"\nbatch = \"2\"", "job.toml:2:9 toml-type", "batch is not a number")]
    [InlineData("parts = \"parts.csv\"\nbatch = 0", "job.toml:2:9 number-out-of-range", "from 1 to 100000")]
    [InlineData("parts = \"parts.csv\"\nbatch = 1.5", "job.toml:2:9 number-not-whole", "whole")]
    [InlineData("parts = \"parts.csv\"\nunit = \"cm\"", "job.toml:2:8 word-unknown", "\"mm\" or \"in\"")]
    [InlineData("parts = \"parts.csv\"\ncurrency = \"euro\"", "job.toml:2:12 currency-unknown", "capital letters")]
    [InlineData("parts = \"parts.csv\"\ninch_fraction = 10", "job.toml:2:17 inch-fraction", "2, 4, 8, 16, 32 or 64")]
    [InlineData("parts = \"parts.csv\"\nlong_bar = \"1/3 in\"", "job.toml:2:12 length-unreadable", "nanometres")]
    [InlineData("parts = \"parts.csv\"\nlift_limit = \"heavy\"", "job.toml:2:14 mass-unreadable", "25 kg")]
    [InlineData("parts = \"prats.csv\"", "job.toml:1:9 file-missing", "did you mean 'parts.csv'?")]
    [InlineData("name = \"x\"", "job.toml key-missing", "add parts = ")]
    [InlineData("parts = \"parts.csv\"\n[allowances]\nside_clean_up = 1", "job.toml:2:1 key-missing", "allowances.grip is missing")]
    [InlineData("parts = \"parts.csv\"\n[mill]\nhourly = 3", "job.toml:3:1 key-unknown", "did you mean 'hourly_rate'?")]
    [InlineData("parts = \"parts.csv\"\n[[offcuts]]\nkeep_width = 3", "job.toml:2:1 key-missing", "keep_length")]
    [InlineData("parts = \"parts.csv\"\n[[offcuts]]\nkeep_length = 3\nfraction = 1.0", "job.toml:4:12 number-out-of-range", "0.99")]
    [InlineData("parts = \"parts.csv\"\n[[offcuts]]\nkeep_length = 3\nmaterial = \"6601\"", "job.toml:4:12 material-unknown", "'6061'")]
    [InlineData("parts = \"parts.csv\"\n[[saw]]\nname = \"x\"\nkind = \"laser\"\nkerf = 1", "job.toml:4:8 word-unknown", "cutter")]
    [InlineData("parts = \"parts.csv\"\n[[saw]]\nname = \"x\"\nkind = \"bar saw\"", "job.toml:2:1 key-missing", "no kerf")]
    [InlineData("parts = \"parts.csv\"\n[[saw]]\nname = \"x\"\nkind = \"bar saw\"\nkerf = 2\ntrim = 1", "job.toml:6:8 trim-below-kerf", "includes its cut")]
    [InlineData("parts = \"parts.csv\"\n[[saw]]\nname = \"x\"\nkind = \"cutter\"\nkerf = 2\nlongest_stock = 0", "job.toml:6:17 length-not-positive", "above zero")]
    [InlineData("parts = \"parts.csv\"\nname = ", "job.toml:2:8 toml-syntax", "not valid TOML")]
    [InlineData("parts = \"parts.csv\"\nparts = \"parts.csv\"", "job.toml:2:1 toml-syntax", "not valid TOML")]
    [InlineData("parts = \"parts.csv\"\nlimits = 3", "job.toml:2:10 toml-type", "[limits]")]
    public void A_wrong_setting_is_told_with_its_place(string text, string where, string says)
    {
        var result = folder.Job(text);
        result.Value.Should().BeNull();
        JobFolder.Short(result.Findings).Should().Contain(where);
        result.Findings.Should().Contain(finding => finding.ToString().Contains(says));
    }

    [Fact]
    public void Wrong_settings_and_wrong_parts_are_told_together()
    {
        folder.Write("bad.csv", JobFolder.Head + "a,6061,x,62,8,4\n");
        var result = folder.Job("parts = \"bad.csv\"\nbatchh = 2\nunit = \"furlong\"\n");
        JobFolder.Short(result.Findings).Should().BeEquivalentTo(
            "job.toml:3:8 word-unknown", "bad.csv:2:3 length-unreadable", "job.toml:2:1 key-unknown");
    }
}
