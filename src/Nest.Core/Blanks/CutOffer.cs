using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Blanks;

/// <summary>What a supplier cuts to size from: a stock whose length (and, of a plate, width) is the largest piece that comes from
/// it, with a price by area, length or mass, and what the cutting costs.</summary>
/// <param name="From">Sizes, unit price and line minimum; its price breaks are for whole pieces and don't count.</param>
/// <param name="PerPiece">Charge for each piece.</param>
/// <param name="PerCut">Charge for each cut: one for a piece of bar, two (rip and crosscut) for a piece of plate.</param>
/// <param name="Breaks">Lower unit prices from so many pieces of one size on.</param>
public sealed record CutOffer(Stock From, Money PerPiece, Money PerCut, ImmutableArray<(int From, decimal UnitPrice)> Breaks);
