using System.Text;
using Nest.Data.Parts;
using Nest.Data.Tables;

namespace Nest.Tests.Data;

/// <summary>A parts list that is changed cell by cell keeps every other byte.</summary>
public class PartsTextTest
{
    private const string List = "# Lamp arm, drawing of 3 March\n\npart,material,length,width,thickness,quantity\n\"base, large\",6082-T6,120, 80 ,10,2\n# the arm comes twice\narm,6082-T6,300,30,10,4\n\ntotal,,,,,6\n";

    [Fact]
    public void A_cell_is_changed_and_all_else_stays()
    {
        var list = Read(List);

        list.Rows.Select(row => row.Line).Should().Equal(4, 6);
        Text(list.With(6, list.Place("quantity"), "5")).Should().Be(List.Replace("300,30,10,4", "300,30,10,5", StringComparison.Ordinal));
        Text(list.With(4, list.Place("part"), "base \"B\", new")).Should().Contain("\n\"base \"\"B\"\", new\",6082-T6,120,80,10,2\n").And.Contain("# the arm comes twice");
    }

    [Fact]
    public void Rows_come_and_go_between_the_comments()
    {
        var list = Read(List);

        Text(list.Added(["foot", "6082-T6", "40", "40", "10", "1"])).Should().Be(List.Replace("10,4\n", "10,4\nfoot,6082-T6,40,40,10,1\n", StringComparison.Ordinal));
        Text(list.Without(6)).Should().Be(List.Replace("arm,6082-T6,300,30,10,4\n", "", StringComparison.Ordinal));
        Read(Text(list.Blanked([4]))).Rows.Should().ContainSingle().Which.Line.Should().Be(6);
    }

    /// <summary>Lines change with every row that comes or goes, keys do not.</summary>
    [Fact]
    public void A_row_keeps_its_key_through_every_change()
    {
        var list = Read(List);
        var (first, second) = (list.Rows[0].Key, list.Rows[1].Key);
        first.Should().NotBe(second);
        list.Without(4).Rows.Select(row => (row.Line, row.Key)).Should().Equal((5, second));
        list.Without(6).Rows.Select(row => row.Key).Should().Equal(first);
        list.Blanked([4]).Rows.Select(row => (row.Line, row.Key)).Should().Equal((6, second));
        list.With(4, list.Place("quantity"), "7").Rows.Select(row => row.Key).Should().Equal(first, second);

        // New ones have keys that no row has had, behind the last row or another one.
        string[] foot = ["foot", "6082-T6", "40", "40", "10", "1"];
        var more = list.Added(foot).Added(foot, 4);
        more.Rows.Select(row => row.Key).Should().OnlyHaveUniqueItems().And.HaveCount(4);
        (more.Rows[0].Key, more.Rows[2].Key).Should().Be((first, second));
        list.Added(foot).Without(list.Added(foot).Rows[2].Line).Added(foot).Rows[2].Key.Should().NotBe(list.Added(foot).Rows[2].Key);

        // A row that is emptied cell by cell is none any more; the other one stays what it was.
        Enumerable.Range(1, 6).Aggregate(list, (one, place) => one.Rows[0].Key == first ? one.With(4, place, "") : one).Rows.Select(row => row.Key).Should().Equal(second);
    }

    [Theory]
    [InlineData("Teil;Werkstoff;Länge;Breite;Dicke;Anzahl\r\nFuß;6082;40,5;40;10;1")]
    [InlineData("sep=;\r\npart;material;length;width;thickness;qty\r\nfoot;6082;40,5;40;10;1\r\n")]
    [InlineData("\uFEFFpart\tmaterial\tlength\twidth\tthickness\tqty\nfoot\t6082\t40,5\t40\t10\t1\n")]
    public void Marks_line_ends_and_separators_stay(string text)
    {
        var list = Read(text);
        var row = list.Rows.Should().ContainSingle().Subject;

        Text(list.With(row.Line, list.Place("length"), "41,5")).Should().Be(text.Replace("40,5", "41,5", StringComparison.Ordinal));
        Read(Text(list.Added([.. row.Cells]))).Rows.Should().HaveCount(2);
    }

    [Fact]
    public void A_name_never_makes_a_row_a_comment_or_two_rows()
    {
        var list = Read(List);

        var changed = Read(Text(list.With(6, 1, "#arm\nleft")));

        changed.Rows.Should().HaveCount(2);
        changed.Rows[1].At(1).Should().Be("arm left");
    }

    [Fact]
    public void A_workbook_or_a_text_without_head_is_not_changed()
    {
        PartsText.Read([0x50, 0x4B, 3, 4, 0], "parts.xlsx", TableChoices.None).Should().BeNull();
        PartsText.Read("hello\n"u8.ToArray(), "parts.csv", TableChoices.None).Should().BeNull();
    }

    private static PartsText Read(string text) => PartsText.Read(Encoding.UTF8.GetBytes(text), "parts.csv", TableChoices.None)!;

    private static string Text(PartsText list) => Encoding.UTF8.GetString(list.Bytes());
}
