using Nest.Core.Jobs;
using Nest.Data;
using Nest.Tests.Data;

namespace Nest.Tests.Intake;

/// <summary>Files that are written to while they are read, and where a fault of another file is told.</summary>
public sealed class ChangingFilesTest : IDisposable
{
    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_file_that_is_written_to_while_it_is_read_is_refused_whatever_was_read(bool fails)
    {
        var path = folder.Write("p.csv", "part,material\n");
        using var stream = NamedFile.Open(path)!;
        var reading = () => NamedFile.Steady(stream, _ =>
        {
            File.AppendAllText(path, "x");
            return fails ? throw new InvalidDataException() : 1;
        });
        reading.Should().Throw<FileChangedException>();
    }

    [Fact]
    public void A_file_that_another_replaces_is_read_as_it_was()
    {
        var path = folder.Write("p.csv", "old");
        using var stream = NamedFile.Open(path)!;
        NamedFile.Steady(stream, whole =>
        {
            File.WriteAllText(path + ".new", "new and longer");
            File.Move(path + ".new", path, overwrite: true);
            using var reader = new StreamReader(whole);
            return reader.ReadToEnd();
        }).Should().Be("old");
    }

    [Theory]
    [InlineData("saws = \"nosuch.toml\"", "job.toml:2:8", "file-missing")]
    [InlineData("catalogue = [\"starter\",\n \"nosuch.csv\"]", "job.toml:3:2", "file-missing")]
    [InlineData("suppliers = \"nosuch.toml\"", "job.toml:2:13", "file-missing")]
    [InlineData("[[saw]]\nname = \"s\"\nkind = \"bar saw\"\nkerf = 0", "job.toml:5:8", "length-not-positive")]
    [InlineData("name = \"a\uFFFDb\"", "job.toml:2:10", "file-encoding")]
    public void A_fault_is_told_where_it_is_mended(string setting, string where, string rule)
    {
        folder.Write("parts.csv", "part,material,length,width,thickness,quantity\na,6061,120,62,8,1\n");
        var read = folder.Job("parts = \"parts.csv\"\n" + setting + "\n");
        var error = read.Findings.Should().ContainSingle(finding => finding.Severity == Severity.Error).Subject;
        error.Rule.Should().Be(rule);
        error.ToString().Should().Contain(where);
        error.Advice.Should().NotBeEmpty();
    }

    [Fact]
    public void What_the_job_check_finds_of_a_stock_has_the_row_of_its_list()
    {
        folder.Write("parts.csv", "part,material,length,width,thickness,quantity\na,6061,120,62,8,1\n");
        folder.Write("stock.csv", "id,form,material,length,width,thickness,price\nok,plate,6061,2000,1000,12,300\nF40,flat bar,6061,3000,100,40,0.01\n");
        var read = folder.Job("parts = \"parts.csv\"\ncatalogue = \"stock.csv\"\n");
        var placed = read.Value!.Placed(Core.Inputs.JobChecker.Check(read.Value.Job));
        placed.Should().ContainSingle(finding => finding.Rule == "scrap-dearer-than-stock").Which.ToString().Should().Contain("stock.csv:3: stock F40: as scrap it is worth more");
    }

    [Theory]
    [InlineData("p.xls", "\u00D0\u00CF\u0011\u00E0\u00A1\u00B1\u001A\u00E1\0\0\0\0", "workbook-old", "save it as XLSX, ODS or CSV")]
    [InlineData("p.xls", "<html><body><table><tr><td>part</td></tr></table>", "file-kind", "save it as XLSX, ODS or CSV")]
    [InlineData("p.csv", "<?xml version=\"1.0\"?><Workbook/>", "file-kind", "copy the table")]
    public void An_old_workbook_or_a_page_under_the_name_of_one_is_refused_with_a_way_out(string name, string bytes, string rule, string advice)
    {
        var path = Path.Combine(folder.Root, name);
        File.WriteAllBytes(path, System.Text.Encoding.Latin1.GetBytes(bytes));
        var error = JobReader.Read(path).Findings.Should().ContainSingle().Subject;
        error.Rule.Should().Be(rule);
        error.Advice.Should().Contain(advice);
    }

    /// <summary>What some programs save as .xls is text with tabs.</summary>
    [Fact]
    public void Text_under_the_name_of_an_old_workbook_is_read() =>
        JobReader.Read(folder.Write("p.xls", "Part\tMaterial\tL (mm)\tW (mm)\tT (mm)\tQty\na\t6061\t120\t62\t8\t1\n")).Value!.Job.Parts.Should().ContainSingle();
}
