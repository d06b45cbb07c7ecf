using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Tests.Check;

/// <summary>The planner's arithmetic of angles (series of sine and cosine) and the checker's (continued fraction of the tangent) agree.</summary>
public sealed class AngledSweepTest
{
    [Fact]
    public void Both_ways_of_reckoning_agree_on_every_angle_in_steps_of_seven_thousandths()
    {
        var kerf = Length.FromMillimetres(2.7m);
        var width = Length.FromMillimetres(83.517m);
        var section = width * Length.FromMillimetres(19.9m);
        for (var thousandths = -75_000; thousandths <= 75_000; thousandths += 7)
        {
            var angle = Angle.FromDegrees(thousandths / 1000m);
            AngledCuts.Taken(angle, kerf, LengthUnit.Millimetre).Should().Be(angle.Taken(kerf, LengthUnit.Millimetre), "{0}", angle);
            AngledCuts.Taken(angle, kerf, LengthUnit.Inch).Should().Be(angle.Taken(kerf, LengthUnit.Inch), "{0}", angle);
            AngledCuts.Slope(angle, width).Should().Be(angle.Slope(width), "{0}", angle);
            AngledCuts.Through(angle, section).Should().Be(angle.Through(section), "{0}", angle);
        }
    }
}
