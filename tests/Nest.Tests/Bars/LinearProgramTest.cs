using Nest.Solve.Bars;

namespace Nest.Tests.Bars;

/// <summary>The linear programme of bars, worked by hand: pieces at 3 from a layout with one, at 5 from a layout with two.</summary>
public class LinearProgramTest
{
    /// <summary>Four pieces: two layouts of two at 5 cost 10. No more than one of these: it is 5 + 2 · 3 = 11, and a row's dual is what one more would change: 3 a piece, −1 a layout.</summary>
    [Fact]
    public void Rows_that_come_later_are_worth_nothing_until_it_is_solved_again()
    {
        using var program = new LinearProgram([RowSense.AtLeast], [4], [100]);
        program.AddColumn([0], [1], 3);
        int two = program.AddColumn([0], [2], 5);
        program.Solve(60).Should().BeTrue();
        program.Objective.Should().BeApproximately(10, 1e-6);

        program.AddRows([(RowSense.AtMost, 1, column => column == two ? 1 : 0)]);
        program.Dual.ToArray().Should().HaveCount(2, "the time may be over before it is solved again").And.Subject.Last().Should().Be(0);

        program.Solve(60).Should().BeTrue();
        program.Objective.Should().BeApproximately(11, 1e-6);
        program.Dual[0].Should().BeApproximately(3, 1e-6);
        program.Dual[1].Should().BeApproximately(-1, 1e-6);
        program.Switch(two, true);
        program.Solve(60).Should().BeTrue();
        program.Objective.Should().BeApproximately(12, 1e-6, "all of them singly");
    }
}
