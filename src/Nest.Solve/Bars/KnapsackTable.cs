using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Nest.Solve.Bars;

/// <summary>Exact bounded knapsack by dynamic programming over the capacity.</summary>
/// <remarks>
/// Problem: maximise Σ v_i a_i with Σ w_i a_i ≤ c for every c up to a capacity, 0 ≤ a_i ≤ u_i; optionally at least one "long" item
/// (the holding rule) and at most K items. Method: one layer per item (ascending scan where the copies do not bind, binary splitting of
/// the copies where they do), with one decision bit per layer and capacity for reading the layout back (Martello and Toth 1990).
/// Complexity O(C · Σ log u_i · K); vectorised. Guarantee: exact in integers; the caller chooses a width T in which no sum overflows.
/// </remarks>
internal sealed class KnapsackTable<T>
    where T : unmanaged, IBinaryInteger<T>, IMinMaxValue<T>
{
    private readonly record struct Layer(int Item, int Copies, int Shift, bool Repeats, bool Long);

    private static readonly int Lanes = Vector256<T>.Count;

    private readonly List<Layer> layers = [];
    private readonly List<byte[]> bits = [];
    private T[][] rows = [];
    private int capacity;
    private int stride;
    private int most;
    private bool needLong;

    /// <summary>Elementary steps of the last run.</summary>
    public long Steps { get; private set; }

    /// <summary>Bytes of decision bits that a run would need.</summary>
    public static long Memory(long capacity, ReadOnlySpan<int> copies, bool needLong, int most)
    {
        long layers = 0;
        foreach (int u in copies)
        {
            layers += u <= 0 ? 0 : BitOperations.Log2((uint)u) + 1;
        }

        return (capacity / Lanes + 2) * layers * (needLong ? 3 : 1) * (most == int.MaxValue ? 1 : most + 1L);
    }

    /// <param name="fillers">With <paramref name="exact"/>: pieces worth nothing or less may be needed to fill a capacity.</param>
    /// <summary>Fills the table; with <paramref name="exact"/> a capacity counts only when it is filled to the end. Items must come with those that are not long first when <paramref name="needLong"/>.</summary>
    public void Run(int capacity, ReadOnlySpan<int> order, long[] weight, int[] copies, long[] value, bool[] isLong, bool needLong, int most, bool exact, bool fillers = false)
    {
        this.capacity = capacity;
        this.needLong = needLong;
        this.most = most == int.MaxValue ? 0 : most;
        stride = Lanes + (((capacity / Lanes) + 1) * Lanes) + Lanes;
        bool counted = most != int.MaxValue;
        int counts = this.most + 1;
        int rowCount = counts * (needLong ? 2 : 1);
        if (rows.Length < rowCount || rows[0].Length != stride)
        {
            rows = new T[rowCount][];
            for (int r = 0; r < rowCount; r++)
            {
                rows[r] = new T[stride];
            }

            bits.Clear();
        }

        T none = T.MinValue / (T.One + T.One);
        for (int r = 0; r < rowCount; r++)
        {
            rows[r].AsSpan().Fill(r >= counts || exact ? none : T.Zero);
            rows[r].AsSpan(0, Lanes).Fill(none);
            rows[r][Lanes] = r >= counts ? none : T.Zero;
        }

        layers.Clear();
        Steps = 0;
        int used = 0;
        foreach (int i in order)
        {
            int u = (int)Math.Min(copies[i], capacity / weight[i]);
            if (u <= 0)
            {
                continue;
            }

            bool inLong = needLong && isLong[i];
            if (value[i] <= 0 && !fillers)
            {
                // Worth nothing. Without fillers it is of use only as the one piece that the clamp holds.
                if (!inLong)
                {
                    continue;
                }

                u = 1;
            }

            T gain = T.CreateChecked(value[i]);
            int w = (int)weight[i];
            if (!counted && u > 1 && u == capacity / w && w >= Lanes)
            {
                AddLayer(new Layer(i, 1, w, true, inLong), gain, ref used);
                continue;
            }

            for (int k = 1; u > 0; k *= 2)
            {
                int take = Math.Min(k, u);
                u -= take;
                AddLayer(new Layer(i, take, take * w, false, inLong), gain * T.CreateChecked(take), ref used);
            }
        }
    }

    /// <summary>Best value within capacity c; a very negative number when a long item is wanted and none fits.</summary>
    public long At(int c) => long.CreateChecked(rows[FinalRow()][Lanes + c]);

    /// <summary>Best value without long items within capacity c (only where long items are told apart).</summary>
    public long ShortAt(int c) => long.CreateChecked(rows[most][Lanes + c]);

    /// <summary>The first capacity from <paramref name="from"/> up to <paramref name="top"/> with the largest value plus worth (all sums far from overflow); at
    /// -1 when no capacity among them can be had. T is int or long.</summary>
    public (long Value, int At) BestWith(long[] worth, int from, int top, bool fromShort)
    {
        T[] row = rows[fromShort ? most : FinalRow()];
        long best = long.MinValue;
        int at = -1;
        long none = long.CreateTruncating(T.MinValue / (T.One + T.One + T.One + T.One));
        ref T first = ref MemoryMarshal.GetArrayDataReference(row);
        ref long extra = ref MemoryMarshal.GetArrayDataReference(worth);
        Vector256<long> bests = Vector256.Create(long.MinValue);
        int whole = from + ((top + 1 - from) / Lanes * Lanes);
        unchecked
        {
            // The largest value first, a vector at a time; where it stands comes after it.
            for (int c = from; c < whole; c += Lanes)
            {
                Vector256<T> some = Vector256.LoadUnsafe(ref first, (nuint)(Lanes + c));
                if (typeof(T) == typeof(long))
                {
                    bests = Vector256.Max(bests, With(some.AsInt64(), ref extra, c, none));
                }
                else
                {
                    (Vector256<long> low, Vector256<long> high) = Vector256.Widen(some.AsInt32());
                    bests = Vector256.Max(bests, Vector256.Max(With(low, ref extra, c, none), With(high, ref extra, c + Vector256<long>.Count, none)));
                }
            }

            for (int l = 0; l < Vector256<long>.Count; l++)
            {
                best = Math.Max(best, bests[l]);
            }

            for (int c = whole; c <= top; c++)
            {
                best = Math.Max(best, Of(c));
            }

            for (int c = from; c <= top && at < 0 && best > long.MinValue; c++)
            {
                at = Of(c) == best ? c : -1;
            }
        }

        Steps = top;
        return (best, at);

        long Of(int c) => long.CreateTruncating(row[Lanes + c]) is var value && value > none ? value + worth[c] : long.MinValue;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<long> With(Vector256<long> value, ref long worth, int at, long none) => Vector256.ConditionalSelect(
        Vector256.GreaterThan(value, Vector256.Create(none)), value + Vector256.LoadUnsafe(ref worth, (nuint)at), Vector256.Create(long.MinValue));

    /// <summary>Whether c is the smallest capacity that gives its value.</summary>
    public bool Rises(int c) => c == 0 || rows[FinalRow()][Lanes + c] > rows[FinalRow()][Lanes + c - 1];

    /// <summary>Reads a best layout for capacity c into counts (cleared first).</summary>
    public void Read(int c, bool fromShort, Span<int> counts)
    {
        counts.Clear();
        bool isLong = needLong && !fromShort;
        int k = most;
        int per = most + 1;
        for (int l = layers.Count - 1; l >= 0; l--)
        {
            Layer layer = layers[l];
            if (layer.Long && !isLong)
            {
                continue;
            }

            int row = layer.Long ? per + k : k;
            byte[] take = bits[(2 * l) + 0];
            byte[] start = bits[(2 * l) + 1];
            if (layer.Repeats)
            {
                while (Bit(take, row, c))
                {
                    counts[layer.Item]++;
                    c -= layer.Shift;
                }

                if (layer.Long && Bit(start, row, c))
                {
                    counts[layer.Item]++;
                    c -= layer.Shift;
                    isLong = false;
                }
            }
            else if (layer.Long && Bit(start, row, c))
            {
                counts[layer.Item] += layer.Copies;
                c -= layer.Shift;
                k -= most == 0 ? 0 : layer.Copies;
                isLong = false;
            }
            else if (Bit(take, row, c))
            {
                counts[layer.Item] += layer.Copies;
                c -= layer.Shift;
                k -= most == 0 ? 0 : layer.Copies;
            }
        }
    }

    private int FinalRow() => needLong ? most + 1 + most : most;

    private bool Bit(byte[] plane, int row, int c)
    {
        int at = ((row % (most + 1)) * ((capacity / Lanes) + 1)) + (c / Lanes);
        return ((plane[at] >> (c % Lanes)) & 1) != 0;
    }

    private byte[] Plane(int index, bool needed)
    {
        int size = needed ? (most + 1) * ((capacity / Lanes) + 1) : 0;
        while (bits.Count <= index)
        {
            bits.Add([]);
        }

        if (bits[index].Length < size)
        {
            bits[index] = new byte[size];
        }
        else if (most > 0)
        {
            Array.Clear(bits[index]);
        }

        return bits[index];
    }

    private void Relax(T[] target, T[] source, int shift, T gain, Span<byte> plane, bool ascending) =>
        Steps += KnapsackRow.Relax(target, source, shift, gain, plane, ascending);

    private void AddLayer(Layer layer, T gain, ref int used)
    {
        layers.Add(layer);
        byte[] take = Plane(2 * used, true);
        byte[] start = Plane((2 * used) + 1, layer.Long);
        used++;
        int per = most + 1;
        int flag = layer.Long ? per : 0;
        int blocks = (capacity / Lanes) + 1;
        if (layer.Repeats)
        {
            if (layer.Long)
            {
                Relax(rows[per], rows[0], layer.Shift, gain, start.AsSpan(0, blocks), false);
            }

            Relax(rows[flag], rows[flag], layer.Shift, gain, take.AsSpan(0, blocks), true);
        }
        else
        {
            int step = most == 0 ? 0 : layer.Copies;
            for (int k = most; k >= step; k--)
            {
                Relax(rows[flag + k], rows[flag + k - step], layer.Shift, gain, take.AsSpan(k * blocks, blocks), false);
                if (layer.Long)
                {
                    Relax(rows[flag + k], rows[k - step], layer.Shift, gain, start.AsSpan(k * blocks, blocks), false);
                }
            }
        }
    }
}
