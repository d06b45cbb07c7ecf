using Nest.Fuzz.Tables;

namespace Nest.Tests.Intake;

/// <summary>Made tables by a seed; the long run is <c>Nest.Fuzz tables</c>.</summary>
public sealed class MadeTablesTest
{
    [Fact]
    public void No_made_table_ends_in_an_exception_or_gives_an_impossible_part()
    {
        var run = new TableRun();
        for (var seed = 0; seed < 1800; seed++)
        {
            var kind = (TableKind)(seed % 3);
            var (name, bytes) = new TableMutations(seed).Next(kind);
            run.Fault(name, bytes, kind).Should().BeNull("{0} of seed {1}", kind, seed);
        }

        // A run in which nothing is read, or nothing refused, would show nothing.
        run.Read.Should().BeGreaterThan(100);
        run.Refused.Should().BeGreaterThan(100);
    }
}
