using Nest.Solve.Exact;

namespace Nest.Tests.Exact;

public sealed class LoadTest
{
    /// <summary>Else what is known of a load of one component would be taken for one of another.</summary>
    [Fact]
    public void A_load_of_another_stock_has_another_key() => (new Load(0, [1, 2], 0, null, false) with { Stock = 3 }).Key.Should().Be("3:1,2");
}
