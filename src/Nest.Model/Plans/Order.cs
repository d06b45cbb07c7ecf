using System.Collections.Immutable;
using Nest.Core.Quantities;

namespace Nest.Core.Plans;

/// <summary>One line of an order.</summary>
/// <param name="Count">Pieces bought.</param>
/// <param name="Listed">Count × price of one piece, before breaks and line minimum; this is what the layouts carry as metal.</param>
/// <param name="Cost">What the line costs.</param>
public sealed record OrderLine(string StockId, int Count, Money Listed, Money Cost);

/// <summary>What is bought from one supplier.</summary>
/// <param name="Supplier">Name; empty for stock without a supplier.</param>
/// <param name="Goods">Sum of the lines.</param>
/// <param name="TopUp">What the supplier's smallest order adds.</param>
/// <param name="Delivery">Delivery charged.</param>
public sealed record Order(string Supplier, ImmutableArray<OrderLine> Lines, Money Goods, Money TopUp, Money Delivery)
{
    public Money Total => Goods + TopUp + Delivery;

    /// <summary>What the order costs beyond (or, with price breaks, below) the listed prices that the layouts carry.</summary>
    public Money Terms => Total - Lines.Aggregate(Money.Zero, (sum, line) => sum + line.Listed);
}
