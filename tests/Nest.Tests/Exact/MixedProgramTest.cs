using FluentAssertions;
using Nest.Solve.Exact;

namespace Nest.Tests.Exact;

/// <summary>A programme that is broken off before it has a solution says nothing, neither a bound nor that there is none.</summary>
/// <remarks>Market split programmes (Cornuéjols, Dawande 1999; the rule of making them from memory): a few equations with random coefficients, which no rounding solves. These have a solution,
/// as their right sides are made from one.</remarks>
public sealed class MixedProgramTest
{
    private const int Rows = 4;
    private const int Columns = 30;

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(20)]
    [InlineData(200)]
    public void With_few_nodes_it_says_nothing(long nodes)
    {
        using var program = Split();

        var answer = program.Minimize(new(double.MaxValue, nodes, default));

        answer.Found.Should().BeFalse("else this test asks nothing");
        answer.Closed.Should().BeFalse();
        answer.Bound.Should().Be(double.NegativeInfinity);
    }

    [Fact]
    public void Stopped_by_its_user_it_says_nothing()
    {
        using var program = Split();
        using var stop = new CancellationTokenSource();
        stop.CancelAfter(200);

        var answer = program.Minimize(new(100, null, stop.Token));

        answer.Found.Should().BeFalse("else this test asks nothing");
        answer.Closed.Should().BeFalse();
        answer.Bound.Should().Be(double.NegativeInfinity);
    }

    [Fact]
    public void Broken_off_before_its_relaxation_is_solved_it_has_a_solution_but_no_bound()
    {
        using var program = new MixedProgram();
        var random = new Random(1);
        var use = Enumerable.Range(0, Columns).Select(_ => program.Solver.MakeIntVar(0, 9, "")).ToArray();
        for (var r = 0; r < Rows; r++)
        {
            var row = program.Solver.MakeConstraint(50, double.PositiveInfinity);
            foreach (var variable in use)
            {
                row.SetCoefficient(variable, random.Next(1, 9));
                program.Solver.Objective().SetCoefficient(variable, random.Next(1, 99));
            }
        }

        var answer = program.Minimize(new(double.MaxValue, 0, default));

        answer.Found.Should().BeTrue("all at their most is one, else this test asks nothing");
        answer.Closed.Should().BeFalse();
        answer.Bound.Should().Be(double.NegativeInfinity);
    }

    [Fact]
    public void Where_there_is_no_solution_it_says_so()
    {
        using var program = new MixedProgram();
        var one = program.Solver.MakeIntVar(0, 10, "");
        program.Solver.MakeConstraint(1, 1).SetCoefficient(one, 2);

        var answer = program.Minimize(new(double.MaxValue, 100, default));

        answer.Found.Should().BeFalse();
        answer.Closed.Should().BeTrue();
        answer.Bound.Should().Be(double.PositiveInfinity);
    }

    private static MixedProgram Split()
    {
        var random = new Random(1);
        var program = new MixedProgram();
        var use = Enumerable.Range(0, Columns).Select(_ => program.Solver.MakeIntVar(0, 1, "")).ToArray();
        var hidden = use.Select(_ => random.Next(2)).ToArray();
        for (var r = 0; r < Rows; r++)
        {
            var factors = use.Select(_ => random.Next(100)).ToArray();
            var sum = factors.Zip(hidden, (factor, taken) => factor * taken).Sum();
            var row = program.Solver.MakeConstraint(sum, sum);
            for (var c = 0; c < use.Length; c++)
            {
                row.SetCoefficient(use[c], factors[c]);
                program.Solver.Objective().SetCoefficient(use[c], 1 + c);
            }
        }

        return program;
    }
}
