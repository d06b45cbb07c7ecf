namespace Nest.Core.Texts;

/// <summary>Texts in cells that a spreadsheet must not take for formulas. Tables that are written guard them, tables that are read bare them.</summary>
public static class SafeCell
{
    /// <summary>A text that begins like a formula gets an apostrophe in front; so does one that begins with an apostrophe, so that
    /// taking one off gives the text back.</summary>
    public static string Guard(string text) => IsRisky(text) ? "'" + text : text;

    /// <summary>The text for a table with commas: what stands behind a semicolon or a tab in it must not become a formula where a spreadsheet
    /// splits there, so it gets an apostrophe too.</summary>
    public static string GuardInside(string text)
    {
        if (!text.AsSpan().ContainsAny(';', '\t'))
        {
            return Guard(text);
        }

        var safe = new System.Text.StringBuilder(text.Length + 4);
        for (var i = 0; i < text.Length; i++)
        {
            safe.Append(text[i]);
            var next = i + 1;
            while (text[i] is ';' or '\t' && next < text.Length && text[next] is ' ' or '"')
            {
                next++;
            }

            if (text[i] is ';' or '\t' && next < text.Length && "=+-@'".Contains(text[next], StringComparison.Ordinal))
            {
                safe.Append(text, i + 1, next - i - 1).Append('\'');
                i = next - 1;
            }
        }

        return Guard(safe.ToString());
    }

    /// <summary>The text without the guards of <see cref="GuardInside"/>.</summary>
    public static string Bare(string text)
    {
        text = BareStart(text);
        if (!text.Contains('\'') || !text.AsSpan().ContainsAny(';', '\t'))
        {
            return text;
        }

        var bare = new System.Text.StringBuilder(text.Length);
        for (var i = 0; i < text.Length; i++)
        {
            var before = i;
            while (before > 0 && text[before - 1] is ' ' or '"')
            {
                before--;
            }

            if (text[i] != '\'' || before == 0 || text[before - 1] is not (';' or '\t') || i + 1 >= text.Length || !"=+-@'".Contains(text[i + 1], StringComparison.Ordinal))
            {
                bare.Append(text[i]);
            }
            else
            {
                // What stands behind a guard is no guard itself.
                bare.Append(text[++i]);
            }
        }

        return bare.ToString();
    }

    private static string BareStart(string text) => text.Length > 1 && text[0] == '\'' && IsRisky(text[1..]) ? text[1..] : text;

    private static bool IsRisky(string text) => text.Length > 0 && "=+-@\t\r'".Contains(text[0], StringComparison.Ordinal);
}
