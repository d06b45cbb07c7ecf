using System.Collections.Concurrent;
using System.Text;
using Nest.Core.Texts;
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

    /// <summary>No cell or paragraph of ours is longer; of a longer text the rest is left out, so that one name never fills pages.</summary>
    private const int MostWrapped = 1000;

    // In millimetres: far below what is seen.
    private const double Rounding = 1e-6;

    /// <summary>Width of a text in the unit of its size.</summary>
    public static double Width(string text, Face face, double size)
    {
        // Summed as the runs are, so that a text measured is a text drawn to the last bit.
        var (whole, run) = (0.0, 0.0);
        Loaded? current = null;
        foreach (var rune in Clean(text).EnumerateRunes())
        {
            var (loaded, advance) = Find(rune, face);
            if (loaded is null || loaded != current)
            {
                whole += run;
                run = 0.0;
                current = loaded;
            }

            run += advance;
        }

        return (whole + run) * size;
    }

    /// <summary>The text, or as much of it as fits with an ellipsis behind; empty when not even that fits.</summary>
    /// <remarks>Linear in what fits: a name of ten thousand characters costs no more than a short one.</remarks>
    public static string Shorten(string text, Face face, double size, double width)
    {
        var clean = Clean(text);
        // A text that was moved to an edge has just its own width, less what sums lose in their last bits.
        width += Rounding;
        if (clean.Length <= MostWrapped && Width(clean, face, size) <= width)
        {
            return clean;
        }

        var ellipsis = Width("…", face, size);
        var (at, sum, best) = (0, 0.0, 0);
        foreach (var rune in clean.EnumerateRunes())
        {
            sum += Find(rune, face).Advance * size;
            at += rune.Utf16SequenceLength;
            if (sum > width)
            {
                // Too wide as a whole: what fits with an ellipsis is known by now.
                return best == 0 ? "" : clean[..best].TrimEnd() + "…";
            }

            // Blanks before the ellipsis fall away, so they are not counted.
            if (!Rune.IsWhiteSpace(rune) && sum + ellipsis <= width)
            {
                best = at;
            }
        }

        return clean;
    }

    /// <summary>Breaks a text into lines at blanks; a word that is too wide is broken where it must be.</summary>
    public static IReadOnlyList<string> Wrap(string text, Face face, double size, double width)
    {
        var lines = new List<string>();
        var line = "";
        foreach (var word in Words(Clean(PlainText.Shortened(text, MostWrapped))))
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
                if (runes.Length == 1)
                {
                    break;
                }

                var fits = 1;
                var sum = Find(runes[0], face).Advance * size;
                while (fits < runes.Length - 1 && (sum += Find(runes[fits], face).Advance * size) <= width)
                {
                    fits++;
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

    // A mixed number stays whole: "5" at the end of a line and "5/8" on the next would be read as two sizes. A number stays with its unit for the same reason.
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

    /// <summary>One line: what acts instead of being shown (controls, line ends, marks of reading direction) becomes a blank.</summary>
    public static string Clean(string text) => PlainText.OneLine(text);

    /// <summary>The characters of most texts (Latin, to U+017F), looked up once for each face: widths are asked for a hundred thousand times a plan.</summary>
    private static readonly Lazy<(Loaded? Loaded, double Advance)[][]> Latin = new(() =>
        [.. Enum.GetValues<Face>().Select(face => Enumerable.Range(0, 0x180).Select(code => Searched(new Rune(code), face)).ToArray())]);

    private static (Loaded? Loaded, double Advance) Find(Rune rune, Face face) => rune.Value < 0x180 ? Latin.Value[(int)face][rune.Value] : Searched(rune, face);

    private static (Loaded? Loaded, double Advance) Searched(Rune rune, Face face)
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

    private sealed class Loaded(SKTypeface typeface)
    {
        private const int Em = 2048;
        private readonly ConcurrentDictionary<int, double?> _advances = [];

        public SKTypeface Typeface { get; } = typeface;

        /// <summary>Advance in ems; null when the face lacks the character. May be asked from several threads.</summary>
        public double? Advance(int character) => _advances.TryGetValue(character, out var known) ? known : _advances.GetOrAdd(character, Measured);

        private double? Measured(int character)
        {
            using var font = new SKFont(Typeface, Em) { Hinting = SKFontHinting.None, Subpixel = true, LinearMetrics = true };
            var glyph = font.GetGlyph(character);
            return glyph == 0 ? null : Math.Round(font.GetGlyphWidths([glyph])[0]) / Em;
        }
    }
}
