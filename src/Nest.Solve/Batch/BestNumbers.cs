using System.Collections.Immutable;

namespace Nest.Solve.Batch;

/// <summary>Which numbers of sets are the best, as far as the gaps allow to say it.</summary>
/// <remarks>A number's cost per set is that of a plan in hand; another number is dearer for certain only where its lower bound per set is
/// no lower than that. O(points²).</remarks>
public static class BestNumbers
{
    /// <summary>The cheapest per set that was found; null where no number is cut entirely.</summary>
    public static BatchPoint? Cheapest(ImmutableArray<BatchPoint> points) => points.Where(point => point.Complete).MinBy(point => point.CostPerSet);

    /// <summary>Numbers that may be as cheap per set as this one, the cheapest found first.</summary>
    public static ImmutableArray<BatchPoint> AboutEqual(ImmutableArray<BatchPoint> points, BatchPoint best) =>
        [.. points.Where(point => point.Sets != best.Sets && !IsDearer(point, best)).OrderBy(point => point.CostPerSet).ThenBy(point => point.Sets)];

    /// <summary>Whether a number is one of the best for certain: every smaller number, and the next one, costs more per set however well they
    /// are planned.</summary>
    public static bool IsCertain(ImmutableArray<BatchPoint> points, BatchPoint one) =>
        one.Best && points.Where(point => point.Sets < one.Sets || point.Sets == one.Sets + 1).All(point => !point.Complete || IsDearer(point, one));

    private static bool IsDearer(BatchPoint point, BatchPoint than) =>
        !point.Complete || (!point.Bound.Contradicts(point.Cost) && point.Bound.Value is { } bound && bound.Amount / point.Sets >= than.CostPerSet);
}
