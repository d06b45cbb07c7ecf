using System.Numerics;
using System.Runtime.InteropServices;

namespace Nest.Solve.Plates.ThroughCut;

/// <summary>The inner loops of the value tables. Sums never overflow: values are scaled so that a whole plate stays below 2³⁰.</summary>
internal static class VectorRows
{
    /// <summary>row = max(row, other).</summary>
    public static void Raise(int[] row, int[] other)
    {
        var r = MemoryMarshal.Cast<int, Vector<int>>(row.AsSpan());
        var o = MemoryMarshal.Cast<int, Vector<int>>(other.AsSpan());
        for (var v = 0; v < r.Length; v++)
        {
            r[v] = Vector.Max(r[v], o[v]);
        }
    }

    /// <summary>row = max(row, first + second).</summary>
    public static void RaiseBySum(int[] row, int[] first, int[] second)
    {
        var r = MemoryMarshal.Cast<int, Vector<int>>(row.AsSpan());
        var a = MemoryMarshal.Cast<int, Vector<int>>(first.AsSpan());
        var b = MemoryMarshal.Cast<int, Vector<int>>(second.AsSpan());
        if (a.Length < r.Length || b.Length < r.Length)
        {
            return;
        }

        for (var v = 0; v < r.Length; v++)
        {
            r[v] = Vector.Max(r[v], a[v] + b[v]);
        }
    }

    /// <summary>Unbounded knapsack along a row of sizes 0 to most: made[y] = max Σ row[sizes] with Σ sizes ≤ y. A size whose value
    /// smaller sizes already reach is left out.</summary>
    public static void Knapsack(int[] row, int[] made, int most)
    {
        Array.Clear(made);
        var lanes = Vector<int>.Count;
        for (var size = 1; size <= most; size++)
        {
            var value = row[size];
            if (value <= made[size])
            {
                continue;
            }

            var y = size;
            if (size >= lanes)
            {
                var add = new Vector<int>(value);
                for (; y + lanes <= made.Length; y += lanes)
                {
                    var sum = new Vector<int>(made, y - size) + add;
                    Vector.Max(new Vector<int>(made, y), sum).CopyTo(made, y);
                }
            }

            for (; y <= most; y++)
            {
                made[y] = Math.Max(made[y], made[y - size] + value);
            }
        }
    }
}
