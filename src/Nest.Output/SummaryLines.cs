using Nest.Output.Fonts;

namespace Nest.Output;

/// <summary>Lines of a fixed width for a terminal.</summary>
internal static class SummaryLines
{
    /// <summary>Broken between words; a word longer than a line goes on in the next one.</summary>
    public static IEnumerable<string> Wrapped(string text, int width)
    {
        var clean = FontBook.Clean(text);
        var from = 0;
        while (clean.Length - from > width)
        {
            // The blanks that a line begins with are its indent, no place to break it.
            var indent = clean[from..].TakeWhile(letter => letter == ' ').Count();
            var blank = clean.LastIndexOf(' ', from + width, width - indent);
            var to = blank > from + indent ? blank : from + width;
            yield return clean[from..to].TrimEnd();
            from = blank == to ? to + 1 : to;
        }

        yield return clean[from..];
    }

    public static string Pad(string text, int width) => Cut(FontBook.Clean(text), width).PadRight(width);

    public static string Right(object value, int width) =>
        (Convert.ToString(value, System.Globalization.CultureInfo.InvariantCulture) ?? "").PadLeft(width);

    public static string Cut(string text, int width) => text.Length <= width ? text : text[..(width - 1)] + "…";
}
