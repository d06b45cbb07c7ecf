namespace Nest.Solve.Exact;

/// <summary>Loads within the demand of a plate, and how each may be shared between the two parts of a cut.</summary>
internal static class LoadShares
{
    /// <summary>All loads within the demand, none first and the demand last, and of each all ordered ways to share it between two rectangles.</summary>
    /// <param name="isPart">Which loads, by number, may be parts at all; null: all.</param>
    public static (int[][] Counts, (int A, int B)[][] Shares) Of(PlateShape shape, Func<int, bool>? isPart = null)
    {
        var counts = CountsOf(shape);
        var steps = StepsOf(shape);
        var shares = new (int, int)[counts.Length][];
        for (var load = 0; load < shares.Length; load++)
        {
            if (isPart?.Invoke(load) == false)
            {
                shares[load] = [];
                continue;
            }

            // Parts in the order of their numbers: those of the last kinds change last.
            var parts = new List<int> { 0 };
            for (var k = 0; k < steps.Length; k++)
            {
                var before = parts.Count;
                for (var n = 1; n <= counts[load][k]; n++)
                {
                    for (var at = 0; at < before; at++)
                    {
                        parts.Add(parts[at] + (n * steps[k]));
                    }
                }
            }

            shares[load] = [.. parts.Where(part => isPart is null || (isPart(part) && isPart(load - part))).Select(part => (part, load - part))];
        }

        return (counts, shares);
    }

    /// <summary>By kind: by so much the number of a load grows with a piece.</summary>
    public static int[] StepsOf(PlateShape shape)
    {
        var steps = new int[shape.Pieces.Length];
        var all = 1;
        for (var k = 0; k < steps.Length; k++)
        {
            steps[k] = all;
            all *= shape.Pieces[k].SizeX > 0 ? shape.Pieces[k].Demand + 1 : 1;
        }

        return steps;
    }

    /// <summary>Number of a load.</summary>
    public static int IndexOf(int[] steps, ReadOnlySpan<int> counts)
    {
        var load = 0;
        for (var k = 0; k < steps.Length; k++)
        {
            load += counts[k] * steps[k];
        }

        return load;
    }

    private static int[][] CountsOf(PlateShape shape)
    {
        var all = new List<int[]> { new int[shape.Pieces.Length] };
        for (var k = 0; k < shape.Pieces.Length; k++)
        {
            var before = all.Count;
            for (var n = 1; shape.Pieces[k].SizeX > 0 && n <= shape.Pieces[k].Demand; n++)
            {
                for (var at = 0; at < before; at++)
                {
                    var more = (int[])all[at].Clone();
                    more[k] = n;
                    all.Add(more);
                }
            }
        }

        return [.. all];
    }
}
