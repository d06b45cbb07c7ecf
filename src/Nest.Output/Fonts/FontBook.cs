using System.Text;
using SkiaSharp;

namespace Nest.Output.Fonts;

/// <summary>A stretch of text in one typeface; without a typeface: one character that no font has, drawn as a box.</summary>
/// <param name="Width">In ems.</param>
internal sealed record TextRun(SKTypeface? Typeface, string Text, double Width);

/// <summary>The embedded fonts: finds the face that has a character and measures texts.</summary>
/// <remarks>Widths are sums of unhinted advances, so that a text is equally wide on every machine and in every file. No shaping:
/// characters stand side by side as they do in Latin, Greek, Cyrillic and Chinese.</remarks>
internal static class FontBook
{
    /// <summary>Top of the tallest characters above the baseline, in ems (Chinese ones are the tallest).</summary>
    public const double Ascent = 0.86;

    /// <summary>Lowest descender below the baseline, in ems.</summary>
    public const double Descent = 0.24;

    /// <summary>Height of a capital or figure, in ems.</summary>
    public const double CapHeight = 0.73;

    /// <summary>Width of the box that stands for a character in no font, in ems.</summary>
    public const double MissingWidth = 0.7;

    private static readonly Lazy<Loaded[]> Faces = new(() =>
    [
        Load("DejaVuSansCondensed.ttf"), Load("DejaVuSansCondensed-Bold.ttf"), Load("DejaVuSansMono.ttf"),
        Load("DroidSansFallback-GB2312-1.ttf"),
    ]);

    private static readonly Lock Gate = new();

    /// <summary>Width of a text in the unit of its size.</summary>
    public static double Width(string text, Face face, double size) => Runs(text, face).Sum(run => run.Width) * size;

    /// <summary>The text, or as much of it as fits with an ellipsis behind; empty when not even that fits.</summary>
    public static string Shorten(string text, Face face, double size, double width)
    {
        var clean = Clean(text);
        if (Width(clean, face, size) <= width)
        {
            return clean;
        }

        var runes = clean.EnumerateRunes().ToArray();
        for (var count = runes.Length - 1; count > 0; count--)
        {
            var shorter = string.Concat(runes.Take(count)).TrimEnd() + "…";
            if (Width(shorter, face, size) <= width)
            {
                return shorter;
            }
        }

        return "";
    }

    /// <summary>Breaks a text into lines at blanks; a word that is too wide is broken where it must be.</summary>
    public static IReadOnlyList<string> Wrap(string text, Face face, double size, double width)
    {
        var lines = new List<string>();
        var line = "";
        foreach (var word in Words(Clean(text)))
        {
            var longer = line.Length == 0 ? word : line + " " + word;
            if (Width(longer, face, size) <= width)
            {
                line = longer;
                continue;
            }

            if (line.Length > 0)
            {
                lines.Add(line);
            }

            line = word;
            while (Width(line, face, size) > width)
            {
                var runes = line.EnumerateRunes().ToArray();
                var fits = 1;
                while (fits < runes.Length - 1 && Width(string.Concat(runes.Take(fits + 1)), face, size) <= width)
                {
                    fits++;
                }

                if (runes.Length == 1)
                {
                    break;
                }

                // Rather behind a hyphen than inside a word or a size, if the line is not left half empty by that.
                var hyphen = Array.FindLastIndex(runes, fits - 1, rune => rune.Value is '-' or '/' or '_') + 1;
                fits = hyphen * 2 > fits ? hyphen : fits;
                lines.Add(string.Concat(runes.Take(fits)));
                line = string.Concat(runes.Skip(fits));
            }
        }

        if (line.Length > 0 || lines.Count == 0)
        {
            lines.Add(line);
        }

        return lines;
    }

    // A mixed number stays whole: "5" at the end of a line and "5/8" on the next would be read as two sizes. So does a number with its unit.
    private static IEnumerable<string> Words(string text)
    {
        var word = "";
        foreach (var next in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            var goesOn = word.Length > 0 && char.IsAsciiDigit(word[^1]) && (next is "mm" or "kg" or "lb" || IsFraction(next));
            if (!goesOn && word.Length > 0)
            {
                yield return word;
            }

            word = goesOn ? word + " " + next : next;
        }

        if (word.Length > 0)
        {
            yield return word;
        }
    }

    private static bool IsFraction(string word)
    {
        var bar = word.IndexOf('/', StringComparison.Ordinal);
        return bar > 0 && bar + 1 < word.Length && word[..bar].All(char.IsAsciiDigit) && char.IsAsciiDigit(word[bar + 1]);
    }

    /// <summary>The text in stretches of one typeface.</summary>
    public static IReadOnlyList<TextRun> Runs(string text, Face face)
    {
        var runs = new List<TextRun>();
        var builder = new StringBuilder();
        Loaded? current = null;
        var width = 0.0;
        foreach (var rune in Clean(text).EnumerateRunes())
        {
            var (loaded, advance) = Find(rune, face);
            if (builder.Length > 0 && (loaded is null || loaded != current))
            {
                runs.Add(new(current!.Typeface, builder.ToString(), width));
                builder.Clear();
                width = 0.0;
            }

            current = loaded;
            if (loaded is null)
            {
                runs.Add(new(null, rune.ToString(), MissingWidth));
                continue;
            }

            builder.Append(rune.ToString());
            width += advance;
        }

        if (builder.Length > 0)
        {
            runs.Add(new(current!.Typeface, builder.ToString(), width));
        }

        return runs;
    }

    /// <summary>One line: control characters and line ends become blanks.</summary>
    public static string Clean(string text) =>
        text.Any(char.IsControl) ? string.Concat(text.Select(c => char.IsControl(c) ? ' ' : c)) : text;

    private static (Loaded? Loaded, double Advance) Find(Rune rune, Face face)
    {
        var faces = Faces.Value;
        ReadOnlySpan<int> order = face == Face.Bold ? [1, 0, 3] : face == Face.Mono ? [2, 0, 3] : [0, 3];
        foreach (var index in order)
        {
            if (faces[index].Advance(rune.Value) is { } advance)
            {
                return (faces[index], advance);
            }
        }

        return (null, MissingWidth);
    }

    private static Loaded Load(string name)
    {
        using var stream = typeof(FontBook).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The font {name} is not embedded.");
        using var data = SKData.Create(stream);
        return new(SKTypeface.FromData(data) ?? throw new InvalidOperationException($"The font {name} cannot be read."));
    }

    private sealed class Loaded
    {
        private const int Em = 2048;
        private readonly Dictionary<int, double?> _advances = [];

        public Loaded(SKTypeface typeface) => Typeface = typeface;

        public SKTypeface Typeface { get; }

        /// <summary>Advance in ems; null when the face lacks the character.</summary>
        public double? Advance(int character)
        {
            lock (Gate)
            {
                if (!_advances.TryGetValue(character, out var advance))
                {
                    using var font = new SKFont(Typeface, Em) { Hinting = SKFontHinting.None, Subpixel = true, LinearMetrics = true };
                    var glyph = font.GetGlyph(character);
                    advance = glyph == 0 ? null : Math.Round(font.GetGlyphWidths([glyph])[0]) / Em;
                    _advances[character] = advance;
                }

                return advance;
            }
        }
    }
}
