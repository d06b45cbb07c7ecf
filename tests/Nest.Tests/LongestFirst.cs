using Xunit.Abstractions;

[assembly: TestCollectionOrderer("Nest.Tests.LongestFirst", "Nest.Tests")]

namespace Nest.Tests;

/// <summary>Begins the classes that take longest before all others: one that is begun last has a core for itself and the other waits.</summary>
public sealed class LongestFirst : ITestCollectionOrderer
{
    // Measured; a class that is not named here comes in its turn.
    private static readonly string[] Long =
    [
        nameof(Choose.PlatesAndBarsTest), nameof(Choose.SolverTests), nameof(Rack.StressTest), nameof(Bars.BarLawTests), nameof(Desk.DeskSafetyTest), nameof(Bounds.CasesAloneTest), nameof(Bounds.SettingTermsTest),
        nameof(Data.BadFilesTest), nameof(Bars.BarPublishedTests), nameof(Choose.FirstBoundsTest), nameof(Output.OutputFolderTest), nameof(Exact.ProvenPlansTest), nameof(Choose.LotsTest),
    ];

    public IEnumerable<ITestCollection> OrderTestCollections(IEnumerable<ITestCollection> testCollections) => testCollections.OrderBy(collection =>
        Array.FindIndex(Long, name => collection.DisplayName.EndsWith("." + name, StringComparison.Ordinal)) is >= 0 and var at ? at : Long.Length);
}
