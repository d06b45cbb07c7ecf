using System.Collections.Immutable;
using System.Numerics;

namespace Nest.Solve.Exact;

/// <summary>Loads as 64-bit numbers: a few bits for the count of each kind and a guard bit beside them.</summary>
/// <remarks>Loads are added as numbers; a sum is within the demand when demand + guards − sum keeps all guards.</remarks>
internal sealed class PackedLoads
{
    private readonly int[] _bits;
    private readonly ulong _guards;
    private readonly ulong _most;

    private PackedLoads(int[] bits, ulong demand, ulong guards) => (_bits, _guards, _most) = (bits, guards, demand + guards);

    /// <param name="fits">Whether a kind comes from this stock at all.</param>
    /// <returns>Null when there are too many kinds for one number.</returns>
    public static PackedLoads? Of(ReadOnlySpan<int> demand, Func<int, bool> fits)
    {
        var bits = new int[demand.Length + 1];
        ulong packed = 0;
        ulong guards = 0;
        for (var k = 0; k < demand.Length; k++)
        {
            var wide = fits(k) ? 32 - BitOperations.LeadingZeroCount((uint)demand[k]) : 0;
            bits[k + 1] = bits[k] + (wide == 0 ? 0 : wide + 1);
            if (bits[k + 1] > 64)
            {
                return null;
            }

            if (wide > 0)
            {
                packed |= (ulong)demand[k] << bits[k];
                guards |= 1UL << (bits[k] + wide);
            }
        }

        return new(bits, packed, guards);
    }

    /// <summary>Whether any of this kind is wanted and fits.</summary>
    public bool Has(int kind) => _bits[kind + 1] > _bits[kind];

    /// <summary>One piece of this kind.</summary>
    public ulong One(int kind) => 1UL << _bits[kind];

    /// <summary>Whether a sum of two loads asks for no more than is wanted.</summary>
    public bool IsWithin(ulong sum) => ((_most - sum) & _guards) == _guards;

    /// <summary>Whether one load is part of another.</summary>
    public bool IsPart(ulong part, ulong whole) => ((whole + _guards - part) & _guards) == _guards;

    public ulong Of(ReadOnlySpan<int> counts)
    {
        ulong load = 0;
        for (var k = 0; k < counts.Length; k++)
        {
            load |= counts[k] == 0 ? 0 : (ulong)counts[k] << _bits[k];
        }

        return load;
    }

    /// <summary>Pieces of this kind.</summary>
    public int CountOf(ulong load, int kind) => (int)((load >> _bits[kind]) & ((1UL << (_bits[kind + 1] - _bits[kind])) - 1));

    public ImmutableArray<int> Counts(ulong load)
    {
        var counts = ImmutableArray.CreateBuilder<int>(_bits.Length - 1);
        for (var k = 0; k + 1 < _bits.Length; k++)
        {
            counts.Add(CountOf(load, k));
        }

        return counts.ToImmutable();
    }
}
