using CsCheck;
using Nest.Core.Texts;
using Nest.Output.Fonts;

namespace Nest.Tests.Texts;

public sealed class PlainTextTest
{
    [Theory]
    [InlineData("a\u001B[31mred", "a\\u001B[31mred")] // ECMA-48: ESC begins a control sequence
    [InlineData("bell\u0007", "bell\\u0007")]
    [InlineData("over\rwritten", "over\\u000Dwritten")]
    [InlineData("x\u202Etxt.exe", "x\\u202Etxt.exe")] // Unicode Annex 9: RIGHT-TO-LEFT OVERRIDE
    [InlineData("c1\u009B31m", "c1\\u009B31m")] // ECMA-48: CSI as one character
    [InlineData("two\nlines\tand 😀 Ä 轴", "two\nlines\tand 😀 Ä 轴")]
    public void What_acts_on_a_terminal_is_shown_instead(string text, string shown)
    {
        PlainText.Visible(text).Should().Be(shown);
        PlainText.OneLine(text).Should().NotContainAny("\u001B", "\u0007", "\r", "\n", "\u202E", "\u009B", "\uD800");
    }

    [Fact]
    public void Half_a_character_is_shown_as_what_it_is()
    {
        PlainText.Visible("half" + (char)0xD800).Should().Be("half\\uD800");
        PlainText.OneLine("half" + (char)0xDC00 + "way").Should().Be("half way");
    }

    [Fact]
    public void A_shortened_text_never_ends_in_half_a_character()
    {
        PlainText.Shortened("abcdef", 6).Should().Be("abcdef");
        PlainText.Shortened("abcdef", 5).Should().Be("abcd…");
        PlainText.Shortened("abc😀def", 5).Should().Be("abc…");
    }

    [Fact]
    public void A_guarded_cell_gives_its_text_back_and_holds_no_formula()
    {
        Gen.Char["=+-@'; \t\n\rab1"].Array[0, 12].Select(chars => new string(chars)).Sample(text =>
        {
            var guarded = SafeCell.Guard(text);
            SafeCell.Bare(guarded).Should().Be(text);
            foreach (var cell in guarded.Split(';', '\n', '\r'))
            {
                cell.Should().NotStartWith("=").And.NotStartWith("+").And.NotStartWith("@");
            }
        }, iter: 3000);
        SafeCell.Guard("a;=1+1;b").Should().Be("a;'=1+1;b");
    }

    [Fact]
    public void A_name_of_a_million_characters_is_shortened_by_what_fits()
    {
        var name = new string('n', 1_000_000);
        var shorter = FontBook.Shorten(name, Face.Regular, 3, 40);
        shorter.Length.Should().BeInRange(10, 60);
        shorter.Should().EndWith("…");
        FontBook.Width(shorter, Face.Regular, 3).Should().BeLessThanOrEqualTo(40);
        FontBook.Wrap(name, Face.Regular, 3, 40).Count.Should().BeLessThan(100);
    }

    [Fact]
    public void Shortening_takes_as_much_as_fits()
    {
        foreach (var text in new[] { "dropout plate left, 2 × 45 mm", "轴支架 bracket 12", "a  b   c    d", "Ø 20 × 3 000 mm \u202E reversed" })
        {
            for (var width = 0.5; width < 60; width += 0.37)
            {
                var shown = FontBook.Shorten(text, Face.Bold, 3.2, width);
                FontBook.Width(shown, Face.Bold, 3.2).Should().BeLessThanOrEqualTo(width + 1e-9);
                // Model: try every length, from the longest.
                var clean = FontBook.Clean(text);
                var best = FontBook.Width(clean, Face.Bold, 3.2) <= width
                    ? clean
                    : Enumerable.Range(1, clean.Length - 1).Reverse().Select(count => clean[..count].TrimEnd() + "…").FirstOrDefault(one => FontBook.Width(one, Face.Bold, 3.2) <= width) ?? "";
                shown.Should().Be(best);
            }
        }
    }
}
