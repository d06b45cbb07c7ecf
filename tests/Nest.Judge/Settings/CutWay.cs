namespace Nest.Judge.Settings;

/// <summary>One way to cut a load from a piece of stock.</summary>
/// <param name="Cost">Without metal and settings, in units of money.</param>
/// <param name="Settings">Settings of the layout by itself.</param>
/// <param name="First">The first position of the stop; null: it is never set, or nothing is cut with a stop.</param>
/// <param name="Last">Where it is left.</param>
internal sealed record CutWay(long Cost, int Settings, StopAt? First, StopAt? Last)
{
    /// <summary>A way from what is set one after another.</summary>
    /// <param name="marks">Cuts at a mark, each of which counts as a setting.</param>
    /// <param name="stops">Positions of the stop in the order of the cuts.</param>
    public static CutWay Of(long cost, int marks, IReadOnlyList<StopAt> stops)
    {
        var count = marks;
        for (var at = 0; at < stops.Count; at++)
        {
            count += at > 0 && stops[at] == stops[at - 1] ? 0 : 1;
        }

        return new(cost, count, stops.Count == 0 ? null : stops[0], stops.Count == 0 ? null : stops[^1]);
    }

    /// <summary>What it costs with settings at this price.</summary>
    public long Total(long price) => Cost + (Settings * price);

    /// <summary>The ways that may be in a cheapest plan: of those with the same two positions the cheapest, and none that costs two settings more than another,
    /// since no more than two can be saved by the layouts before and after it.</summary>
    public static CutWay[] Best(IEnumerable<CutWay> ways, long price)
    {
        var best = new Dictionary<(StopAt?, StopAt?), CutWay>();
        foreach (var way in ways)
        {
            if (!best.TryGetValue((way.First, way.Last), out var other) || way.Total(price) < other.Total(price))
            {
                best[(way.First, way.Last)] = way;
            }
        }

        var least = best.Count == 0 ? 0 : best.Values.Min(way => way.Total(price));
        return [.. best.Values.Where(way => way.Total(price) <= least + (2 * price)).OrderBy(way => way.Total(price))];
    }
}
