using System.Text;

namespace Nest.Core.Texts;

/// <summary>Texts in cells that a spreadsheet must not take for formulas. Tables that are written guard them, tables that are read bare them.</summary>
/// <remarks>A program that splits a table of commas at semicolons, tabs or line ends sees the quotes inside a line as plain characters: what
/// stands behind such a mark is a cell of its own to it, so it is guarded too.</remarks>
public static class SafeCell
{
    /// <summary>Where a cell or a piece of it begins like a formula, an apostrophe comes in front; so does one in front of an apostrophe, so
    /// that taking one off gives the text back.</summary>
    public static string Guard(string text)
    {
        StringBuilder? guarded = null;
        for (var at = 0; at < text.Length; at++)
        {
            if (Begins(text, at) && IsRisky(text[at]))
            {
                guarded ??= new StringBuilder(text, 0, at, text.Length + 4);
                guarded.Append('\'');
            }

            guarded?.Append(text[at]);
        }

        return guarded?.ToString() ?? text;
    }

    /// <summary>The text without the guards.</summary>
    public static string Bare(string text)
    {
        StringBuilder? bare = null;
        for (var at = 0; at < text.Length; at++)
        {
            if (text[at] == '\'' && Begins(text, at) && at + 1 < text.Length && IsRisky(text[at + 1]))
            {
                bare ??= new StringBuilder(text, 0, at, text.Length);
                // The guarded character itself is no guard.
                at++;
            }

            bare?.Append(text[at]);
        }

        return bare?.ToString() ?? text;
    }

    /// <summary>Whether a cell may begin here: at the text's begin, or behind a mark that splits cells and the blanks and quotes after it.</summary>
    private static bool Begins(string text, int at)
    {
        if (at == 0)
        {
            return true;
        }

        var before = at - 1;
        while (before > 0 && text[before] is ' ' or '"')
        {
            before--;
        }

        return text[before] is ';' or '\t' or '\n' or '\r';
    }

    private static bool IsRisky(char c) => c is '=' or '+' or '-' or '@' or '\t' or '\r' or '\'';
}
