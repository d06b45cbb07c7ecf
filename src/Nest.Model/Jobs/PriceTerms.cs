using System.Collections.Immutable;
using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>How price breaks count.</summary>
public enum BreakRule
{
    /// <summary>From a break's quantity on, all pieces of the line cost its price.</summary>
    AllUnits,

    /// <summary>Only the pieces from a break's quantity on cost its price.</summary>
    Incremental,
}

/// <summary>A lower price from some quantity on.</summary>
/// <param name="From">Number of pieces in the line from which it holds, at least 2.</param>
/// <param name="PiecePrice">Price per piece.</param>
public readonly record struct PriceBreak(int From, Money PiecePrice);

/// <summary>What a supplier asks for a line beside the price of one piece.</summary>
/// <remarks>Price breaks and their two readings are those of textbooks on inventory (all-units and incremental quantity discounts,
/// e.g. Silver, Pyke, Thomas, "Inventory and Production Management in Supply Chains").</remarks>
public sealed record PriceTerms
{
    public static PriceTerms None { get; } = new();

    public BreakRule Rule { get; init; }

    /// <summary>In rising order of quantity.</summary>
    public ImmutableArray<PriceBreak> Breaks { get; init; } = [];

    /// <summary>A line costs at least this.</summary>
    public Money LineMinimum { get; init; }

    /// <summary>Whether the line is more than price × count.</summary>
    public bool IsPlain => Breaks.IsEmpty && LineMinimum == Money.Zero;

    /// <summary>Cost of a line of this many pieces; zero for none.</summary>
    public Money LineCost(Money piecePrice, int count)
    {
        if (count <= 0)
        {
            return Money.Zero;
        }

        var cost = Rule == BreakRule.AllUnits ? AllUnits(piecePrice, count) : Incremental(piecePrice, count);
        return Money.Max(cost, LineMinimum);
    }

    /// <summary>Lowest price per piece at any quantity.</summary>
    public Money LowestPrice(Money piecePrice) => Breaks.Aggregate(piecePrice, (low, step) => Money.Min(low, step.PiecePrice));

    private Money AllUnits(Money piecePrice, int count)
    {
        var price = piecePrice;
        foreach (var step in Breaks)
        {
            price = count >= step.From ? step.PiecePrice : price;
        }

        return price * count;
    }

    private Money Incremental(Money piecePrice, int count)
    {
        var cost = Money.Zero;
        var price = piecePrice;
        var from = 1;
        foreach (var step in Breaks)
        {
            if (count < step.From)
            {
                break;
            }

            cost += price * (step.From - from);
            price = step.PiecePrice;
            from = step.From;
        }

        return cost + (price * (count - from + 1));
    }
}
