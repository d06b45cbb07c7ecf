using Nest.Fuzz.Tables;

namespace Nest.Tests.Intake;

/// <summary>Made tables by a seed; the long run is <c>Nest.Fuzz tables</c>.</summary>
public sealed class MadeTablesTest
{
    [Fact]
    public void No_made_table_ends_in_an_exception_or_gives_an_impossible_part()
    {
        var run = new TableRun();
        for (var seed = 0; seed < 1500; seed++)
        {
            var (name, bytes) = new TableMutations(seed).Next();
            run.Fault(name, bytes).Should().BeNull("seed {0}", seed);
        }

        // A run in which nothing is read, or nothing refused, would show nothing.
        run.Read.Should().BeGreaterThan(100);
        run.Refused.Should().BeGreaterThan(100);
    }
}
