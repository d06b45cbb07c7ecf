using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>How many pieces of one stock the plan takes: to buy, or (a leftover) to fetch from the rack.</summary>
/// <param name="Total">Count × piece price; of a leftover the value it is carried at.</param>
/// <param name="Mass">Nominal mass of one piece.</param>
/// <param name="TotalMass">Count × mass.</param>
public sealed record BuyLine(Stock Stock, int Count, Money Total, Mass Mass, Mass TotalMass)
{
    public bool FromRack => Stock.IsLeftover;
}
