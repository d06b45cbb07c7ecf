using System.Collections.Immutable;

namespace Nest.Solve;

/// <summary>Answer of a pricing problem on one stock type: layouts of high value, and a proven upper bound on the value of every
/// layout of this stock type.</summary>
/// <typeparam name="TLayout">Bar or plate layout.</typeparam>
/// <param name="Layouts">Found layouts, best first, each with its value in the same integer units as the values given.</param>
/// <param name="UpperBound">No layout on this stock type has a larger value; equal to the first layout's value when the pricing was
/// solved exactly.</param>
public sealed record Pricing<TLayout>(ImmutableArray<(TLayout Layout, long Value)> Layouts, long UpperBound);
