using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>Components of a job, their kinds of blanks numbered through, and all stock that serves them.</summary>
internal sealed class ExactJob
{
    /// <summary>So many loads that the demand allows are few: all of them may be listed.</summary>
    public const int FewLoads = 1000;

    /// <param name="tied">Whether purchase terms count; else a piece of stock costs its price.</param>
    /// <param name="mostCells">Largest table of a plate.</param>
    public ExactJob(Job job, ImmutableArray<Component> components, bool tied, double mostCells)
    {
        Job = job;
        Components = components;
        MostCells = mostCells;
        IsTied = tied;
        Kinds = [.. components.Select(component => new BlankKinds(component))];
        var first = new int[components.Length];
        var sources = ImmutableArray.CreateBuilder<LoadSource>();
        var demand = new List<int>();
        for (var c = 0; c < components.Length; c++)
        {
            first[c] = demand.Count;
            demand.AddRange(Kinds[c].Demand);
            for (var s = 0; s < components[c].Stocks.Length; s++)
            {
                if (components[c].Stocks[s].Stock.Available != 0)
                {
                    sources.Add(Source(c, s, sources.Count, mostCells));
                }
            }
        }

        FirstKind = first;
        Demand = [.. demand];
        Sources = sources.ToImmutable();
        IsValid = Sources.All(source => source.Frame.IsBar || source.CanList || source.Kinds.Component.LowerCosts.Valid);
    }

    public Job Job { get; }

    public ImmutableArray<Component> Components { get; }

    public bool IsTied { get; }

    /// <summary>Cells of the largest table.</summary>
    public double MostCells { get; }

    /// <summary>So many loads the demand allows: with few of them all may be listed at once.</summary>
    public double LoadsByDemand => LoadsOf(Demand);

    /// <inheritdoc cref="LoadsByDemand"/>
    public bool HasFewLoads => LoadsByDemand <= FewLoads;

    public ImmutableArray<BlankKinds> Kinds { get; }

    /// <summary>Number of the first kind of each component.</summary>
    public int[] FirstKind { get; }

    /// <summary>Pieces of each kind, by number.</summary>
    public int[] Demand { get; }

    public ImmutableArray<LoadSource> Sources { get; }

    /// <summary>False: of some stock no cost below all layouts is known.</summary>
    public bool IsValid { get; }

    /// <summary>The part of values that is for the kinds of a source's component.</summary>
    public ReadOnlySpan<int> ValuesOf(int[] values, LoadSource source) =>
        values.AsSpan(FirstKind[source.ComponentIndex], source.Kinds.Count);

    /// <summary>Counts of stock for traces, and as a key; those cut to size left out.</summary>
    public string TextOf(int[] counts) =>
        string.Join(' ', counts.Select((n, s) => (n, s)).Where(entry => entry.n > 0 && !Sources[entry.s].IsSingle).Select(entry => $"{entry.s}×{entry.n}"));

    /// <summary>Pieces of each stock in a plan by component, by source.</summary>
    public int[] CountsOf(IReadOnlyList<Chosen> plan) =>
        [.. Sources.Select(source => plan[source.ComponentIndex].Columns.Where(entry => entry.Column.Stock == source.StockIndex).Sum(entry => entry.Count))];

    /// <summary>How many loads a demand allows: any number of each kind, up to all.</summary>
    public static double LoadsOf(IEnumerable<int> demand) => demand.Aggregate(1.0, (product, pieces) => product * (pieces + 1));

    /// <summary>Most pieces of this stock that a plan can use: each holds a blank at least.</summary>
    public static int MostOf(LoadSource source)
    {
        var pieces = 0;
        for (var k = 0; k < source.Kinds.Count; k++)
        {
            pieces += source.Kinds.Component.Fits[source.StockIndex, source.Kinds.Members[k][0]] is null ? 0 : source.Kinds.Demand[k];
        }

        return Math.Min(pieces, source.Limit ?? int.MaxValue);
    }

    private LoadSource Source(int c, int s, int number, double mostCells)
    {
        var stock = Components[c].Stocks[s].Stock;
        var source = Components[c].Stocks[s].IsBar
            ? new BarLoads(Kinds[c], c, s, number)
            : (LoadSource?)PlateLoads.Of(Kinds[c], c, s, number, mostCells) ?? new RelaxedLoads(Kinds[c], c, s, number);
        source.Price = (IsTied ? stock.Terms.LowestPrice(stock.PiecePrice) : stock.PiecePrice).Units * Grain.PerUnit;
        return source;
    }
}
