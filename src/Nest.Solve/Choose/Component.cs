using System.Collections.Concurrent;
using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;

namespace Nest.Solve.Choose;

/// <summary>Blanks and stocks that touch each other and nothing else: a problem of its own. Sizes are whole units: the component's
/// lengths divided by their greatest common divisor, exactly.</summary>
internal sealed class Component
{
    public required Job Job { get; init; }

    /// <summary>Indices of the blanks in the job.</summary>
    public required ImmutableArray<int> BlankIndices { get; init; }

    public required ImmutableArray<Blank> Blanks { get; init; }

    public required ImmutableArray<StockFrame> Stocks { get; init; }

    /// <summary>Nanometres per unit of length.</summary>
    public required long Unit { get; init; }

    /// <summary>How blank i comes out of stock s ([s, i]); null: it does not.</summary>
    public required BlankFit?[,] Fits { get; init; }

    /// <summary>Stocks that one kernel solves together; every stock is in exactly one group.</summary>
    public required ImmutableArray<StockGroup> Groups { get; init; }

    /// <summary>Cost units by which a plan may miss its bound and still count as proven: all components together stay below a cent.</summary>
    public long Enough { get; init; } = 1;

    /// <summary>What <see cref="BlockLayouts"/> made of a plate's pieces, by column key; null: nothing.</summary>
    public ConcurrentDictionary<string, Column?> Blocks { get; } = new(StringComparer.Ordinal);

    public int Items => Blanks.Length;

    /// <summary>Pieces of each blank.</summary>
    public ImmutableArray<int> Demand => [.. Blanks.Select(blank => blank.Demand)];

    /// <summary>The linear cost below every layout's cost, from which bounds are made.</summary>
    public LowerCosts LowerCosts => _lowerCosts ??= new(this);

    private LowerCosts? _lowerCosts;

    /// <summary>What ties the stocks of a part together.</summary>
    public SizeGroups Sizes => _sizes ??= new(this);

    private SizeGroups? _sizes;

    /// <summary>Exact number of units.</summary>
    public long Units(Core.Quantities.Length length)
    {
        var (units, rest) = Math.DivRem(length.Nanometres, Unit);
        return rest == 0 ? units : throw new InvalidOperationException("A length is not a whole number of units.");
    }

    public long SizeX(int stock, int item) => Fits[stock, item] is { } fit ? Units(fit.SizeX) : 0;

    public long SizeY(int stock, int item) => Fits[stock, item] is { } fit ? Units(fit.SizeY) : 0;
}

/// <summary>Stocks cut by the same machine on which each blank has the same size, so that one kernel can solve them together.</summary>
/// <param name="IsBar">Bars, else plates.</param>
/// <param name="Stocks">Indices in the component.</param>
internal sealed record StockGroup(bool IsBar, ImmutableArray<int> Stocks);
