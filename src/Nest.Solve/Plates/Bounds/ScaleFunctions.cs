namespace Nest.Solve.Plates.Bounds;

/// <summary>Families of dual feasible functions in whole numbers.</summary>
/// <remarks>
/// Problem: for a side C find f with Σ x_j ≤ C ⇒ Σ f(x_j) ≤ f(C). Method: identity; f0 (drop sizes below e, raise those above C − e;
/// Martello, Toth 1990); u^k (Fekete, Schepers 2001); f2 (rounding by e, symmetric about C/2; Boschetti, Mingozzi 2003, Carlier,
/// Clautiaux, Moukrim 2007); f1 (how many small pieces fit beside a large one; same papers, depends on the pieces). Parameters: all
/// values at which a piece changes its image, thinned evenly when there are too many. Guarantee: exact in whole numbers.
/// Complexity: O(functions · items).
/// </remarks>
internal static class ScaleFunctions
{
    /// <param name="side">Side of the plate, inflated.</param>
    /// <param name="along">Sizes of the pieces that may lie along the side (both sides of one that turns), with their demands.</param>
    /// <param name="most">About how many functions are wanted.</param>
    public static List<ScaleFunction> For(long side, long[] sizesX, long[] sizesY, IReadOnlyList<(long Size, int Demand)> along, int most)
    {
        var found = new List<ScaleFunction>();
        var seen = new HashSet<Int128>();
        var sizes = along.Select(a => a.Size).Where(a => a <= side).Distinct().Order().ToArray();

        void Add(Func<long, long> f, long full)
        {
            if (full <= 0)
            {
                return;
            }

            // Two functions with the same images of all sizes are one; told apart by a 128-bit sum of hashes.
            Int128 images = 0;
            foreach (var x in sizes)
            {
                images = unchecked((images * Prime) + BitConverter.DoubleToInt64Bits((double)f(x) / full));
            }

            if (seen.Add(images))
            {
                found.Add(new ScaleFunction(
                    full, [.. sizesX.Select(x => x <= side ? f(x) : full)], [.. sizesY.Select(y => y <= side ? f(y) : full)]));
            }
        }

        Add(x => x, side);
        foreach (var k in Enumerable.Range(1, 12))
        {
            // In units of 1 / (k · side): x(k+1)/side whole: x/side, else its floor / k.
            Add(x => (Int128)x * (k + 1) % side == 0 ? k * x : (long)((Int128)x * (k + 1) / side) * side, k * side);
        }

        var steps = sizes.Concat(sizes.Select(x => side - x + 1)).Concat(sizes.Select(x => side - x))
            .Where(e => e > 0 && 2 * e <= side).Distinct().Order().ToArray();
        foreach (var e in Thin(steps, most / 4))
        {
            Add(x => x > side - e ? side : x < e ? 0 : x, side);
        }

        var divisors = sizes.Concat(sizes.SelectMany(x => new[] { x / 2, x / 3, side - x, side - x + 1, (side - x) / 2 + 1 }))
            .Concat(Enumerable.Range(2, 12).Select(k => side / k)).Concat(Enumerable.Range(2, 12).Select(k => (side / k) + 1))
            .Where(e => e > 0 && 2 * e <= side).Distinct().Order().ToArray();
        foreach (var e in Thin(divisors, most / 2))
        {
            var whole = side / e;
            Add(x => 2 * x > side ? 2 * (whole - ((side - x) / e)) : 2 * x == side ? whole : 2 * (x / e), 2 * whole);
        }

        foreach (var e in Thin(sizes.Where(x => 2 * x <= side).ToArray(), most / 4))
        {
            var small = along.Where(a => a.Size >= e && 2 * a.Size <= side).OrderBy(a => a.Size).ToArray();
            long Most(long room)
            {
                long n = 0;
                foreach (var (size, demand) in small)
                {
                    var fit = Math.Min(demand, room / size);
                    n += fit;
                    room -= fit * size;
                    if (fit < demand)
                    {
                        break;
                    }
                }

                return n;
            }

            var all = Most(side);
            Add(x => 2 * x > side ? all - Most(side - x) : x >= e ? 1 : 0, all);
        }

        return found;
    }

    /// <summary>Multiplier of the 128-bit FNV hash (Fowler, Noll, Vo).</summary>
    private static readonly Int128 Prime = new(0x1000000, 0x13B);

    private static IEnumerable<long> Thin(long[] values, int most)
    {
        if (values.Length <= most)
        {
            return values;
        }

        return Enumerable.Range(0, most).Select(i => values[(long)i * (values.Length - 1) / Math.Max(1, most - 1)]).Distinct();
    }
}
