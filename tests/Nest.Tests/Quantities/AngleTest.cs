using Nest.Core.Quantities;

namespace Nest.Tests.Quantities;

/// <summary>Source of the expected values: the machine's own <c>Math</c>, and the exact cosines and tangents of 45° and 60° (Niven).</summary>
public class AngleTest
{
    [Fact]
    public void What_a_cut_takes_is_rounded_up_and_never_by_a_whole_nanometre()
    {
        foreach (var kerf in (long[])[1, 2_500_000, 3_175_000, 999_999_937])
        {
            for (var thousandths = -75_000; thousandths <= 75_000; thousandths += 271)
            {
                var angle = Angle.FromDegrees(thousandths / 1000m);
                var along = kerf / Math.Cos(thousandths / 1000.0 * Math.PI / 180);
                var slope = Math.Abs(kerf * Math.Tan(thousandths / 1000.0 * Math.PI / 180));

                (angle.Along(Length.FromNanometres(kerf)).Nanometres - along).Should().BeInRange(-1e-4, 1.0001, "{0}", angle);
                (angle.Slope(Length.FromNanometres(kerf)).Nanometres - slope).Should().BeInRange(-1e-4, 1.0001, "{0}", angle);
            }
        }
    }

    [Fact]
    public void Rational_ones_are_exact()
    {
        var kerf = Length.FromMillimetres(2.5m);
        Angle.FromDegrees(60).Along(kerf).Should().Be(Length.FromMillimetres(5));
        Angle.FromDegrees(-45).Slope(kerf).Should().Be(kerf);
        Angle.Square.Along(kerf).Should().Be(kerf);
        Angle.Square.Slope(kerf).Should().Be(Length.Zero);
        Angle.FromDegrees(45).Along(Length.Zero).Should().Be(Length.Zero);

        // √2 × 2 500 000 nm = 3 535 533.9…
        Angle.FromDegrees(45).Along(kerf).Nanometres.Should().Be(3_535_534);
    }

    [Theory]
    [InlineData("75.001"), InlineData("22.5001"), InlineData("-90")]
    public void What_is_no_angle_is_refused(string degrees)
    {
        var value = decimal.Parse(degrees, System.Globalization.CultureInfo.InvariantCulture);
        Angle.IsAngle(value).Should().BeFalse();
        ((Func<Angle>)(() => Angle.FromDegrees(value))).Should().Throw<ArgumentException>();
    }
}
