namespace Nest.Solve;

/// <summary>Arithmetic of whole numbers that several rooms need.</summary>
internal static class WholeNumbers
{
    /// <summary>Greatest common divisor, never below zero; of 0 and a number that number (Euclid). O(log of the smaller).</summary>
    public static long Divisor(long a, long b)
    {
        while (b != 0)
        {
            (a, b) = (b, a % b);
        }

        return Math.Abs(a);
    }
}
