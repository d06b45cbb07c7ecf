using Nest.Core.Quantities;

namespace Nest.Tests.Quantities;

/// <summary>Sums, order and units of the values. Source: 1 in = 25.4 mm and 1 lb = 0.45359237 kg exactly (international yard and pound
/// agreement, 1959); the rest is worked out by hand.</summary>
public class ValuesTest
{
    private static readonly Length Two = Length.FromNanometres(2);
    private static readonly Length Five = Length.FromNanometres(5);

    [Fact]
    public void Lengths_keep_their_units()
    {
        Length.FromMillimetres(1.000001m).Nanometres.Should().Be(1_000_001);
        Length.FromInches(0.015625m).Nanometres.Should().Be(396_875, "that is 1/64 in");
        var half = Length.FromInches(0.5m);
        half.ToMillimetres().Should().Be(12.7m);
        half.ToInches().Should().Be(0.5m);
        half.ToMetres().Should().Be(0.0127m);
        half.ToString().Should().Be("12.7 mm");
        ((Func<Length>)(() => Length.FromMillimetres(0.0000001m))).Should().Throw<ArgumentException>().WithMessage("Not a whole number of nanometres.*")
            .Which.ParamName.Should().Be("value");
        ((Func<Length>)(() => Length.FromInches(1m / 3m))).Should().Throw<ArgumentException>();
    }

    [Fact]
    public void Lengths_add_and_multiply()
    {
        (Two + Five).Nanometres.Should().Be(7);
        (Two - Five).Nanometres.Should().Be(-3);
        (-Five).Nanometres.Should().Be(-5);
        (Five * 3).Nanometres.Should().Be(15);
        (3 * Five).Nanometres.Should().Be(15);
        (Two * Five).SquareNanometres.Should().Be(10);
        Length.Min(Two, Five).Should().Be(Two);
        Length.Min(Five, Two).Should().Be(Two);
        Length.Max(Two, Five).Should().Be(Five);
        Length.Max(Five, Two).Should().Be(Five);
    }

    [Fact]
    public void What_does_not_fit_throws_and_never_wraps()
    {
        var most = Length.MaxValue;
        ((Func<Length>)(() => most + Two)).Should().Throw<OverflowException>();
        ((Func<Length>)(() => -most - Two)).Should().Throw<OverflowException>();
        ((Func<Length>)(() => -Length.FromNanometres(long.MinValue))).Should().Throw<OverflowException>();
        ((Func<Length>)(() => most * 2)).Should().Throw<OverflowException>();
        (most * most).SquareNanometres.Should().Be((Int128)long.MaxValue * long.MaxValue, "areas have 128 bits");

        var amount = Money.FromUnits(long.MaxValue);
        ((Func<Money>)(() => amount + Money.FromUnits(1))).Should().Throw<OverflowException>();
        ((Func<Money>)(() => Money.FromUnits(long.MinValue) - Money.FromUnits(1))).Should().Throw<OverflowException>();
        ((Func<Money>)(() => amount * 2)).Should().Throw<OverflowException>();

        var area = Area.FromSquareNanometres(Int128.MaxValue);
        ((Func<Area>)(() => area + Area.FromSquareNanometres(1))).Should().Throw<OverflowException>();
        ((Func<Area>)(() => Area.FromSquareNanometres(Int128.MinValue) - Area.FromSquareNanometres(1))).Should().Throw<OverflowException>();
        ((Func<Area>)(() => area * 2)).Should().Throw<OverflowException>();
    }

    [Fact]
    public void Order_tells_less_equal_and_more_apart()
    {
        Ordered(Two, Five, (a, b) => a < b, (a, b) => a > b, (a, b) => a <= b, (a, b) => a >= b);
        Ordered(Money.FromUnits(2), Money.FromUnits(5), (a, b) => a < b, (a, b) => a > b, (a, b) => a <= b, (a, b) => a >= b);
        Ordered(Two * Two, Two * Five, (a, b) => a < b, (a, b) => a > b, (a, b) => a <= b, (a, b) => a >= b);
        Ordered(new Mass(2), new Mass(5), (a, b) => a < b, (a, b) => a > b, (a, b) => a <= b, (a, b) => a >= b);
        Ordered(Angle.FromDegrees(-2), Angle.FromDegrees(1.5m), (a, b) => a < b, (a, b) => a > b, (a, b) => a <= b, (a, b) => a >= b);
    }

    [Fact]
    public void Money_is_rounded_once_and_shown_to_the_cent()
    {
        Money.FromAmount(0.00005m).Units.Should().Be(1, "half is rounded away from zero");
        Money.FromAmount(-0.00005m).Units.Should().Be(-1);
        Money.FromAmount(0.00004m).Units.Should().Be(0);
        Money.FromAmountDown(0.00019m).Units.Should().Be(1);
        Money.FromAmountDown(-0.00001m).Units.Should().Be(-1, "down is down on both sides of zero");
        Money.FromUnits(12_345).Amount.Should().Be(1.2345m);
        Money.FromUnits(12_350).ToString().Should().Be("1.24", "half a cent is rounded away from zero");
        Money.FromUnits(-12_350).ToString().Should().Be("-1.24");
        (Money.FromUnits(2) + Money.FromUnits(5)).Units.Should().Be(7);
        (Money.FromUnits(2) - Money.FromUnits(5)).Units.Should().Be(-3);
        (Money.FromUnits(5) * 3).Units.Should().Be(15);
        Money.Max(Money.FromUnits(2), Money.FromUnits(5)).Units.Should().Be(5);
        Money.Max(Money.FromUnits(5), Money.FromUnits(2)).Units.Should().Be(5);
        Money.Min(Money.FromUnits(2), Money.FromUnits(5)).Units.Should().Be(2);
        Money.Min(Money.FromUnits(5), Money.FromUnits(2)).Units.Should().Be(2);
    }

    [Fact]
    public void Areas_keep_their_units()
    {
        var table = Length.FromMillimetres(2000) * Length.FromMillimetres(1000);
        table.ToSquareMetres().Should().Be(2m);
        table.ToSquareCentimetres().Should().Be(20_000m);
        table.ToSquareMillimetres().Should().Be(2_000_000m);
        table.ShareOf(table * 4).Should().Be(0.25m);
        (table + table).Should().Be(table * 2);
        (table * 3 - table).Should().Be(table * 2);
    }

    [Fact]
    public void A_mass_is_section_times_length_times_density()
    {
        // 10 × 20 mm × 3 m of steel at 7 850 kg/m³: 0.0002 m² × 3 m × 7 850 = 4.71 kg. Density: EN 10025 rounded as in section tables, from memory.
        var mass = Mass.Of(Length.FromMillimetres(10) * Length.FromMillimetres(20), Length.FromMillimetres(3000), 7850m);
        mass.Kilograms.Should().Be(4.71m);
        (mass + mass).Should().Be(mass * 2);
        (mass * 3 - mass).Should().Be(mass * 2);
        new Mass(0.90718474m).ToPounds().Should().Be(2m);
        mass.ToString().Should().Be("4.71 kg");
    }

    [Theory]
    [InlineData("0.0005", LengthUnit.Millimetre, "0.001 kg")]
    [InlineData("9.9994", LengthUnit.Millimetre, "9.999 kg")]
    [InlineData("10", LengthUnit.Millimetre, "10 kg")]
    [InlineData("1.5004", LengthUnit.Millimetre, "1.5 kg")]
    [InlineData("10.25", LengthUnit.Millimetre, "10.3 kg")]
    [InlineData("-10.25", LengthUnit.Millimetre, "-10.3 kg")]
    [InlineData("4.5359237", LengthUnit.Inch, "10 lb")]
    [InlineData("0.045359237", LengthUnit.Inch, "0.1 lb")]
    public void A_mass_is_shown_with_three_decimals_below_ten_and_with_one_above(string kilograms, LengthUnit shop, string text) =>
        MassText.Format(new Mass(decimal.Parse(kilograms, System.Globalization.CultureInfo.InvariantCulture)), shop).Should().Be(text);

    [Fact]
    public void Areas_are_shown_in_the_units_of_the_shop()
    {
        AreaText.Format(Length.FromMillimetres(1500) * Length.FromMillimetres(1), LengthUnit.Millimetre).Should().Be("0.002 m²", "half is rounded away from zero");
        AreaText.Format(Length.FromMillimetres(2500.4m) * Length.FromMillimetres(1000), LengthUnit.Millimetre).Should().Be("2.5 m²");
        AreaText.Format(Length.FromInches(12) * Length.FromInches(6), LengthUnit.Inch).Should().Be("0.5 ft²");
        MoneyText.Format(Money.FromUnits(12_300), "USD").Should().Be("USD 1.23");
    }

    [Fact]
    public void What_a_cut_takes_is_rounded_up_to_what_a_person_sets()
    {
        // 2.5 mm ÷ cos 45° = 3.535534 mm; 0.1 in ÷ cos 60° = 0.2 in.
        Angle.FromDegrees(45).Taken(Length.FromMillimetres(2.5m), LengthUnit.Millimetre).Should().Be(Length.FromMillimetres(3.54m));
        Angle.FromDegrees(-60).Taken(Length.FromInches(0.1m), LengthUnit.Inch).Should().Be(Length.FromInches(0.2m));
        Angle.RoundUp(Length.FromMillimetres(1.23m), LengthUnit.Millimetre).Should().Be(Length.FromMillimetres(1.23m), "what is even stays");
        Angle.RoundUp(Length.FromNanometres(1), LengthUnit.Millimetre).Should().Be(Length.FromMillimetres(0.01m));
        Angle.RoundUp(Length.FromNanometres(1), LengthUnit.Inch).Should().Be(Length.FromInches(0.001m));
        Angle.RoundUp(Length.FromNanometres(25_401), LengthUnit.Inch).Should().Be(Length.FromInches(0.002m));
    }

    [Fact]
    public void A_cut_at_sixty_degrees_goes_through_twice_the_section()
    {
        var section = Length.FromMillimetres(20) * Length.FromMillimetres(10);
        Angle.FromDegrees(60).Through(section).Should().Be(section * 2);
        Angle.Square.Through(section).Should().Be(section);
        Angle.FromDegrees(60).Slope(Length.Zero).Should().Be(Length.Zero);

        // tan 60° = √3 = 1.7320508075688772…, so 10 mm lean by 17 320 508.07 nm; rounded up.
        Angle.FromDegrees(60).Slope(Length.FromMillimetres(10)).Nanometres.Should().Be(17_320_509);

        // 1 ÷ cos 75° = 3.8637033051562732…
        Angle.Steepest.Along(Length.FromMillimetres(10)).Nanometres.Should().Be(38_637_034);
    }

    [Fact]
    public void An_angle_keeps_three_decimals_and_its_side()
    {
        var angle = Angle.FromDegrees(-35.264m);
        angle.Thousandths.Should().Be(-35_264);
        angle.Size.Thousandths.Should().Be(35_264);
        angle.ToDegrees().Should().Be(-35.264m);
        angle.ToString().Should().Be("-35.264°");
        angle.IsSquare.Should().BeFalse();
        Angle.Square.IsSquare.Should().BeTrue();
        Angle.IsAngle(75m).Should().BeTrue();
        Angle.IsAngle(-75m).Should().BeTrue();
        ((Func<Angle>)(() => Angle.FromDegrees(80))).Should().Throw<ArgumentException>().WithMessage("80 is no angle from square of at most three decimals.*");
    }

    private static void Ordered<T>(T low, T high, Func<T, T, bool> less, Func<T, T, bool> more, Func<T, T, bool> atMost, Func<T, T, bool> atLeast)
        where T : IComparable<T>
    {
        (less(low, high), less(low, low), less(high, low)).Should().Be((true, false, false));
        (more(low, high), more(low, low), more(high, low)).Should().Be((false, false, true));
        (atMost(low, high), atMost(low, low), atMost(high, low)).Should().Be((true, true, false));
        (atLeast(low, high), atLeast(low, low), atLeast(high, low)).Should().Be((false, true, true));
        low.CompareTo(high).Should().BeNegative();
        high.CompareTo(low).Should().BePositive();
        low.CompareTo(low).Should().Be(0);
    }
}
