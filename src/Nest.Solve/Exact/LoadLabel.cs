namespace Nest.Solve.Exact;

/// <summary>A partial load: pieces cut from a rectangle, and the most that the rectangle is worth with them.</summary>
/// <param name="Load">As <see cref="PackedLoads"/> writes it.</param>
/// <param name="Worth">In grains.</param>
/// <param name="StripX">Width of the narrowest strip of the crosscuts that it begins with, the widest of all ways to its worth; the rectangle's own where it does not begin so.</param>
/// <param name="StripY">The same of rips.</param>
internal readonly record struct LoadLabel(ulong Load, int Worth, int StripX, int StripY)
{
    /// <summary>The most valuable first; of the same worth in the order of their loads.</summary>
    public static readonly Comparer<LoadLabel> Order =
        Comparer<LoadLabel>.Create(static (a, b) => a.Worth != b.Worth ? b.Worth.CompareTo(a.Worth) : a.Load.CompareTo(b.Load));
}
