using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Plans;

/// <summary>Pieces of a part that could not be planned, and why.</summary>
public sealed record Unplaced(string PartId, int Count, string Reason);

/// <summary>Share of the plan's cost that one part bears; the parts' totals add up to the plan's total exactly.</summary>
/// <param name="Pieces">Blanks that the plan cuts, extra ones included, free spares not.</param>
/// <param name="Metal">Its share of metal less credits: each layout's metal, less what its offcuts and scrap give back, is shared
/// by the area (length on bars) of the blanks cut from it; purchase terms and pieces bought whole for the rack are shared by the
/// listed price of the bought stock it is cut from.</param>
/// <param name="Saw">Its share of the saw cost of the layouts it is cut from, their settings included, shared in the same way.</param>
/// <param name="Facing">Its own facing, and what further sizes of its blanks cost at the mill.</param>
public sealed record PartCost(string PartId, int Pieces, Money Metal, Money Saw, Money Facing)
{
    public Money Total => Metal + Saw + Facing;
}

/// <summary>A complete answer to a job: what to cut from what, its cost, and how close to the cheapest it is proven to be.</summary>
public sealed record Plan
{
    /// <summary>The job as it was read; a plan file can be checked from itself alone.</summary>
    public required Job Job { get; init; }

    public required SolveStatus Status { get; init; }

    public required ImmutableArray<Layout> Layouts { get; init; }

    public ImmutableArray<Unplaced> Unplaced { get; init; } = [];

    /// <summary>What is bought, by supplier.</summary>
    public ImmutableArray<Order> Orders { get; init; } = [];

    /// <summary>Σ count × layout cost + what the orders cost beyond listed prices (breaks, minimums, delivery) + what setting fence and
    /// stop costs, once per layout, less the settings that are carried over from one layout to the next, + fuss with orders and further sizes of blanks.</summary>
    /// <remarks>Of the plan without its free spares: the layouts as if these had not been laid into their scrap.</remarks>
    public required Money TotalCost { get; init; }

    /// <summary>What the free spares cost on top: their time at saw and mill and their metal's value as scrap.</summary>
    public Money SpareCost { get; init; }

    /// <summary>No plan for the parts that some stock serves costs less; none where it is not known, or where such parts are left out. As it
    /// was found: never lowered to the cost (see <see cref="IsContradicted"/>).</summary>
    public required Bound Bound { get; init; }

    public ImmutableArray<PartCost> PartCosts { get; init; } = [];

    /// <summary>Time limit that was asked for, in seconds (the time it took is not part of a plan: the same input gives the same bytes).</summary>
    public double Seconds { get; init; }

    public int Seed { get; init; }

    /// <summary>Whether the plan shows that its own bound is wrong: a fault of the program, and no proof of anything.</summary>
    public bool IsContradicted => Bound.Contradicts(TotalCost);

    /// <summary>How far above the cheapest possible the plan is at most, as a fraction; see <see cref="GapOf"/>.</summary>
    public decimal? Gap => GapOf(TotalCost, Bound);

    /// <summary>(cost − bound) ÷ bound; 0 where the cost is no higher; null where nothing can be said: no bound, one that is not above
    /// zero, or one that the cost contradicts.</summary>
    public static decimal? GapOf(Money cost, Bound bound) => bound.Value is not { } least || bound.Contradicts(cost)
        ? null
        : cost <= least ? 0m : least.Units <= 0 ? null : (cost.Amount - least.Amount) / least.Amount;

    /// <summary>The stock of this name.</summary>
    public Stock StockOf(Layout layout) => Job.Stocks.First(stock => stock.Id == layout.StockId);

    /// <summary>The saw that divides the layout.</summary>
    public Saw SawOf(Layout layout) => layout.SawId == Saw.SupplierId
        ? Saw.AtSupplier(StockOf(layout))
        : Job.Saws.First(saw => saw.Id == layout.SawId);
}
