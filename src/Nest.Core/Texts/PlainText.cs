using System.Globalization;
using System.Text;

namespace Nest.Core.Texts;

/// <summary>Texts that a terminal must not take for commands, and that must not be read in another order than they are written.</summary>
public static class PlainText
{
    /// <summary>The text with control characters, marks of writing direction and half surrogates written out: <c>\u001b</c>. Line ends and
    /// tabs stay where <paramref name="lines"/> says so.</summary>
    public static string Of(string text, bool lines = true)
    {
        StringBuilder? plain = null;
        for (var i = 0; i < text.Length; i++)
        {
            var c = text[i];
            if (char.IsHighSurrogate(c) && i + 1 < text.Length && char.IsLowSurrogate(text[i + 1]))
            {
                plain?.Append(c).Append(text[i + 1]);
                i++;
                continue;
            }

            if (IsRisky(c) && !(lines && c is '\n' or '\t') && !(lines && c == '\r' && i + 1 < text.Length && text[i + 1] == '\n'))
            {
                plain ??= new(text, 0, i, text.Length + 16);
                plain.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}");
            }
            else
            {
                plain?.Append(c);
            }
        }

        return plain?.ToString() ?? text;
    }

    // Control characters (C0, DEL, C1), line and paragraph separators, direction marks and isolates, the byte order mark, loose halves of pairs.
    private static bool IsRisky(char c) => c < ' ' || (c >= '\u007F' && c <= '\u009F') || c is '\u061C' or '\u200E' or '\u200F' or '\uFEFF'
        || (c >= '\u2028' && c <= '\u202E') || (c >= '\u2066' && c <= '\u2069') || char.IsSurrogate(c);
}
