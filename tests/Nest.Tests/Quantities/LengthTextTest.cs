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
