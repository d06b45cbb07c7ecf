using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>The row of a supplier's list that a piece cut to size comes from, so that the price of the piece can be worked out again.</summary>
/// <param name="Length">Nominal length of the row: the largest piece that the supplier cuts.</param>
/// <param name="Width">Nominal width of the row; of a bar that of the section.</param>
/// <param name="Charges">For the piece and its cuts: part of its price, and of the price at every break.</param>
public sealed record CutFrom(Length Length, Length Width, Money Charges);
