using Nest.Core.Quantities;

namespace Nest.Data.Parts;

/// <summary>How much the dimensions of a part may change, from the columns <c>may shrink</c> and <c>may grow</c>; no part of the plan.</summary>
/// <param name="Shrink">By dimension; null: the list does not say.</param>
/// <param name="Grow">By dimension; null: the list does not say.</param>
public sealed record DesignLimits(DimensionLimits? Shrink, DimensionLimits? Grow);

/// <summary>Most by which each dimension may change; a dimension that is not named may not where another one is.</summary>
/// <param name="Length">Of the length, of round parts along the axis.</param>
/// <param name="Width">Of width or diameter.</param>
/// <param name="Thickness">Of the thickness.</param>
public sealed record DimensionLimits(Length Length, Length Width, Length Thickness);
