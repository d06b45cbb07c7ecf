using System.Globalization;
using System.Text;

namespace Nest.Core.Texts;

/// <summary>Texts from outside, made fit to be shown: a name may hold characters that move the cursor, ring a bell, recolour the
/// terminal or turn the reading direction around, so that one reads something else than what is there.</summary>
public static class PlainText
{
    /// <summary>Whether a character is not shown but acts: controls (C0, DEL, C1), line and paragraph separators, marks of reading direction
    /// (Unicode Standard Annex 9, table of directional formatting characters), half of a surrogate pair being judged by the caller.</summary>
    public static bool Acts(char c) => char.IsControl(c) || c is '\u2028' or '\u2029' or '\u061C' or '\u200E' or '\u200F' or (>= '\u202A' and <= '\u202E') or (>= '\u2066' and <= '\u2069') or '\uFEFF';

    /// <summary>One line for paper, pictures and pages: each acting character, and half of a surrogate pair, becomes a blank.</summary>
    public static string OneLine(string text) => IsPlain(text, keepLines: false) ? text : Replaced(text, keepLines: false, _ => " ");

    /// <summary>For a terminal: an acting character is written as <c>\u001B</c>, the way JSON writes it, so that nothing is hidden. Line ends
    /// and tabs stay.</summary>
    public static string Visible(string text) =>
        IsPlain(text, keepLines: true) ? text : Replaced(text, keepLines: true, c => string.Create(CultureInfo.InvariantCulture, $"\\u{(int)c:X4}"));

    /// <summary>As much of a text as is worth reading, with an ellipsis behind; never half of a surrogate pair.</summary>
    /// <param name="most">Characters, two at least.</param>
    public static string Shortened(string text, int most)
    {
        if (text.Length <= most)
        {
            return text;
        }

        var end = char.IsHighSurrogate(text[most - 2]) ? most - 2 : most - 1;
        return text[..end].TrimEnd() + "…";
    }

    private static bool IsPlain(string text, bool keepLines)
    {
        var rest = text.AsSpan();
        while (rest.IndexOfAnyExceptInRange(' ', '~') is >= 0 and var at)
        {
            var c = rest[at];
            rest = rest[(at + 1)..];
            if (char.IsHighSurrogate(c) && rest.Length > 0 && char.IsLowSurrogate(rest[0]))
            {
                rest = rest[1..];
            }
            else if (char.IsSurrogate(c) || (Acts(c) && !(keepLines && c is ('\n' or '\t'))))
            {
                return false;
            }
        }

        return true;
    }

    private static string Replaced(string text, bool keepLines, Func<char, string> by)
    {
        var shown = new StringBuilder(text.Length + 16);
        for (var at = 0; at < text.Length; at++)
        {
            var c = text[at];
            if (char.IsHighSurrogate(c) && at + 1 < text.Length && char.IsLowSurrogate(text[at + 1]))
            {
                shown.Append(c).Append(text[++at]);
            }
            else if (keepLines && c is '\r' && at + 1 < text.Length && text[at + 1] == '\n')
            {
                // A line end of Windows is one line end.
            }
            else if (char.IsSurrogate(c) || (Acts(c) && !(keepLines && c is ('\n' or '\t'))))
            {
                shown.Append(by(c));
            }
            else
            {
                shown.Append(c);
            }
        }

        return shown.ToString();
    }
}
