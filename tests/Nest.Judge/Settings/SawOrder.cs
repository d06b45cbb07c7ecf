namespace Nest.Judge.Settings;

/// <summary>The order of the layouts on one saw that leaves the stop standing most often.</summary>
/// <remarks>Every order and every way of each layout is tried, by the set of layouts done and where the stop stands. O(2^layouts · positions · layouts · ways).</remarks>
internal sealed class SawOrder(CutWay[][] layouts, int[] pieces, long price)
{
    private readonly Dictionary<(int Done, StopAt? Stop), long> _known = [];

    /// <summary>Least cost of all layouts with their settings; a layout's cuts are paid for each of its pieces, its settings once.</summary>
    public long Least() => From(0, null);

    private long From(int done, StopAt? stop)
    {
        if (done == (1 << layouts.Length) - 1)
        {
            return 0;
        }

        if (_known.TryGetValue((done, stop), out var known))
        {
            return known;
        }

        var least = long.MaxValue;
        for (var next = 0; next < layouts.Length; next++)
        {
            if ((done >> next & 1) != 0)
            {
                continue;
            }

            foreach (var way in layouts[next])
            {
                var settings = way.Settings - (way.First is { } first && first == stop ? 1 : 0);
                least = Math.Min(least, (way.Cost * pieces[next]) + (settings * price) + From(done | (1 << next), way.Last ?? stop));
            }
        }

        return _known[(done, stop)] = least;
    }
}
