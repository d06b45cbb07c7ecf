namespace Nest.Rack.Marks;

/// <summary>The marks painted on pieces: short, easy to paint, hard to misread.</summary>
/// <remarks>
/// Problem: a mark is painted with a pen on bare metal and read again months later, scratched, greasy or upside down.
/// Method: seventeen characters of which no two look alike. Left out: 0 O D Q (round), 1 I J (a stroke), 8 B, 6 G (6 is 9 turned), S (5),
/// Z (2), F (E less a stroke), R (P), N and W (M, turned M), V (U, Y), 4 (9, A). A mark is a body of at least three characters and one
/// check character: weighted sum modulo 17, weights 1, 2, 3 … from the check character leftwards (a weighted code modulo a prime, the
/// idea of ISBN-10). Numbers that follow each other give marks that look different: within each length the number is multiplied by
/// a constant that has no factor in common with 17.
/// Guarantee: one wrong character, or two characters that changed places, is always found (17 is prime, all weights differ and none
/// is zero modulo 17 up to sixteen characters). A number is never used twice. 4 913 marks have four characters, the next 83 521 five.
/// </remarks>
public static class MarkScheme
{
    /// <summary>The characters of marks, in order of their values 0 … 16.</summary>
    public const string Alphabet = "23579ACEHKLMPTUXY";

    private const int Base = 17;
    private const int ShortestBody = 3;
    private const int LongestBody = 8;

    /// <summary>The mark of a running number from 0.</summary>
    public static string FromNumber(long number)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(number);
        var length = ShortestBody;
        var block = PowerOf17(length);
        while (number >= block)
        {
            if (length == LongestBody)
            {
                throw new ArgumentOutOfRangeException(nameof(number), "No marks are left.");
            }

            number -= block;
            length++;
            block = PowerOf17(length);
        }

        // Begins away from zero, whose mark would be one character four times.
        var scattered = (long)((((Int128)number * Scatter(block)) + (block / 3)) % block);
        Span<char> mark = stackalloc char[length + 1];
        for (var i = length - 1; i >= 0; i--)
        {
            mark[i] = Alphabet[(int)(scattered % Base)];
            scattered /= Base;
        }

        mark[length] = Alphabet[(Base - (WeightedSum(mark[..length]) % Base)) % Base];
        return new string(mark);
    }

    /// <summary>Reads a mark as a person types it: small letters, blanks and hyphens don't matter.</summary>
    /// <param name="mark">The mark as it is stored; empty when refused.</param>
    /// <param name="error">What is wrong and what to do; empty when read.</param>
    public static bool TryRead(string text, out string mark, out string error)
    {
        var read = string.Concat(text.Where(c => !char.IsWhiteSpace(c) && c != '-')).ToUpperInvariant();
        mark = "";
        if (read.FirstOrDefault(c => !Alphabet.Contains(c, StringComparison.Ordinal)) is var stranger and not '\0')
        {
            error = $"'{text}' is not a mark: marks never have {stranger}; they are made of {Alphabet} only, so look at the piece again";
            return false;
        }

        if (read.Length is < ShortestBody + 1 or > LongestBody + 1)
        {
            error = $"'{text}' is not a mark: a mark has {ShortestBody + 1} characters or a few more; look at the piece again";
            return false;
        }

        // The check character has weight 1, so the whole sum must vanish.
        var sum = WeightedSum(read.AsSpan(0, read.Length - 1)) + Alphabet.IndexOf(read[^1], StringComparison.Ordinal);
        if (sum % Base != 0)
        {
            error = $"'{text}' was misread or mistyped: its check character does not agree; look at the piece again";
            return false;
        }

        mark = read;
        error = "";
        return true;
    }

    private static int WeightedSum(ReadOnlySpan<char> body)
    {
        var sum = 0;
        for (var i = 0; i < body.Length; i++)
        {
            sum += (body.Length - i + 1) * Alphabet.IndexOf(body[i], StringComparison.Ordinal);
        }

        return sum;
    }

    private static long PowerOf17(int exponent)
    {
        var power = 1L;
        for (var i = 0; i < exponent; i++)
        {
            power *= Base;
        }

        return power;
    }

    /// <summary>About the golden section of the block, so that neighbours lie far apart; never a multiple of 17.</summary>
    private static long Scatter(long block)
    {
        var factor = (long)((Int128)block * 618_034 / 1_000_000);
        return factor % Base == 0 ? factor + 1 : factor;
    }
}
