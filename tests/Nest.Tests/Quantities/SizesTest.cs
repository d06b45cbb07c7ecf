using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Tests.Quantities;

/// <summary>Sizes and sections as parts lists and drawings write them (common practice, no source); 1 in = 25.4 mm exactly.</summary>
public class SizesTest
{
    [Theory]
    [InlineData("500x300x10", LengthUnit.Millimetre, "500 300 10")]
    [InlineData("500 × 300 * 10", LengthUnit.Millimetre, "500 300 10")]
    [InlineData("500 X 300 by 10", LengthUnit.Millimetre, "500 300 10")]
    [InlineData("500 mm x 300 mm", LengthUnit.Inch, "500 300")]
    [InlineData("20\" x 12\" x 3/8\"", LengthUnit.Millimetre, "508 304.8 9.525")]
    [InlineData("24 x 12 x 0.5 in", LengthUnit.Millimetre, "609.6 304.8 12.7")]
    [InlineData("2 in x 10 mm", LengthUnit.Millimetre, "50.8 10")]
    [InlineData("2 in x 3 x 10 mm", LengthUnit.Inch, "50.8 76.2 10")]
    [InlineData("5/8 dia x 3-1/4", LengthUnit.Inch, "15.875D 82.55")]
    [InlineData("Ø20 x 85", LengthUnit.Millimetre, "20D 85")]
    [InlineData("dia 20 x 85 long", LengthUnit.Millimetre, "20D 85L")]
    [InlineData("20 round x L = 85", LengthUnit.Millimetre, "20D 85L")]
    [InlineData("□ 20 x 85 lg", LengthUnit.Millimetre, "20S 85L")]
    [InlineData("1 sq x 4", LengthUnit.Inch, "25.4S 101.6")]
    [InlineData("50 wide x 3 thk x 85 length", LengthUnit.Millimetre, "50W 3T 85L")]
    [InlineData("t3 x w50 x l85", LengthUnit.Millimetre, "3T 50W 85L")]
    [InlineData("50 mm x 3 mm; ", LengthUnit.Inch, "50 3")]
    [InlineData("30", LengthUnit.Millimetre, "30")]
    public void Every_number_of_a_size_is_read_with_its_unit_and_its_mark(string text, LengthUnit unit, string expected)
    {
        var reading = SizeText.Read(text, unit);
        reading.Error.Should().BeEmpty();
        reading.Hint.Should().BeEmpty();
        string.Join(' ', reading.Items.Select(item => item.Length.ToMillimetres().ToString("0.###", System.Globalization.CultureInfo.InvariantCulture)
            + (item.Mark == SizeMark.None ? "" : item.Mark.ToString()[..1]))).Should().Be(expected);
    }

    [Fact]
    public void A_decimal_comma_is_read_in_a_size_where_it_was_declared()
    {
        var reading = SizeText.Read("12,5 x 30 mm", LengthUnit.Inch, ',');
        reading.Items.Select(item => item.Length).Should().Equal(Length.FromMillimetres(12.5m), Length.FromMillimetres(30));
        reading.Items.Select(item => item.Text).Should().Equal("12,5", "30 mm");
    }

    [Theory]
    [InlineData("hex 19 x 40", "'hex 19 x 40' is a hexagon", "give it the form hex bar; its size is across flats, then its length")]
    [InlineData("1x2x3x4x5", "'1x2x3x4x5' has 5 numbers", "write sizes apart by x, such as 3/8 x 4 x 7-1/4 or 5/8 dia x 3-1/4")]
    [InlineData("10 x", "'10 x' has an x without a number beside it", "write sizes apart by x, such as 3/8 x 4 x 7-1/4 or 5/8 dia x 3-1/4")]
    [InlineData("10 x 0", "'10 x 0': a size must be above zero", "write sizes apart by x, such as 3/8 x 4 x 7-1/4 or 5/8 dia x 3-1/4")]
    [InlineData("10 x abc", "'10 x abc': 'abc' is not a number", "write digits only, such as 12 or 12.5")]
    public void What_is_no_size_is_refused_with_what_to_write(string text, string error, string hint)
    {
        var reading = SizeText.Read(text, LengthUnit.Millimetre);
        reading.Items.Should().BeEmpty();
        reading.Error.Should().Be(error);
        reading.Hint.Should().Be(hint);
    }

    [Theory]
    [InlineData("10 box", "'10 box': '10 box': 'box' is not a unit of length")]
    [InlineData("10 xylo", "'10 xylo': '10 xylo': 'xylo' is not a unit of length")]
    [InlineData("10 byte", "'10 byte': '10 byte': 'byte' is not a unit of length")]
    [InlineData("10 by", "'10 by' has an x without a number beside it")]
    [InlineData("x10", "'x10' has an x without a number beside it")]
    public void An_x_within_a_word_parts_nothing(string text, string error) => SizeText.Read(text, LengthUnit.Millimetre).Error.Should().Be(error);

    [Theory]
    [InlineData("mm"), InlineData("cm"), InlineData("m"), InlineData("in"), InlineData("inch"), InlineData("inches"), InlineData("ft"), InlineData("thou")]
    [InlineData("dia"), InlineData("diam"), InlineData("diameter"), InlineData("rd"), InlineData("round"), InlineData("sq"), InlineData("square"), InlineData("d")]
    [InlineData("l"), InlineData("lg"), InlineData("long"), InlineData("w"), InlineData("wide"), InlineData("b"), InlineData("t"), InlineData("thk"), InlineData("thick")]
    public void An_x_behind_a_known_word_parts_two_numbers(string word)
    {
        var reading = SizeText.Read($"10{word}x20", LengthUnit.Millimetre);
        reading.Error.Should().BeEmpty();
        reading.Items.Should().HaveCount(2);
        reading.Items[1].Length.Should().Be(Length.FromMillimetres(20));
    }

    [Fact]
    public void A_sign_of_a_diameter_is_no_letter_of_a_word()
    {
        SizeText.Read("20øx85", LengthUnit.Millimetre).Items.Select(item => item.Mark).Should().Equal(SizeMark.Diameter, SizeMark.None);
        SizeText.Read("85xø20", LengthUnit.Millimetre).Items.Select(item => item.Mark).Should().Equal(SizeMark.None, SizeMark.Diameter);
        SizeText.Read("85xØ20", LengthUnit.Millimetre).Items.Select(item => item.Mark).Should().Equal(SizeMark.None, SizeMark.Diameter);
        SizeText.Read("85xΦ20", LengthUnit.Millimetre).Items.Select(item => item.Mark).Should().Equal(SizeMark.None, SizeMark.Diameter);
        SizeText.Read("85xφ20", LengthUnit.Millimetre).Items.Select(item => item.Mark).Should().Equal(SizeMark.None, SizeMark.Diameter);
    }

    [Theory]
    [InlineData("square", SizeMark.Side), InlineData("vkt", SizeMark.Side), InlineData("sq.", SizeMark.Side), InlineData("□", SizeMark.Side)]
    [InlineData("lang", SizeMark.Length), InlineData("long", SizeMark.Length), InlineData("l", SizeMark.Length)]
    [InlineData("width", SizeMark.Width), InlineData("b", SizeMark.Width), InlineData("w", SizeMark.Width), InlineData("breit", SizeMark.Width)]
    [InlineData("thick", SizeMark.Thickness), InlineData("dick", SizeMark.Thickness), InlineData("t", SizeMark.Thickness)]
    [InlineData("dia.", SizeMark.Diameter), InlineData("round", SizeMark.Diameter)]
    public void A_word_behind_a_number_says_which_size_it_is(string word, SizeMark mark) =>
        SizeText.Read($"20 {word}", LengthUnit.Millimetre).Items.Should().Equal(new SizeItem(Length.FromMillimetres(20), mark, "20"));

    [Fact]
    public void A_size_has_an_end()
    {
        var text = new string('1', 60) + "x" + new string('2', 60);
        SizeText.Read(text, LengthUnit.Millimetre).Error.Should().Be("'" + new string('1', 40) + "…' is too long for a size");
        SizeText.Read("1x2x3x4", LengthUnit.Millimetre).Items.Should().HaveCount(4);
        SizeText.Read("1x2x3", LengthUnit.Millimetre, most: 2).Error.Should().Be("'1x2x3' has 3 numbers");
        SizeText.Read("2x" + new string('0', 117) + "3", LengthUnit.Millimetre).Error.Should().NotContain("too long for a size", "120 signs are read");
    }

    [Theory]
    [InlineData("500x300", true)]
    [InlineData("Ø20", true)]
    [InlineData("20 dia", true)]
    [InlineData("3/8\" x 4", true)]
    [InlineData("bracket", false)]
    [InlineData("6061", false)]
    [InlineData("1x", false)]
    public void A_size_is_told_from_other_text(string text, bool size) => SizeText.LooksLikeSize(text).Should().Be(size);

    [Fact]
    public void What_looks_like_a_size_has_more_than_two_signs_and_at_most_120()
    {
        SizeText.LooksLikeSize("Ø 2").Should().BeTrue();
        SizeText.LooksLikeSize("Ø2").Should().BeFalse();
        SizeText.LooksLikeSize("12x" + new string('1', 117)).Should().BeTrue();
        SizeText.LooksLikeSize("12x" + new string('1', 118)).Should().BeFalse();
    }

    [Theory]
    [InlineData("10 x 20 mm", true)]
    [InlineData("10\" x 20", true)]
    [InlineData("10 x 20", false)]
    [InlineData("10 long x 20", false)]
    [InlineData("10. x 2,", false)]
    public void A_unit_is_found_anywhere_in_a_size(string text, bool named) => SizeText.NamesUnit(text).Should().Be(named);

    [Fact]
    public void A_list_of_lengths_shares_the_unit_behind_the_last()
    {
        SizeText.List("0, 10, 20 mm", LengthUnit.Inch, out var error).Should().Equal(Length.Zero, Length.FromMillimetres(10), Length.FromMillimetres(20));
        error.Should().BeEmpty();
        SizeText.List("1 in, 10, 20 mm", LengthUnit.Inch, out _).Should().Equal(Length.FromInches(1), Length.FromInches(10), Length.FromMillimetres(20));
        SizeText.List("1,2", LengthUnit.Millimetre, out _).Should().Equal(Length.FromMillimetres(1), Length.FromMillimetres(2));
        SizeText.List("1,-2", LengthUnit.Millimetre, out error).Should().BeNull();
        error.Should().Be("'1,-2': a size must not be below zero");
        SizeText.List("1,,2 mm", LengthUnit.Millimetre, out error).Should().BeNull();
        error.Should().Be("'1,,2 mm': the length is missing; write a length such as 12.7");
    }

    [Theory]
    [InlineData("hex 19", false, Form.HexBar, false, "19")]
    [InlineData("19 A/F", false, Form.HexBar, false, "19")]
    [InlineData("40x40x3 square tube", false, Form.RectangularTube, false, "40x40x3")]
    [InlineData("SHS 40x3", false, Form.RectangularTube, false, "40x3")]
    [InlineData("round tube 20x2", false, Form.RoundTube, false, "20x2")]
    [InlineData("angle iron 50x50x5", false, Form.Angle, false, "50x50x5")]
    [InlineData("channel 80x45x6", false, Form.Channel, false, "80x45x6")]
    [InlineData("tee 40x40x5", false, Form.Tee, false, "40x40x5")]
    [InlineData("40x40x3 tube", false, null, true, "40x40x3")]
    [InlineData("Ø20x2 tube", false, Form.RoundTube, true, "Ø20x2")]
    [InlineData("L 50x50x5", true, Form.Angle, false, "50x50x5")]
    [InlineData("T 40x40x5", true, Form.Tee, false, "40x40x5")]
    [InlineData("u 80x45x6", false, Form.Channel, false, "80x45x6")]
    [InlineData("L 50x50x5", false, null, false, "L 50x50x5")]
    [InlineData("L 50x50x5x1000", false, Form.Angle, false, "50x50x5x1000")]
    [InlineData("40x20", true, null, false, "40x20")]
    public void A_form_is_found_by_its_word_or_its_letter(string text, bool letters, Form? form, bool plainTube, string numbers) =>
        SectionText.Find(text, letters).Should().Be(new SectionText.Named(form, plainTube, numbers));

    [Theory]
    [InlineData(Form.HexBar, "19", "19 19", "hex 19", "size across flats, such as hex 19")]
    [InlineData(Form.RoundTube, "20 2", "20 20 2", "Ø 20 × 2", "outside diameter x wall, such as 20x2")]
    [InlineData(Form.RectangularTube, "40 3", "40 40 3", "40 × 40 × 3", "side x side x wall, such as 60x40x3, or side x wall of a square one")]
    [InlineData(Form.RectangularTube, "40 60 3", "60 40 3", "60 × 40 × 3", "side x side x wall, such as 60x40x3, or side x wall of a square one")]
    [InlineData(Form.Angle, "30 50 5", "50 30 5", "L 50 × 30 × 5", "leg x leg x thickness, such as L 50x50x5")]
    [InlineData(Form.Angle, "50 5", "50 50 5", "L 50 × 50 × 5", "leg x leg x thickness, such as L 50x50x5")]
    [InlineData(Form.Channel, "45 80 6", "45 80 6", "U 45 × 80 × 6", "height x flange x web, such as U 80x45x6, and the flange's thickness behind it where it is another")]
    [InlineData(Form.Channel, "80 45 6 8", "80 45 6 8", "U 80 × 45 × 6 × 8", "height x flange x web, such as U 80x45x6, and the flange's thickness behind it where it is another")]
    [InlineData(Form.Channel, "80 45 6 6", "80 45 6", "U 80 × 45 × 6", "height x flange x web, such as U 80x45x6, and the flange's thickness behind it where it is another")]
    [InlineData(Form.Tee, "40 5", "40 40 5", "T 40 × 40 × 5", "flange x height x thickness, such as T 40x40x5, and the flange's thickness behind it where it is another")]
    [InlineData(Form.Profile, "40", "40 40", " 40 × 40", "width x height")]
    [InlineData(Form.Profile, "40 80", "40 80", " 40 × 80", "width x height")]
    public void Numbers_become_a_section_and_are_written_as_the_trade_does(Form form, string numbers, string sizes, string text, string wanted)
    {
        var found = SectionText.Sizes(form, Lengths(numbers), out var asked).Should().NotBeNull().And.Subject.As<(Length Width, Length Thickness, SectionDetail Detail)?>()!.Value;
        asked.Should().Be(wanted);
        Length?[] all = [found.Width, found.Thickness, found.Detail.Wall, found.Detail.Flange];
        all.Where(length => length is not null).Should().Equal(Lengths(sizes).Select(length => (Length?)length));
        SectionText.Of(form, found.Width, found.Thickness, found.Detail, Plain).Should().Be(text);
    }

    [Theory]
    [InlineData(Form.HexBar, "")]
    [InlineData(Form.HexBar, "19 19")]
    [InlineData(Form.RoundTube, "20 2 2")]
    [InlineData(Form.Angle, "50 50 5 5")]
    [InlineData(Form.Tee, "40 40 5 5 5")]
    [InlineData(Form.FlatBar, "40 20")]
    public void Another_number_of_numbers_is_no_section(Form form, string numbers) =>
        SectionText.Sizes(form, Lengths(numbers), out _).Should().BeNull();

    [Fact]
    public void Solid_sections_are_written_in_short()
    {
        var (wide, thin) = (Length.FromMillimetres(40), Length.FromMillimetres(20));
        SectionText.Of(Form.FlatBar, wide, thin, null, Plain).Should().Be("40 × 20");
        SectionText.Of(Form.RectangularTube, wide, thin, null, Plain).Should().Be("40 × 20", "no wall is told");
        SectionText.Of(Form.RoundBar, wide, wide, null, Plain).Should().Be("Ø 40");
        SectionText.Of(Form.Profile, wide, thin, new() { Name = "rail" }, Plain).Should().Be("rail 40 × 20");
    }

    private static string Plain(Length length) => LengthFormat.Metric.Text(length, withUnit: false);

    private static List<Length> Lengths(string numbers) => [.. numbers.Split(' ', StringSplitOptions.RemoveEmptyEntries)
        .Select(number => Length.FromMillimetres(int.Parse(number, System.Globalization.CultureInfo.InvariantCulture)))];
}
