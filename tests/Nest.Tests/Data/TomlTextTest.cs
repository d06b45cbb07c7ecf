using Nest.Data.Toml;

namespace Nest.Tests.Data;

/// <summary>A setting is changed in a file that a person wrote, and nothing else.</summary>
public class TomlTextTest
{
    private const string Job = "# The lamp\nname = \"Lamp\"   # for Easter\nbatch = 3\n\n# saws\n[[saw]]\nbatch = 1\nname = \"S\"\n";

    [Fact]
    public void A_value_is_changed_its_comment_stays()
    {
        TomlText.With(Job, "name", "\"Lamp 2\"").Should().Be(Job.Replace("\"Lamp\" ", "\"Lamp 2\" ", StringComparison.Ordinal));
        TomlText.With(Job, "Batch", "40").Should().Be(Job.Replace("batch = 3", "batch = 40", StringComparison.Ordinal));
    }

    [Fact]
    public void A_new_setting_stands_above_the_first_table()
    {
        TomlText.With(Job, "most_suppliers", "2").Should().Be(Job.Replace("batch = 3\n", "batch = 3\nmost_suppliers = 2\n", StringComparison.Ordinal));
        TomlText.With("[[saw]]\nname = \"S\"\n", "batch", "2").Should().StartWith("batch = 2\n[[saw]]");
        TomlText.With("batch = 2", "unit", "\"in\"").Should().Be("batch = 2\nunit = \"in\"\n");
    }

    [Fact]
    public void A_setting_goes_and_what_was_written_behind_it_stays()
    {
        TomlText.With(Job, "batch", null).Should().Be(Job.Replace("batch = 3\n", "", StringComparison.Ordinal));
        TomlText.With(Job, "name", null).Should().Contain("\n# for Easter\n");
        TomlText.With(Job, "unit", null).Should().Be(Job);
    }

    [Fact]
    public void Names_of_a_list_come_and_go()
    {
        var one = TomlText.Listed(Job, "leave_out", "P\"10", there: true);
        one.Should().Contain("leave_out = [\"P\\\"10\"]\n");
        TomlText.Names(one, "leave_out").Should().Equal("P\"10");
        var two = TomlText.Listed(one, "leave_out", "B2", there: true);
        TomlText.Names(two, "leave_out").Should().Equal("P\"10", "B2");
        TomlText.Listed(two, "leave_out", "b2", there: true).Should().Be(two);
        TomlText.Listed(TomlText.Listed(two, "leave_out", "b2", there: false), "leave_out", "P\"10", there: false).Should().Be(Job);
    }
}
