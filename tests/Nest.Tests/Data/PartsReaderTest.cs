using System.Globalization;
using System.Text;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;

namespace Nest.Tests.Data;

public sealed class PartsReaderTest : IDisposable
{
    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void A_bare_list_is_read_on_the_starter_catalogue_and_the_default_shop()
    {
        var result = folder.Parts(JobFolder.Head + "plate a,6061,120,62,8,4\n");
        result.Findings.Should().BeEmpty();
        var job = result.Value!.Job;
        job.Name.Should().Be("parts");
        job.Unit.Should().Be(LengthUnit.Millimetre);
        job.Stocks.Should().NotBeEmpty().And.OnlyContain(stock => stock.MaterialId == "6061-T6");
        job.Saws.Should().NotBeEmpty();
        job.AllowanceRules.Should().NotBeEmpty();
        job.OffcutRules.Should().NotBeEmpty();
        var part = job.Parts.Should().ContainSingle().Subject;
        part.Should().BeEquivalentTo(new
        {
            Id = "plate a",
            MaterialId = "6061-T6",
            Round = false,
            Quantity = 4,
            Extra = 0,
            Forms = Forms.Any,
            MayTurn = true,
            Holding = Holding.Vise,
        });
        part.Length.Should().Be(Length.FromMillimetres(120));
        part.Width.Should().Be(Length.FromMillimetres(62));
        part.Thickness.Should().Be(Length.FromMillimetres(8));
        result.Value.PartRows["PLATE A"].Row.Should().Be(2);
    }

    [Fact]
    public void Columns_stand_in_any_order_and_case_and_by_other_names()
    {
        var result = folder.Parts("""
            QTY;Alloy;Thk (mm);W;L;Name;May Turn;Form;Held By;Spare;Faces_Stay;grip
            7;EN AW-6082 T6;8;40;50;lug;fixed;flat bar + plate;soft-jaws;5 %;x;3
            """);
        result.Findings.Should().BeEmpty();
        var part = result.Value!.Job.Parts.Single();
        part.Should().BeEquivalentTo(new
        {
            Id = "lug",
            MaterialId = "6082-T6",
            Quantity = 7,
            Extra = 1, // 5 % of 7 is 0.35, rounded up
            Forms = Forms.Plate | Forms.FlatBar,
            MayTurn = false,
            Holding = Holding.SoftJaws,
            MillFaces = true,
            MillSides = false,
        });
        part.Length.Should().Be(Length.FromMillimetres(50));
        part.Allowances!.Grip.Should().Be(Length.FromMillimetres(3));
        part.Allowances.SideCleanUp.Should().BeNull();
    }

    [Theory]
    [InlineData(",")]
    [InlineData(";")]
    [InlineData("\t")]
    [InlineData("|")]
    public void The_separator_is_found(string separator)
    {
        var text = (JobFolder.Head + "a,6061,120,62,8,4\n").Replace(",", separator, StringComparison.Ordinal);
        folder.Parts(text).Findings.Should().BeEmpty();
    }

    [Fact]
    public void A_byte_order_mark_quotes_line_breaks_in_cells_and_windows_line_ends_are_read()
    {
        var text = "part,material,length (mm),width,thickness,quantity,note\r\n\"a, left\",6061,120,62,8,4,\"two\r\nlines\"\r\n\r\nb,6061,4.5,62,8,x,\r\n";
        var path = folder.Write("parts.csv", [0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(text)]);
        JobFolder.Short(JobReader.Read(path).Findings).Should().Equal("parts.csv:5:6 number-unreadable");
    }

    [Fact]
    public void Inch_marks_need_no_quotes_and_a_head_in_inches_makes_it_an_inch_job()
    {
        var result = folder.Parts("part,material,length (in),width (in),thickness [in],quantity\na,6061,4' 2-1/2\",1/2\",23 5/8,1\n");
        result.HasErrors.Should().BeFalse();
        var job = result.Value!.Job;
        job.Unit.Should().Be(LengthUnit.Inch);
        job.Currency.Should().Be("USD");
        job.Parts[0].Length.Should().Be(Length.FromInches(50.5m));
        job.Parts[0].Width.Should().Be(Length.FromInches(0.5m));
        job.Parts[0].Thickness.Should().Be(Length.FromInches(23.625m));
        job.Stocks.Should().Contain(stock => stock.Length == Length.FromInches(96));
    }

    [Fact]
    public void A_round_part_has_a_diameter_and_is_held_in_the_chuck()
    {
        var result = folder.Parts("part,material,length (mm),width,thickness,diameter,quantity\npin,304,85,,,16,2\n");
        result.Findings.Should().BeEmpty();
        var part = result.Value!.Job.Parts.Single();
        part.Round.Should().BeTrue();
        part.Width.Should().Be(Length.FromMillimetres(16));
        part.Thickness.Should().Be(Length.FromMillimetres(16));
        part.Holding.Should().Be(Holding.Chuck);
    }

    [Theory]
    [InlineData("2", 2)]
    [InlineData("5%", 3)] // 5 % of 12 × 4 = 2.4
    [InlineData("25 %", 12)]
    [InlineData("0", 0)]
    [InlineData("", 0)]
    public void Extra_is_a_count_or_a_percentage_of_the_batch(string extra, int pieces)
    {
        folder.Write("p.csv", "part,material,length,width,thickness,quantity,extra\na,6061,120,62,8,4," + extra + "\n");
        var result = folder.Job("parts = \"p.csv\"\nbatch = 12\n");
        result.Findings.Should().BeEmpty();
        result.Value!.Job.Parts[0].Extra.Should().Be(pieces);
        result.Value.Job.DemandOf(result.Value.Job.Parts[0]).Should().Be(48 + pieces);
    }

    // One row each; all of them are told at once, with the cell.
    [Theory]
    [InlineData(",6061,120,62,8,4", "2:1 cell-missing", "part is missing")]
    [InlineData("a,,120,62,8,4", "2:2 cell-missing", "material is missing")]
    [InlineData("a,6601,120,62,8,4", "2:2 material-unknown", "did you mean '6061'")]
    [InlineData("a,5083-T6,120,62,8,4", "2:2 material-unknown", "did you mean '5083'")]
    [InlineData("a,unobtainium,120,62,8,4", "2:2 material-unknown", "use one of 6061-T6")]
    [InlineData("a,6061,0,62,8,4", "2:3 length-not-positive", "write a length above zero")]
    [InlineData("a,6061,120,-62,8,4", "2:4 length-not-positive", "width is -62")]
    [InlineData("a,6061,120,62,,4", "2:5 cell-missing", "thickness is missing")]
    [InlineData("a,6061,1e3,62,8,4", "2:3 length-unreadable", "is not a number")]
    [InlineData("a,6061,\"1,250\",62,8,4", "2:3 decimal-open", "--decimal comma reads 1.250, --decimal point reads 1250")]
    [InlineData("a,6061,\"12,5\",62,8,4\nb,6061,12.5,62,8,4", "3:3 decimal-mixed", "one decimal mark")]
    [InlineData("a,6061,1/2,62,8,4", "2:3 length-unreadable", "write 1/2\" if inches are meant")]
    [InlineData("a,6061,31 m,62,8,4", "2:3 length-too-long", "longer than any stock")]
    [InlineData("a,6061,120,62,8,", "2:6 cell-missing", "quantity is missing")]
    [InlineData("a,6061,120,62,8,0", "2:6 number-out-of-range", "from 1 to 1000000")]
    [InlineData("a,6061,120,62,8,-3", "2:6 number-out-of-range", "quantity is -3")]
    [InlineData("a,6061,120,62,8,2.5", "2:6 number-not-whole", "write a whole number")]
    [InlineData("a,6061,120,62,8,many", "2:6 number-unreadable", "not a number")]
    [InlineData("a,6061,120,62,8,99999999999999999999", "2:6 number-unreadable", "too many digits")]
    [InlineData("a,6061,120,62,8,4,5", "2:7 row-too-long", "this row has 7 cells, but the head has 6")]
    [InlineData("a,6061,12,5,62,8,4", "2:7 row-too-long", "separate by semicolons")]
    [InlineData("\"a,6061,120,62,8,4", "2 csv-quote", "never ends")]
    [InlineData("\"a\"b,6061,120,62,8,4", "2 csv-quote", "behind a closing quote")]
    public void A_wrong_cell_is_told_with_its_place_and_what_to_do(string row, string where, string says)
    {
        var result = folder.Parts(JobFolder.Head + row + "\n");
        result.Value.Should().BeNull();
        JobFolder.Short(result.Findings).Should().Contain("parts.csv:" + where);
        result.Findings.Should().Contain(finding => finding.ToString().Contains(says));
        result.Findings.Should().OnlyContain(finding => finding.Severity == Severity.Note || finding.Advice.Length > 0);
    }

    [Theory]
    [InlineData("extra", "-1", "number-out-of-range")]
    [InlineData("extra", "101%", "number-out-of-range")]
    [InlineData("extra", "x%", "number-unreadable")]
    [InlineData("forms", "sheet metal", "word-unknown")]
    [InlineData("turn", "maybe", "word-unknown")]
    [InlineData("holding", "glue", "word-unknown")]
    [InlineData("faces stay", "2", "word-unknown")]
    [InlineData("diameter", "20", "size-not-of-form")]
    [InlineData("grip", "-1", "length-not-positive")]
    public void A_wrong_optional_cell_is_told_too(string column, string cell, string rule)
    {
        var result = folder.Parts($"part,material,length,width,thickness,quantity,{column}\na,6061,120,62,8,4,{cell}\n");
        result.Value.Should().BeNull();
        result.Findings.Should().Contain(finding => finding.Rule == rule && finding.Where.Row == 2);
    }

    [Fact]
    public void All_that_is_wrong_is_told_at_once()
    {
        var result = folder.Parts(JobFolder.Head + "a,6061,0,0,8,4\nb,6061,1,1,1,1\nB,6061,1,1,1,2\nb,6061,2,1,1,2\nc,no,1,1,1,x\n");
        JobFolder.Short(result.Findings).Should().Equal(
            "parts.csv:2:3 length-not-positive",
            "parts.csv:2:4 length-not-positive",
            "parts.csv:6:2 material-unknown",
            "parts.csv:6:6 number-unreadable",
            "parts.csv:5 part-twice",
            "parts.csv:3 part-added-up");
        result.Findings[5].ToString().Should().Contain("'b' is in rows 3, 4: 3 a set in all");
        result.Findings[4].ToString().Should().Contain("already in row 3, with another size").And.Contain("names of their own");
    }

    [Theory]
    [InlineData("part,material,length,width,thickness\n", "parts.csv:1 column-missing")]
    [InlineData("part,material,length,width,thickness,quantity,holdng\n", "parts.csv:1:7 column-unknown")]
    [InlineData("part,material,length,width,thickness,quantity,Qty\n", "parts.csv:1:7 column-twice")]
    [InlineData("part,material,length,width,thickness,quantity,mill faces\n", "parts.csv:1:7 column-renamed")]
    [InlineData("part,material,length,width,thickness,quantity,Stock_Sides\n", "parts.csv:1:7 column-renamed")]
    [InlineData("part,material,length,width,thickness,quantity\n", "parts.csv:1 parts-none")]
    [InlineData("# only a comment\n", "parts.csv csv-no-head")]
    public void A_wrong_head_is_told(string text, string finding) =>
        JobFolder.Short(folder.Parts(text).Findings).Should().Contain(finding);

    [Fact]
    public void A_column_that_is_nothing_like_ours_is_only_noted()
    {
        var result = folder.Parts("part,material,length (mm),width,thickness,quantity,customer\na,6061,120,62,8,4,Ann\n");
        result.HasErrors.Should().BeFalse();
        JobFolder.Short(result.Findings).Should().Equal("parts.csv:1:7 column-ignored");
    }

    [Fact]
    public void Sizes_that_look_swapped_are_noted()
    {
        var result = folder.Parts(JobFolder.Head + "a,6061,8,62,120,4\n");
        result.HasErrors.Should().BeFalse();
        JobFolder.Short(result.Findings).Should().Equal("parts.csv:2:5 part-thick");
    }

    [Fact]
    public void A_row_that_looks_like_a_comment_is_noted()
    {
        var result = folder.Parts(JobFolder.Head + "a,6061,120,62,8,4\n#12 plate,6061,120,62,8,4\n# free text\n");
        JobFolder.Short(result.Findings).Should().Equal("parts.csv:3 csv-comment");
    }

    [Fact]
    public void Decimal_commas_are_read_when_the_job_declares_them()
    {
        folder.Write("p.csv", "part;material;length;width;thickness;quantity\na;6061;120,5;62;8;4\n");
        var result = folder.Job("parts = \"p.csv\"\ndecimal_mark = \",\"\n");
        result.Findings.Should().BeEmpty();
        result.Value!.Job.Parts[0].Length.Should().Be(Length.FromMillimetres(120.5m));
    }

    [Fact]
    public void The_culture_of_the_machine_plays_no_part()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            const string text = JobFolder.Head + "a,6061,120.5,62,8,4\nb,6061,1.250,0,8,4\n";
            var invariant = folder.Parts(text);
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            folder.Parts(text).Findings.Should().Equal(invariant.Findings);
            var good = folder.Parts(JobFolder.Head + "a,6061,120.5,62,8,4\n");
            good.Value!.Job.Parts[0].Length.Should().Be(Length.FromMillimetres(120.5m));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }
}
