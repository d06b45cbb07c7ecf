namespace Nest.Core.Solids.Exact;

/// <summary>Gauss–Legendre rule of eight points on [0, 1]: exact to the fifteenth degree (Abramowitz, Stegun 1964, table 25.4).</summary>
internal static class Gauss
{
    private static readonly double[] Half = [0.1834346424956498, 0.5255324099163290, 0.7966664774136267, 0.9602898564975363];
    private static readonly double[] HalfWeights = [0.3626837833783620, 0.3137066458778873, 0.2223810344533745, 0.1012285362903763];

    /// <summary>Places in rising order, and weights that add up to one.</summary>
    public static (double At, double Weight)[] Points { get; } =
    [
        .. Enumerable.Range(0, 4).Select(i => ((1 - Half[3 - i]) / 2, HalfWeights[3 - i] / 2)),
        .. Enumerable.Range(0, 4).Select(i => ((1 + Half[i]) / 2, HalfWeights[i] / 2)),
    ];
}
