namespace Nest.Core.Texts;

/// <summary>Texts in cells that a spreadsheet must not take for formulas. Tables that are written guard them, tables that are read bare them.</summary>
public static class SafeCell
{
    /// <summary>A text that begins like a formula gets an apostrophe in front; so does one that begins with an apostrophe, so that
    /// taking one off gives the text back.</summary>
    public static string Guard(string text) => IsRisky(text) ? "'" + text : text;

    /// <summary>The text without the guard.</summary>
    public static string Bare(string text) => text.Length > 1 && text[0] == '\'' && IsRisky(text[1..]) ? text[1..] : text;

    private static bool IsRisky(string text) => text.Length > 0 && "=+-@\t\r'".Contains(text[0], StringComparison.Ordinal);
}
