namespace Nest.Solve.Plates.Bounds;

/// <summary>Σ_s Holds_s·n_s ≥ Needs for the numbers n_s of plates used.</summary>
internal sealed record PlateCut(long[] Holds, Int128 Needs)
{
    /// <summary>The cut in small whole numbers that CP-SAT sums without overflow: rounded so that it stays valid.</summary>
    public (long[] Holds, long Needs) Small()
    {
        var shift = 0;
        while ((Needs >> shift) > 1L << 40)
        {
            shift++;
        }

        var round = (1L << shift) - 1;
        return ([.. Holds.Select(h => (long)(((Int128)h + round) >> shift))], (long)(Needs >> shift));
    }
}
