using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Bounds;

public sealed class BoundTest
{
    private static Money Amount(decimal amount) => Money.FromAmount(amount);

    [Fact]
    public void None_is_not_zero()
    {
        Bound.None.Value.Should().BeNull();
        Bound.None.Should().NotBe(Bound.Of(Money.Zero, "size"));
        Bound.None.Proves(Money.Zero).Should().BeFalse();
        Bound.None.Contradicts(Amount(-5)).Should().BeFalse();
        Plan.GapOf(Amount(5), Bound.None).Should().BeNull();
    }

    [Fact]
    public void A_bound_may_be_below_zero_and_proves_there_too()
    {
        var bound = Bound.Of(Amount(-3), "size");
        bound.Proves(Amount(-3)).Should().BeTrue();
        bound.Proves(Amount(-2.99m)).Should().BeFalse("a cent lies between");
        Plan.GapOf(Amount(-2), bound).Should().BeNull("a share of a negative amount says nothing");
        Bound.Higher(bound, Bound.None).Should().Be(bound);
        Bound.Higher(Bound.None, bound).Should().Be(bound);
    }

    [Fact]
    public void Above_the_cost_it_is_a_contradiction_and_no_proof()
    {
        var bound = Bound.Of(Amount(10), "size");
        bound.Contradicts(Amount(9.999m)).Should().BeFalse("a tenth of a cent is rounding");
        bound.Contradicts(Amount(9.9989m)).Should().BeTrue();
        bound.Proves(Amount(9.9m)).Should().BeFalse();
        bound.Proves(Amount(9.999m)).Should().BeTrue();
        bound.Proves(Amount(10.0099m)).Should().BeTrue();
        bound.Proves(Amount(10.01m)).Should().BeFalse();
        Plan.GapOf(Amount(9.9m), bound).Should().BeNull();
    }

    [Fact]
    public void The_higher_keeps_its_source_and_the_narrower_scope()
    {
        var linear = Bound.Of(Amount(8), "linear", BoundScope.JobOrMore);
        var whole = Bound.Of(Amount(9), "whole");
        Bound.Higher(linear, whole).Should().Be(whole);
        Bound.Higher(linear, Bound.Of(Amount(7), "whole")).Should().Be(Bound.Of(Amount(8), "linear"), "it is now said of the job only");
        var mixed = () => Bound.Higher(linear, Bound.Of(Amount(9), "part", BoundScope.Component));
        mixed.Should().Throw<ArgumentException>();
    }

    [Fact]
    public void A_sum_with_an_unknown_part_is_unknown()
    {
        var one = Bound.Of(Amount(2), "bars", BoundScope.Component);
        var other = Bound.Of(Amount(-1), "plates", BoundScope.Component);
        Bound.Sum([one, other, one]).Should().Be(Bound.Of(Amount(3), "bars + plates"));
        Bound.Sum([one, Bound.None]).Should().Be(Bound.None);
        Bound.Sum([]).Value.Should().Be(Money.Zero);
    }
}
