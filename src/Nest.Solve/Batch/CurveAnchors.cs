using System.Collections.Immutable;

namespace Nest.Solve.Batch;

/// <summary>In which order the numbers of a range are planned.</summary>
internal static class CurveAnchors
{
    private const double Ratio = 2;

    /// <summary>Numbers that are planned by themselves: both ends, and each about twice the one before.</summary>
    public static ImmutableArray<int> Of(int from, int to)
    {
        var anchors = new SortedSet<int> { from, to };
        for (var at = (double)to; at > from; at = Math.Min(at - 1, at / Ratio))
        {
            anchors.Add(Math.Max(from, (int)Math.Round(at)));
        }

        return [.. anchors];
    }

    /// <summary>The numbers between the anchors: again and again the geometric mean of the widest interval.</summary>
    public static IEnumerable<int> Between(ImmutableArray<int> anchors)
    {
        var open = new PriorityQueue<(int Low, int High), (double, int)>();
        for (var at = 0; at + 1 < anchors.Length; at++)
        {
            Add(anchors[at], anchors[at + 1]);
        }

        while (open.TryDequeue(out var interval, out _))
        {
            var middle = Math.Clamp((int)Math.Round(Math.Sqrt((double)interval.Low * interval.High)), interval.Low + 1, interval.High - 1);
            yield return middle;
            Add(interval.Low, middle);
            Add(middle, interval.High);
        }

        void Add(int low, int high)
        {
            if (high - low > 1)
            {
                open.Enqueue((low, high), (-(double)high / low, low));
            }
        }
    }
}
