namespace Nest.Output.Pictures;

/// <summary>Moves things on a line apart, so that none covers another.</summary>
internal static class Spreading
{
    /// <param name="wanted">Where the middles should be, in order.</param>
    /// <param name="sizes">How long each thing is along the line.</param>
    /// <returns>Middles as near as can be to those wanted, within the two ends. Null: there is not room for all. O(n).</returns>
    public static double[]? Places(IReadOnlyList<double> wanted, IReadOnlyList<double> sizes, double from, double to, double gap)
    {
        if (sizes.Sum() + (gap * Math.Max(0, sizes.Count - 1)) > to - from + 1e-9)
        {
            return null;
        }

        var places = wanted.ToArray();
        for (var at = 0; at < places.Length; at++)
        {
            var least = at == 0 ? from + (sizes[0] / 2) : places[at - 1] + ((sizes[at - 1] + sizes[at]) / 2) + gap;
            places[at] = Math.Max(places[at], least);
        }

        for (var at = places.Length - 1; at >= 0; at--)
        {
            var most = at == places.Length - 1 ? to - (sizes[at] / 2) : places[at + 1] - ((sizes[at + 1] + sizes[at]) / 2) - gap;
            places[at] = Math.Min(places[at], most);
        }

        return places;
    }
}
