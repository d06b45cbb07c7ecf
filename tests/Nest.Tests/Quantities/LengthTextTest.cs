using System.Globalization;
using CsCheck;
using Nest.Core.Quantities;
using Any = CsCheck.Gen;

namespace Nest.Tests.Quantities;

public class LengthTextTest
{
    // International inch = 25.4 mm exactly (international yard and pound agreement, 1959), so 1/64 in = 396 875 nm.
    [Theory]
    [InlineData("12.7", LengthUnit.Millimetre, 12_700_000)]
    [InlineData("12.7 mm", LengthUnit.Inch, 12_700_000)]
    [InlineData("12.7mm", LengthUnit.Inch, 12_700_000)]
    [InlineData("1/2\"", LengthUnit.Millimetre, 12_700_000)]
    [InlineData("1-1/2 in", LengthUnit.Millimetre, 38_100_000)]
    [InlineData("1 1/2\"", LengthUnit.Millimetre, 38_100_000)]
    [InlineData("1½\"", LengthUnit.Millimetre, 38_100_000)]
    [InlineData("23 5/8\"", LengthUnit.Millimetre, 600_075_000)]
    [InlineData("23 5/8", LengthUnit.Inch, 600_075_000)]
    [InlineData("4'", LengthUnit.Millimetre, 1_219_200_000)]
    [InlineData("4' 2-1/2\"", LengthUnit.Millimetre, 1_282_700_000)]
    [InlineData("4'2-1/2\"", LengthUnit.Inch, 1_282_700_000)]
    [InlineData("4 ft 2 1/2 in", LengthUnit.Inch, 1_282_700_000)]
    [InlineData("4′ 2″", LengthUnit.Inch, 1_270_000_000)]
    [InlineData("4'-2\"", LengthUnit.Inch, 1_270_000_000)]
    [InlineData("2 cm", LengthUnit.Millimetre, 20_000_000)]
    [InlineData("1.2 m", LengthUnit.Millimetre, 1_200_000_000)]
    [InlineData("0.05 in", LengthUnit.Millimetre, 1_270_000)]
    [InlineData(".05 in.", LengthUnit.Millimetre, 1_270_000)]
    [InlineData("50 thou", LengthUnit.Millimetre, 1_270_000)]
    [InlineData("3 um", LengthUnit.Millimetre, 3_000)]
    [InlineData("1/64\"", LengthUnit.Millimetre, 396_875)]
    [InlineData("1 in", LengthUnit.Millimetre, 25_400_000)]
    [InlineData("1/127 in", LengthUnit.Millimetre, 200_000)]
    [InlineData("1/4 mm", LengthUnit.Inch, 250_000)]
    [InlineData(" 0.000001 ", LengthUnit.Millimetre, 1)]
    [InlineData("-2.5", LengthUnit.Millimetre, -2_500_000)]
    [InlineData("-4' 2\"", LengthUnit.Millimetre, -1_270_000_000)]
    [InlineData("10000 m", LengthUnit.Millimetre, 10_000_000_000_000)]
    [InlineData("1¼\"", LengthUnit.Millimetre, 31_750_000)]
    [InlineData("2¾\"", LengthUnit.Millimetre, 69_850_000)]
    [InlineData("⅛\"", LengthUnit.Millimetre, 3_175_000)]
    [InlineData("⅜\"", LengthUnit.Millimetre, 9_525_000)]
    [InlineData("⅝\"", LengthUnit.Millimetre, 15_875_000)]
    [InlineData("⅞\"", LengthUnit.Millimetre, 22_225_000)]
    [InlineData("2 inch", LengthUnit.Millimetre, 50_800_000)]
    [InlineData("2 inches", LengthUnit.Millimetre, 50_800_000)]
    [InlineData("4''", LengthUnit.Millimetre, 101_600_000)]
    [InlineData("2 feet", LengthUnit.Millimetre, 609_600_000)]
    [InlineData("1 foot", LengthUnit.Millimetre, 304_800_000)]
    [InlineData("3 \u00B5m", LengthUnit.Millimetre, 3_000)]
    [InlineData("3 \u03BCm", LengthUnit.Millimetre, 3_000)]
    [InlineData("+2.5", LengthUnit.Millimetre, 2_500_000)]
    [InlineData("4/2\"", LengthUnit.Millimetre, 50_800_000)]
    [InlineData("999999999/999999999 in", LengthUnit.Millimetre, 25_400_000)]
    [InlineData("10000000", LengthUnit.Millimetre, 10_000_000_000_000)]
    public void A_length_is_read_exactly(string text, LengthUnit unit, long nanometres)
    {
        LengthText.TryParse(text, unit, '.', out var length, out var error).Should().BeTrue(error);
        length.Nanometres.Should().Be(nanometres);
        error.Should().BeEmpty();
    }

    [Theory]
    [InlineData("1250,5", 1_250_500_000)]
    [InlineData("12,7 mm", 12_700_000)]
    [InlineData("0,5\"", 12_700_000)]
    public void A_decimal_comma_is_read_when_it_was_declared(string text, long nanometres)
    {
        LengthText.TryParse(text, LengthUnit.Millimetre, ',', out var length, out var error).Should().BeTrue(error);
        length.Nanometres.Should().Be(nanometres);
    }

    [Theory]
    [InlineData("", '.', "missing")]
    [InlineData("abc", '.', "'abc' is not a number")]
    [InlineData("12,7", '.', "write 12.7, or declare decimal_mark = \",\"")]
    [InlineData("12.7", ',', "write 12,7, or declare decimal_mark = \".\"")]
    [InlineData("1 250,5", '.', "write 1250.5, or declare")]
    [InlineData("1 250", '.', "write it without groups: 1250")]
    [InlineData("1 250,5", ',', "write it without groups: 1250,5")]
    [InlineData("1,250.5", '.', "without groups of thousands: 1250.5")]
    [InlineData("1.250,5", '.', "without groups of thousands: 1250.5")]
    [InlineData("1.250,5", ',', "without groups of thousands: 1250,5")]
    [InlineData("1,250,000", '.', "without groups of thousands: 1250000")]
    [InlineData("1'250", '.', "if ' groups thousands, leave it out")]
    [InlineData("1.2.3", '.', "more than one decimal mark")]
    [InlineData("1e3", '.', "not a number")]
    [InlineData("12 inchs", '.', "'inchs' is not a unit of length")]
    [InlineData("5 mil", '.', "write thou for 1/1000 in, or mm")]
    [InlineData("1/2", '.', "write 1/2\" if inches are meant")]
    [InlineData("1/0\"", '.', "divides by zero")]
    [InlineData("1 4/2\"", '.', "not below one")]
    [InlineData("1/3\"", '.', "not a whole number of nanometres; write the nearest, 0.3333 in")]
    [InlineData("0.0000001", '.', "not a whole number of nanometres; write the nearest, 0 mm")]
    [InlineData("1.5' 2\"", '.', "part of a foot")]
    [InlineData("4' 2 mm", '.', "write feet and inches")]
    [InlineData("--5", '.', "not a number")]
    [InlineData("10000.1 m", '.', "longer than 10 km")]
    [InlineData("999999999999999999 m", '.', "longer than 10 km")]
    [InlineData("1000000000000000000000000000000", '.', "too many digits")]
    [InlineData("12\"\"", '.', "not a unit")]
    [InlineData("5 \"in", '.', "not a unit")]
    [InlineData("mm", '.', "not a number")]
    [InlineData("'", '.', "not a number")]
    public void What_cannot_be_read_for_certain_is_refused_with_a_hint(string text, char mark, string says)
    {
        LengthText.TryParse(text, LengthUnit.Millimetre, mark, out var length, out var error).Should().BeFalse();
        error.Should().Contain(says);
        length.Should().Be(Length.Zero);
    }

    [Theory]
    [InlineData("4' 2 mm", "'4' 2 mm' has 'mm' behind the feet; write feet and inches such as 4' 2-1/2\"")]
    [InlineData("1.5' 2\"", "'1.5' 2\"' has a part of a foot and inches; write whole feet and inches such as 4' 2-1/2\"")]
    [InlineData("4' 12\"", "'4' 12\"' has 12 inches or more behind the feet; write fewer than 12 inches behind the feet; if ' groups thousands, leave it out")]
    [InlineData("5 mils", "'5 mils': mil is read in two ways; write thou for 1/1000 in, or mm")]
    [InlineData("12 inchs", "'12 inchs': 'inchs' is not a unit of length; use mm, cm, m, um, in, \", thou, ft or '")]
    [InlineData("1/2", "'1/2' is a fraction without a unit among millimetres; write 1/2\" if inches are meant, or decimals")]
    [InlineData("1/x2\"", "'1/x2' is not a fraction; write a fraction such as 1/2 or 1-1/2")]
    [InlineData("x/2\"", "'x/2' is not a fraction; write a fraction such as 1/2 or 1-1/2")]
    [InlineData("/2\"", "'/2' is not a fraction; write a fraction such as 1/2 or 1-1/2")]
    [InlineData("1/1000000000 in", "'1/1000000000' is not a fraction; write a fraction such as 1/2 or 1-1/2")]
    [InlineData("1/0\"", "'1/0' divides by zero; write a fraction such as 1/2 or 1-1/2")]
    [InlineData("1 2/2\"", "'1 2/2': the fraction behind the whole number is not below one; write it such as 1-1/2")]
    [InlineData("10000.1 m", "'10000.1 m' is longer than 10 km; check the number and its unit")]
    [InlineData("10000001", "'10000001' is longer than 10 km; check the number and its unit")]
    [InlineData("--5", "'-5' is not a number; write a number such as 12.5")]
    [InlineData("'", "'' is not a number; write a number such as 12.5")]
    [InlineData(".", "'.' is not a number; write digits only, such as 12 or 12.5")]
    [InlineData("1/3 mm", "'1/3 mm' is not a whole number of nanometres; write the nearest, 0.333333 mm, if that is meant")]
    [InlineData("1/7'", "'1/7'' is not a whole number of nanometres; write the nearest, 1.7143 in, if that is meant")]
    [InlineData("1/7\"", "'1/7\"' is not a whole number of nanometres; write the nearest, 0.1429 in, if that is meant")]
    [InlineData("1/7 in", "'1/7 in' is not a whole number of nanometres; write the nearest, 0.1429 in, if that is meant")]
    [InlineData("1/7 cm", "'1/7 cm' is not a whole number of nanometres; write the nearest, 1.428571 mm, if that is meant")]
    public void What_is_refused_says_what_is_wrong_and_what_to_write(string text, string error)
    {
        LengthText.TryParse(text, LengthUnit.Millimetre, '.', out _, out var says).Should().BeFalse();
        says.Should().Be(error);
    }

    [Fact]
    public void A_shop_of_inches_is_helped_in_inches()
    {
        LengthText.TryParse("", LengthUnit.Inch, '.', out _, out var error);
        error.Should().Be("the length is missing; write a length such as 1-1/2\"");
        LengthText.TryParse("1/7", LengthUnit.Inch, '.', out _, out error);
        error.Should().Be("'1/7' is not a whole number of nanometres; write the nearest, 0.1429 in, if that is meant");
        LengthText.TryParse("1/7 mm", LengthUnit.Inch, '.', out _, out error);
        error.Should().Be("'1/7 mm' is not a whole number of nanometres; write the nearest, 0.142857 mm, if that is meant");
        var read = LengthText.Read("1", LengthUnit.Inch);
        read.Error.Should().BeEmpty();
        read.Hint.Should().BeEmpty();
    }

    [Fact]
    public void Sixty_signs_are_read_and_no_more()
    {
        LengthText.TryParse("1" + new string(' ', 53) + "1/2 in", LengthUnit.Millimetre, '.', out var length, out _).Should().BeTrue();
        length.Should().Be(Length.FromMillimetres(38.1m));
        LengthText.TryParse("1" + new string(' ', 54) + "1/2 in", LengthUnit.Millimetre, '.', out _, out var error).Should().BeFalse();
        error.Should().Be("'1" + new string(' ', 39) + "…' is too long for a length; write a length such as 12.7");
    }

    [Theory]
    [InlineData("-5", "-5")]
    [InlineData("+5", "5")]
    [InlineData("\u22125.5", "-5.5")]
    [InlineData(" 12 ", "12")]
    [InlineData("123456789012345678", "123456789012345678")]
    [InlineData("1.23456789012345678", "1.23456789012345678")]
    [InlineData("-0.12345678901234567", "-0.12345678901234567")]
    public void A_number_has_a_sign_and_at_most_eighteen_digits(string text, string value) =>
        NumberText.Read(text).Should().Be(new Reading<decimal>(decimal.Parse(value, CultureInfo.InvariantCulture), "", ""));

    [Theory]
    [InlineData("", "the number is missing", "write a number such as 12")]
    [InlineData(" ", "the number is missing", "write a number such as 12")]
    [InlineData("1,5", "'1,5' has a ',', but the decimal mark here is '.'", "write 1.5, or declare decimal_mark = \",\" in the job file")]
    [InlineData("1 5", "'1 5' has a space inside the number", "write it without groups: 15")]
    [InlineData("-1 5", "'-1 5' has a space inside the number", "write it without groups: -15")]
    [InlineData("1 x", "'1 x' is not a number", "write digits only, such as 12 or 12.5")]
    [InlineData("1.2.3", "'1.2.3' has more than one decimal mark", "write one number with at most one decimal mark")]
    [InlineData("1.234567890123456789", "'1.234567890123456789' has too many digits", "write at most 18 digits")]
    [InlineData("1234567890123456789012345678901234567890", "'1234567890123456789012345678901234567890' has too many digits", "write at most 18 digits")]
    [InlineData("12345678901234567890123456789012345678901", "'1234567890123456789012345678901234567890…' has too many digits", "write at most 18 digits")]
    public void What_is_no_number_says_why(string text, string error, string hint) =>
        NumberText.Read(text).Should().Be(new Reading<decimal>(null, error, hint));

    [Fact]
    public void A_job_asks_for_its_format()
    {
        LengthFormat.For(LengthUnit.Millimetre, 16).Should().Be(LengthFormat.Metric);
        LengthFormat.For(LengthUnit.Inch, 16).Text(Length.FromMillimetres(12.7m)).Should().Be("1/2\"");
        LengthFormat.For(LengthUnit.Inch, 16).Text(Length.FromMillimetres(12.7m), withUnit: false).Should().Be("1/2");
        LengthText.FormatWithError(Length.FromNanometres(12_700_000 + 25_400), LengthFormat.For(LengthUnit.Inch, 2)).Should().Be("1/2\" +0.0010\"");
        ((Func<string>)(() => LengthText.Format(Length.Zero, LengthUnit.Inch, 3))).Should().Throw<ArgumentOutOfRangeException>().WithMessage("2, 4, 8, 16, 32 or 64.*");
    }

    [Theory]
    [InlineData(600_075_000, 8, "23 5/8\"", "23 5/8\"")]
    [InlineData(12_700_000, 64, "1/2\"", "1/2\"")]
    [InlineData(25_400_000, 64, "1\"", "1\"")]
    [InlineData(-38_100_000, 16, "-1 1/2\"", "-1 1/2\"")]
    [InlineData(600_000_000, 16, "23 5/8\"", "23 5/8\" -0.0030\"")] // 600 mm = 23.62205 in; own arithmetic
    [InlineData(10_000_000, 64, "25/64\"", "25/64\" +0.0031\"")] // 10 mm = 0.393701 in, 25/64 = 0.390625; own arithmetic
    [InlineData(1_000, 64, "0\"", "0\" +0.0000\"")]
    public void A_fraction_shows_its_rounding_error(long nanometres, int fraction, string text, string withError)
    {
        var length = Length.FromNanometres(nanometres);
        var format = LengthFormat.Inch with { InchFraction = fraction };
        LengthText.Format(length, format).Should().Be(text);
        LengthText.FormatWithError(length, format).Should().Be(withError);
    }

    [Theory]
    [InlineData(12_704_000, "12.7 mm")]
    [InlineData(12_705_000, "12.71 mm")]
    [InlineData(1_250_500_000, "1250.5 mm")]
    [InlineData(-1_000, "0 mm")]
    public void Millimetres_are_rounded_half_away_from_zero(long nanometres, string text) =>
        LengthFormat.Metric.Text(Length.FromNanometres(nanometres)).Should().Be(text);

    private static readonly Gen<Length> GenLength =
        Any.Long[-10_000_000_000_000, 10_000_000_000_000].Select(Length.FromNanometres);

    [Fact]
    public void What_a_format_shows_is_what_is_read_back() =>
        Any.Select(GenLength, Any.Int[0, 6], Any.OneOf(0, 2, 4, 8, 16, 32, 64), Any.Bool).Sample((length, decimals, fraction, metric) =>
        {
            var unit = metric ? LengthUnit.Millimetre : LengthUnit.Inch;
            var format = new LengthFormat(unit, metric ? decimals : Math.Min(decimals, 5), fraction);
            foreach (var withUnit in (bool[])[true, false])
            {
                LengthText.TryParse(LengthText.Format(length, format, withUnit), unit, '.', out var back, out var error)
                    .Should().BeTrue(error);
                back.Should().Be(LengthText.Shown(length, format));
            }
        });

    [Fact]
    public void Exact_millimetres_round_trip() => GenLength.Sample(length =>
        LengthText.TryParse(LengthFormat.ExactMetric.Text(length), LengthUnit.Inch, '.', out var back, out _) && back == length);

    [Fact]
    public void Sixty_fourths_round_trip() => Any.Long[-1_000_000, 1_000_000].Sample(steps =>
    {
        var length = Length.FromNanometres(steps * 396_875);
        LengthText.TryParse(LengthText.Format(length, LengthUnit.Inch, 64), LengthUnit.Millimetre, '.', out var back, out var error)
            .Should().BeTrue(error);
        back.Should().Be(length);
    });

    [Fact]
    public void Any_text_is_read_or_refused_but_never_thrown_at() =>
        Any.Select(Any.String["0123456789 .,-+/'\"mincftk½′″\u00A0e"], Any.Bool, Any.Bool).Sample((text, metric, comma) =>
        {
            var read = LengthText.TryParse(
                text, metric ? LengthUnit.Millimetre : LengthUnit.Inch, comma ? ',' : '.', out _, out var error);
            return read == (error.Length == 0);
        });

    [Fact]
    public void Culture_plays_no_part()
    {
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            LengthText.TryParse("1250.5", LengthUnit.Millimetre, '.', out var length, out _).Should().BeTrue();
            LengthFormat.Metric.Text(length).Should().Be("1250.5 mm");
            LengthFormat.Inch.Text(length).Should().Be("49.2323 in");
            new Mass(1.25m).ToString().Should().Be("1.25 kg");
            MassText.Format(new Mass(0.45359237m), LengthUnit.Inch).Should().Be("1 lb");
            AreaText.Format(Length.FromInches(12) * Length.FromInches(18), LengthUnit.Inch).Should().Be("1.5 ft²");
            MoneyText.Format(Money.FromAmount(1234.5m), "EUR").Should().Be("EUR 1234.50");
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }
}
