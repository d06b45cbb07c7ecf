using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Tests.Check;

/// <summary>The planner's arithmetic of angles (series of sine and cosine) and the checker's (continued fraction of the tangent) agree.</summary>
public sealed class AngledCutsTest
{
    /// <summary>A sample that mutation testing can afford; <c>AngledSweepTest</c> tries 21 000 angles. Steep, flat, in whole and in broken degrees, both signs.</summary>
    [Fact]
    public void Both_ways_of_reckoning_agree_on_a_sample_of_angles()
    {
        var kerf = Length.FromMillimetres(2.7m);
        var width = Length.FromMillimetres(83.517m);
        var section = width * Length.FromMillimetres(19.9m);
        foreach (var degrees in new[] { -75m, -45, -22.5m, -0.001m, 0, 0.001m, 1, 7.007m, 30, 44.999m, 45, 45.001m, 59.5m, 60, 74.993m, 75 })
        {
            var angle = Angle.FromDegrees(degrees);
            AngledCuts.Taken(angle, kerf, LengthUnit.Millimetre).Should().Be(angle.Taken(kerf, LengthUnit.Millimetre), "{0}", angle);
            AngledCuts.Taken(angle, kerf, LengthUnit.Inch).Should().Be(angle.Taken(kerf, LengthUnit.Inch), "{0}", angle);
            AngledCuts.Slope(angle, width).Should().Be(angle.Slope(width), "{0}", angle);
            AngledCuts.Through(angle, section).Should().Be(angle.Through(section), "{0}", angle);
        }
    }

    /// <summary>By hand: tan 45° = 1, cos 60° = ½, and tan 30° = 1 ÷ √3 = 0.577350269…</summary>
    [Fact]
    public void Angles_that_a_hand_can_check()
    {
        AngledCuts.Slope(Angle.FromDegrees(45), Length.FromMillimetres(40)).Should().Be(Length.FromMillimetres(40));
        AngledCuts.Taken(Angle.FromDegrees(60), Length.FromMillimetres(2), LengthUnit.Millimetre).Should().Be(Length.FromMillimetres(4));
        AngledCuts.Slope(Angle.FromDegrees(30), Length.FromMillimetres(1)).Should().Be(Length.FromMillimetres(0.577351m));
    }

    [Theory]
    [InlineData(45, 45, 20)]
    [InlineData(45, -45, 60)]
    [InlineData(-45, -45, 20)]
    [InlineData(0, 45, 60)]
    public void The_shorter_edge_from_the_corners(int start, int end, int expected)
    {
        // A part 100 long and 40 wide: each 45° end takes 40 from one edge.
        var part = TestShop.Flat("p", 100, 40, 10);
        var ends = new EndAngles(Angle.FromDegrees(start), Angle.FromDegrees(end));
        AngledCuts.ShortEdge(ends, part).Should().Be(Length.FromMillimetres(expected)).And.Be(ends.ShortEdge(part));
    }

    /// <summary>By hand: across the thickness of 10 an end of 45° takes 10, across the width of 40 it takes 40.</summary>
    [Theory]
    [InlineData(true, 80), InlineData(false, 20)]
    public void Ends_lean_across_thickness_or_width(bool acrossThickness, int expected)
    {
        var ends = new EndAngles(Angle.FromDegrees(45), Angle.FromDegrees(45), acrossThickness);
        AngledCuts.ShortEdge(ends, TestShop.Flat("p", 100, 40, 10)).Should().Be(Length.FromMillimetres(expected));
    }
}
