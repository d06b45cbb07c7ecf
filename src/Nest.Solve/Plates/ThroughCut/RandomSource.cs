namespace Nest.Solve.Plates.ThroughCut;

/// <summary>xorshift64*: small, fast, the same on every machine.</summary>
internal struct RandomSource(int seed)
{
    private ulong _state = unchecked(((ulong)(uint)seed * 0x9E3779B97F4A7C15UL) ^ 0xD1B54A32D192ED03UL) | 1;

    public ulong Next()
    {
        unchecked
        {
            _state ^= _state >> 12;
            _state ^= _state << 25;
            _state ^= _state >> 27;
            return _state * 0x2545F4914F6CDD1DUL;
        }
    }

    /// <summary>From 0 to below the bound.</summary>
    public int Below(int bound) => unchecked((int)(((Next() >> 32) * (ulong)(uint)bound) >> 32));

    /// <summary>From 0 to below 1.</summary>
    public double Real() => (Next() >> 11) * (1.0 / (1UL << 53));
}
