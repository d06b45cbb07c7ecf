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

    [Fact]
    public void Sources_of_a_sum_stand_by_how_often_they_occur_then_by_name()
    {
        var bars = Bound.Of(Amount(2), "bars", BoundScope.Component);
        var plates = Bound.Of(Amount(1), "plates", BoundScope.Component);
        Bound.Sum([bars, plates, plates]).Source.Should().Be("plates + bars");
        Bound.Sum([plates, bars]).Source.Should().Be("bars + plates");
        Bound.Sum([plates, bars]).Scope.Should().Be(BoundScope.Job);
        Bound.Sum([]).Source.Should().Be("nothing to cut");
        Bound.Sum([]).IsKnown.Should().BeTrue();
    }

    [Fact]
    public void Amounts_are_taken_off_and_put_on_and_none_stays_none()
    {
        var bound = Bound.Of(Amount(8), "size", BoundScope.JobOrMore);
        bound.Less(Amount(3)).Should().Be(Bound.Of(Amount(5), "size", BoundScope.JobOrMore));
        bound.Plus(Amount(3), "loading").Should().Be(Bound.Of(Amount(11), "size + loading", BoundScope.JobOrMore));
        bound.Plus(Money.Zero, "loading").Should().Be(bound, "what adds nothing is not named");
        bound.ForJob().Should().Be(Bound.Of(Amount(8), "size"));
        Bound.None.Less(Amount(3)).Should().Be(Bound.None);
        Bound.None.Plus(Amount(3), "loading").Should().Be(Bound.None);
        Bound.None.ForJob().Should().Be(Bound.None);
        Bound.None.Source.Should().BeEmpty();
    }

    [Fact]
    public void Of_equal_bounds_the_first_is_taken_and_parts_are_compared_with_parts()
    {
        var first = Bound.Of(Amount(8), "first");
        Bound.Higher(first, Bound.Of(Amount(8), "second")).Should().Be(first);
        var small = Bound.Of(Amount(1), "a", BoundScope.Component);
        var large = Bound.Of(Amount(2), "b", BoundScope.Component);
        Bound.Higher(small, large).Should().Be(large);
        Bound.Higher(Bound.Of(Amount(1), "a", BoundScope.JobOrMore), Bound.Of(Amount(2), "b", BoundScope.JobOrMore)).Scope.Should().Be(BoundScope.JobOrMore);
        var mixed = () => Bound.Higher(small, first);
        mixed.Should().Throw<ArgumentException>().WithMessage("A bound of a component is none of the whole job.");
    }

    [Fact]
    public void A_bound_has_a_source_and_is_shown_with_it()
    {
        var nameless = () => Bound.Of(Amount(1), "");
        nameless.Should().Throw<ArgumentException>();
        Bound.Of(Amount(1.5m), "size").ToString().Should().Be("1.50 (size)");
        Bound.None.ToString().Should().Be("none");
        Bound.Rounding.Should().Be(Amount(0.001m));
    }
}
