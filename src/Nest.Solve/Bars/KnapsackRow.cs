using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Nest.Solve.Bars;

/// <summary>One step of a knapsack over all capacities, as vectors.</summary>
internal static class KnapsackRow
{
    /// <summary>target[c] = max(target[c], source[c − shift] + gain), a bit where it rose. Ascending with target = source takes an item
    /// again and again (needs shift ≥ one vector); descending takes it once.</summary>
    /// <param name="plane">A byte for each vector of capacities; as long as the rows without their padding of a vector before and behind.</param>
    /// <returns>Elementary steps.</returns>
    public static int Relax<T>(T[] target, T[] source, int shift, T gain, Span<byte> plane, bool ascending)
        where T : unmanaged, IBinaryInteger<T>
    {
        int blocks = plane.Length;
        int first = shift / Vector256<T>.Count;
        plane[..Math.Min(first, blocks)].Clear();
        ref T to = ref MemoryMarshal.GetArrayDataReference(target);
        ref T from = ref MemoryMarshal.GetArrayDataReference(source);
        Vector256<T> add = Vector256.Create(gain);
        unchecked
        {
            if (ascending)
            {
                for (int b = first; b < blocks; b++)
                {
                    Step(ref to, ref from, b, shift, add, plane);
                }
            }
            else
            {
                for (int b = blocks - 1; b >= first; b--)
                {
                    Step(ref to, ref from, b, shift, add, plane);
                }
            }
        }

        return Math.Max(0, blocks - first);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Step<T>(ref T to, ref T from, int block, int shift, Vector256<T> add, Span<byte> plane)
        where T : unmanaged, IBinaryInteger<T>
    {
        // A vector of padding lies before capacity 0; the block that contains the shift reads into it, never before it.
        unchecked
        {
            int c = Vector256<T>.Count + (block * Vector256<T>.Count);
            Vector256<T> candidate = Vector256.LoadUnsafe(ref from, (nuint)(c - shift)) + add;
            Vector256<T> old = Vector256.LoadUnsafe(ref to, (nuint)c);
            Vector256<T> better = Vector256.GreaterThan(candidate, old);
            plane[block] = (byte)better.ExtractMostSignificantBits();
            Vector256.ConditionalSelect(better, candidate, old).StoreUnsafe(ref to, (nuint)c);
        }
    }
}
