namespace Nest.Solve;

/// <summary>What the unused end of a bar, or the unused area of a plate, is worth in whole cost units.</summary>
/// <param name="KeepMinimum">Smallest leftover (length on bars) that is worth keeping; shorter ones are scrap.</param>
/// <param name="KeepNumerator">Value of a kept leftover = floor(size × KeepNumerator / Denominator).</param>
/// <param name="ScrapNumerator">Value of scrap = floor(size × ScrapNumerator / Denominator); not above KeepNumerator.</param>
/// <param name="Denominator">Common denominator, above zero.</param>
/// <remarks>For bought stock KeepNumerator / Denominator is below its cost per size, so a bar left whole is no gain. A leftover that is carried
/// at less than its scrap may cost less than it is worth. Monotone in the size. The literature's instances use <see cref="None"/>.</remarks>
public sealed record LeftoverValue(long KeepMinimum, long KeepNumerator, long ScrapNumerator, long Denominator)
{
    /// <summary>Leftovers are worth nothing.</summary>
    public static LeftoverValue None { get; } = new(0, 0, 0, 1);

    /// <summary>Value of a leftover of this size.</summary>
    public long Of(long size) => size <= 0
        ? 0
        : (long)((Int128)size * (size >= KeepMinimum ? KeepNumerator : ScrapNumerator) / Denominator);
}
