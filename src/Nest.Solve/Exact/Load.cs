using System.Collections.Immutable;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>What is cut from one piece of stock: pieces of each kind, and what that costs at least beside the stock's price.</summary>
/// <param name="Stock">Index of the stock in the job.</param>
/// <param name="Counts">By kind of the stock's own component.</param>
/// <param name="Cost">In grains: fixed cost, cuts and facing less what rests are worth; never above the true cost.</param>
/// <param name="Tree">How a plate is divided, items being kinds; null: a bar, or not known.</param>
/// <param name="Real">False: it stands for a bound only, as some rule of the saw or damage was not looked at.</param>
internal sealed record Load(int Stock, ImmutableArray<int> Counts, long Cost, PlateNode? Tree, bool Real)
{
    /// <summary>Whether nothing but a bound on its cost is known (<see cref="FewLoads.ByValues"/>).</summary>
    public bool IsBare { get; init; }

    /// <summary>Whether it was listed in coarser units (<see cref="CoarsePlate"/>), as one whose cost is a bound.</summary>
    public bool IsCoarse { get; init; }

    /// <summary>Whether it has a tree that obeys every rule.</summary>
    public bool HasLayout => Tree is not null && Real;

    /// <summary>Stock and pieces: worked out each time, as a load of a part becomes one of the whole job, with another number of its stock.</summary>
    public string Key => $"{Stock}:{string.Join(',', Counts)}";
}
