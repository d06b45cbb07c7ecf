namespace Nest.Rack.Marks;

/// <summary>A mark as it is painted on a piece: one that the rack gave, with its check character, or one of the shop's own.</summary>
/// <remarks>Own marks are kept as they are written; they are found whatever their case. One that has only characters of the rack's own marks, and
/// as many, but a wrong check character is taken for misread.</remarks>
public static class PieceMark
{
    /// <summary>Longest mark of a shop's own.</summary>
    public const int Longest = 24;

    /// <summary>Reads a mark as a person types it.</summary>
    /// <param name="mark">The mark as it is stored; empty when refused.</param>
    /// <param name="error">What is wrong and what to do; empty when read.</param>
    public static bool TryRead(string text, out string mark, out string error)
    {
        if (MarkScheme.TryRead(text, out mark, out var unlike))
        {
            error = "";
            return true;
        }

        var own = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        var bare = own.Replace(" ", "", StringComparison.Ordinal).Replace("-", "", StringComparison.Ordinal).ToUpperInvariant();
        error = own.Length == 0 ? "the mark is empty; name the one on the piece"
            : own.Length > Longest ? $"'{own[..Longest]}…' is not a mark: it has more than {Longest} characters"
            : own.FirstOrDefault(c => !char.IsLetterOrDigit(c) && !"-_./#+ ".Contains(c, StringComparison.Ordinal)) is var stranger and not '\0'
                ? $"'{own}' is not a mark: a mark has letters, digits and -_./#+, and no {(char.IsControl(stranger) ? "control character" : stranger)}"
            : bare.Length is >= 4 and <= 9 && bare.All(c => MarkScheme.Alphabet.Contains(c, StringComparison.Ordinal)) ? unlike
            : "";
        mark = error.Length == 0 ? own : "";
        return error.Length == 0;
    }
}
