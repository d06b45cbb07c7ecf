namespace Nest.Solve.Plates.Free;

/// <summary>A small random generator (SplitMix64, Steele, Lea, Flood 2014) with the same numbers on every machine and runtime.</summary>
internal sealed class FreeRandom(ulong seed)
{
    private ulong _state = seed;

    public ulong Next()
    {
        unchecked
        {
            var z = _state += 0x9E3779B97F4A7C15UL;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            return z ^ (z >> 31);
        }
    }

    /// <summary>Whole number from 0 to most − 1.</summary>
    public int Below(int most) => (int)(((Next() >> 32) * (ulong)most) >> 32);

    /// <summary>In [0, 1).</summary>
    public double Unit() => (Next() >> 11) * (1.0 / (1UL << 53));
}
