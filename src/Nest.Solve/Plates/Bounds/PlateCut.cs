namespace Nest.Solve.Plates.Bounds;

/// <summary>Σ_s Holds_s·n_s ≥ Needs for the numbers n_s of plates used: pieces worth Needs in all, and what one plate holds at most.</summary>
internal sealed record PlateCut(Int128[] Holds, Int128 Needs)
{
    /// <summary>The cut in small whole numbers that CP-SAT sums without overflow, rounded so that it stays valid.</summary>
    public (long[] Holds, long Needs) Small()
    {
        var shift = 0;
        while ((Needs >> shift) > 1L << 36 || Holds.Any(h => (h >> shift) > 1L << 36))
        {
            shift++;
        }

        var round = ((Int128)1 << shift) - 1;
        return ([.. Holds.Select(h => (long)((h + round) >> shift))], (long)(Needs >> shift));
    }
}
