using System.Text;
using Nest.Cli;
using Nest.Core.Texts;
using Nest.Data;
using Nest.Fuzz.Tables;
using Nest.Output.Files;
using Nest.Tests.Data;
using Nest.Tests.Rack;

namespace Nest.Tests.Intake;

/// <summary>Tables through the whole program: pasted, cleaned, with what a job file says of heads; and how a rack is entered.</summary>
public sealed class TablesInUseTest : IDisposable
{
    private const string Review = "Crane head rev C;;;;\n;;;;\nPart;Material;Size (in);Qty / set;Stock\ntilt plate;6061;3/8 x 4 x 7-1/4;2;plate\npin;1018 CRS;5/8 dia x 3-1/4;2;round\nshim;A36;1/4 x 2 x 6,5;3;plate\npin;1018 CRS;5/8 dia x 3-1/4;1;round\nTotal;;;8;\n";

    private readonly JobFolder folder = new();
    private readonly RackConsole nest = new();

    public void Dispose()
    {
        folder.Dispose();
        nest.Dispose();
    }

    [Fact]
    public void A_pasted_list_is_shown_and_written_anew_and_reads_the_same()
    {
        var clean = Path.Combine(folder.Root, "clean.csv");
        Run(["parts", "-", "--out", clean], Review).Should().Contain("Qty / set  quantity").And.Contain("'Size (in)' says in").And.Contain("3/8 x 4 x 7-1/4");
        var before = JobReader.Read(new MemoryStream(Encoding.UTF8.GetBytes(Review)), "-").Value!.Job;
        var after = JobReader.Read(clean);
        after.Findings.Should().BeEmpty();
        after.Value!.Job.Parts.Should().Equal(before.Parts);
        after.Value.Job.Unit.Should().Be(before.Unit);
    }

    [Fact]
    public void The_clean_list_of_the_examples_reads_the_same()
    {
        foreach (var example in (string[])["cargo-bike", "cargo-bike-inch"])
        {
            var job = JobReader.Read(Path.Combine(Repository.Root, "examples", example, "job.toml")).Value!.Job.ForBatch(1);
            var path = folder.Write(example + ".csv", CsvFile.Bytes(CleanParts.Table(job)));
            JobReader.Read(path).Value!.Job.Parts.Should().Equal(job.Parts);
        }
    }

    [Fact]
    public void A_job_file_says_what_heads_materials_and_sheets_are()
    {
        folder.Write("p.xlsx", new Grid([["x"], ["y"]]).Xlsx("Notes", more: [("List", new Grid([["Teil", "Stoff", "L", "W", "T", "per crane"], ["a", "Alu rund", "120", "62", "8", "4"]]))]));
        var read = folder.Job("parts = \"p.xlsx\"\nsheet = \"List\"\n[columns]\nStoff = \"material\"\n\"per crane\" = \"quantity\"\n[material_names]\n\"Alu rund\" = \"6082\"\n");
        read.HasErrors.Should().BeFalse();
        read.Value!.Job.Parts.Should().ContainSingle().Which.Should().BeEquivalentTo(new { Id = "a", MaterialId = "6082-T6", Quantity = 4 });
    }

    [Fact]
    public void A_shop_says_once_what_its_heads_are_for_jobs_and_bare_lists()
    {
        var list = "Teilnr,Stoff,L (mm),W (mm),T (mm),per crane,per car\na,Alu rund,120,62,8,4,6\n";
        folder.Write("shop.toml", "unit = \"mm\"\n[columns]\nTeilnr = \"part\"\nStoff = \"material\"\n\"per crane\" = \"quantity\"\n[material_names]\n\"Alu rund\" = \"6082\"\n");
        Directory.CreateDirectory(Path.Combine(folder.Root, "job"));
        var bare = folder.Write(Path.Combine("job", "p.csv"), list);
        var job = folder.Write(Path.Combine("job", "job.toml"), "parts = \"p.csv\"\n[columns]\n\"per crane\" = \"none\"\n\"per car\" = \"quantity\"\n");
        Parts(bare).Should().BeEquivalentTo(new { Id = "a", MaterialId = "6082-T6", Quantity = 4 });
        Parts(job).Quantity.Should().Be(6, "the job file goes before the shop's");
        Parts(bare, "--columns", "per crane = none", "--columns", "per car = quantity").Quantity.Should().Be(6, "the command line goes before the shop's");
        Parts(job, "--columns", "per crane = quantity", "--columns", "per car = none").Quantity.Should().Be(4, "the command line goes before the job file");
        Run(["settings", job], "").Should().Contain("stoff = material").And.Contain("shop.toml").And.Contain("per_car = quantity").And.NotContain("per_crane = quantity");

        Core.Jobs.Part Parts(string path, params string[] words)
        {
            var command = new System.CommandLine.Command("x");
            var options = new Nest.Cli.Commands.TableOptions(command);
            return JobReader.Read(path, options.Of(command.Parse(words))).Value!.Job.Parts.Should().ContainSingle().Subject;
        }
    }

    [Fact]
    public void A_column_that_no_table_has_is_told_where_a_file_names_it()
    {
        folder.Write("shop.toml", "[columns]\nStoff = \"materiel\"\n");
        folder.Write("parts.csv", JobFolder.Head + "a,6061,120,62,8,4\n");
        JobFolder.Short(folder.Job("parts = \"parts.csv\"\n[columns]\n\"per crane\" = \"how many\"\n").Findings)
            .Should().Equal("shop.toml:2:9 column-choice", "job.toml:3:15 column-choice");
    }

    [Fact]
    public void The_sheet_with_a_head_that_is_known_is_found_and_the_others_named()
    {
        var path = folder.Write("p.xlsx", new Grid([["Notes"], ["for the shop"]]).Xlsx("Notes", more: [("List", new Grid([["Part", "Material", "L (mm)", "W (mm)", "T (mm)", "Qty"], ["a", "6061", "120", "62", "8", "4"]]))]));
        var read = JobReader.Inspect(path);
        read.Tables.Should().ContainSingle().Which.Sheet.Should().Be("List");
        read.Findings.Should().ContainSingle(finding => finding.Rule == "sheet-chosen").Which.Message.Should().Contain("'Notes'");
    }

    [Fact]
    public void Nothing_in_a_name_reaches_the_screen_as_a_command()
    {
        var shown = Run(["parts", "-"], "Part,Material,L (mm),W (mm),T (mm),Qty,\u001b[2JX\u202E\na\u0007,6061,1,1,1,1,\nb,\u009B31m,1,1,1,1,\n");
        shown.Should().Contain(@"\u001B").And.NotContainAny("\u001b", "\u0007", "\u202E", "\u009B");
        PlainText.Visible("tab\tand\nline stay").Should().Be("tab\tand\nline stay");
        PlainText.Visible("Ø 5/8\" 🔩 é").Should().Be("Ø 5/8\" 🔩 é");
        PlainText.Visible("\uD800x").Should().Be(@"\uD800x");
    }

    [Theory]
    [InlineData("=1+1")]
    [InlineData("a;=1+1")]
    [InlineData("a; '=1")]
    [InlineData("'x")]
    [InlineData("a;\"+cmd\";'-b")]
    [InlineData("a;b; c")]
    public void A_cell_is_no_formula_wherever_a_spreadsheet_splits_and_reads_back_the_same(string text)
    {
        var guarded = SafeCell.Guard(text);
        guarded.Split(';').Should().OnlyContain(cell => !"=+-@".Contains(cell.TrimStart(' ', '"').PadRight(1)[0], StringComparison.Ordinal));
        SafeCell.Bare(guarded).Should().Be(text);
    }

    [Fact]
    public void A_rack_is_entered_with_its_own_marks_unit_and_prices_and_only_once()
    {
        // The shop's own files of an example, as they are.
        var example = Path.Combine(Repository.Root, "examples", "cargo-bike-inch");
        nest.Good("rack add plate 6061-T6 10x10x1/2 --unit in --value 3");
        nest.Good("rack unit").Should().StartWith("in");
        nest.Good("rack prices", Path.Combine(example, "job.toml"));
        nest.Good("rack import", Path.Combine(example, "rack.csv"));
        nest.Error.Should().Contain("the shop's price lists give");
        nest.Good("rack list").Should().Contain("B1").And.Contain("12.25 × 0.25 in");
        nest.Good("rack show b2").Should().Contain("B2");
        nest.Refused("rack import", Path.Combine(example, "rack.csv"));
        nest.Error.Should().Contain("entered before").And.Contain("--again");
        nest.Good("rack undo");
        nest.Good("rack import", Path.Combine(example, "rack.csv"));
        nest.Good("rack check");
        var job = JobReader.Read(Path.Combine(example, "job.toml")).Value!.Job;
        using var store = nest.Open();
        store.Show("B1").Value.Should().Be(job.Stocks.Single(stock => stock.RackMark == "B1").PiecePrice, "the rack values a leftover as the job does");
    }

    [Fact]
    public void A_list_in_inches_that_is_entered_in_millimetres_is_told()
    {
        File.WriteAllText(nest.In("r.csv"), "mark,form,material,length,width,thickness,value\nA1,plate,6061-T6,14,11,0.5,3\nA2,plate,6061-T6,9,4,0.25,1\n");
        nest.Good($"rack import {nest.In("r.csv")}");
        nest.Error.Should().Contain("meant in inches?").And.Contain("--unit in");
        nest.Good("rack undo");
        nest.Good($"rack import {nest.In("r.csv")} --unit in");
        nest.Error.Should().NotContain("meant in inches?");
    }

    [Fact]
    public void A_mark_of_the_racks_own_kind_with_a_wrong_check_character_is_taken_for_misread()
    {
        var mark = nest.Add("plate 6061-T6 100x100x10");
        var wrong = mark[..^1] + (mark[^1] == 'X' ? 'Y' : 'X');
        File.WriteAllText(nest.In("r.csv"), $"mark,form,material,length,width,thickness\n{wrong},plate,6061-T6,300,200,10\n");
        nest.Refused($"rack import {nest.In("r.csv")}");
        nest.Error.Should().Contain("check character");
        nest.Refused($"rack show {wrong}");
    }

    private static string Run(string[] words, string pasted)
    {
        using var output = new StringWriter();
        using var input = new MemoryStream(Encoding.UTF8.GetBytes(pasted));
        App.Run(words, new World(output, output, true, TimeProvider.System, CancellationToken.None) { In = () => input });
        return output.ToString();
    }
}
