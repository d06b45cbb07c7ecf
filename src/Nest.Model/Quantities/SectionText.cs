using System.Text.RegularExpressions;
using Nest.Core.Jobs;

namespace Nest.Core.Quantities;

/// <summary>Sections in one text, as the trade writes them: <c>40x40x3 tube</c>, <c>L 50x50x5</c>, <c>hex 19</c>, <c>U 80x45x6</c>.</summary>
/// <remarks>The one reader and writer of sections for tables, for what is typed and for sheets. O(n).</remarks>
public static partial class SectionText
{
    /// <summary>The form that a text names, and the numbers without it.</summary>
    /// <param name="Form">Null: it names none.</param>
    /// <param name="PlainTube">It says tube, but not which: the numbers do.</param>
    /// <param name="Numbers">What is left.</param>
    public readonly record struct Named(Form? Form, bool PlainTube, string Numbers);

    /// <param name="letters">Whether L and T before the numbers are an angle and a tee; else they mark a length and a thickness, where the text has
    /// no more than three numbers.</param>
    public static Named Find(string text, bool letters)
    {
        (Regex Word, Form Form)[] words =
        [
            (Hex(), Form.HexBar), (BoxTube(), Form.RectangularTube), (RoundTube(), Form.RoundTube), (Angle(), Form.Angle), (Channel(), Form.Channel), (Tee(), Form.Tee),
        ];
        foreach (var (word, form) in words)
        {
            if (word.IsMatch(text))
            {
                return new(form, false, Rest(word, text));
            }
        }

        if (Tube().IsMatch(text))
        {
            return new(text.Any(c => "Øø⌀".Contains(c, StringComparison.Ordinal)) ? Form.RoundTube : null, true, Rest(Tube(), text));
        }

        var first = Letter().Match(text);
        var form1 = first.Success ? char.ToUpperInvariant(first.Value.Trim()[0]) switch { 'L' => Form.Angle, 'T' => Form.Tee, _ => Form.Channel } : default(Form?);
        return form1 is { } known && (letters || known == Form.Channel || text.Count(c => c is 'x' or 'X' or '×' or '*') > 2)
            ? new(known, false, text[first.Length..].Trim())
            : new(null, false, text);

        static string Rest(Regex word, string text) => word.Replace(text, " ", 1).Trim();
    }

    /// <summary>Outer sizes and walls from the numbers of a section, its length not among them.</summary>
    /// <param name="form">For <see cref="Form.Profile"/> the name is filled in by the caller.</param>
    /// <param name="wanted">What to write; for messages.</param>
    /// <returns>Null: they are not so many as the form needs.</returns>
    public static (Length Width, Length Thickness, SectionDetail Detail)? Sizes(Form form, IReadOnlyList<Length> numbers, out string wanted)
    {
        var (one, count) = (numbers.Count > 0 ? numbers[0] : Length.Zero, numbers.Count);
        wanted = form switch
        {
            Form.HexBar => "size across flats, such as hex 19",
            Form.RoundTube => "outside diameter x wall, such as 20x2",
            Form.RectangularTube => "side x side x wall, such as 60x40x3, or side x wall of a square one",
            Form.Angle => "leg x leg x thickness, such as L 50x50x5",
            Form.Channel => "height x flange x web, such as U 80x45x6, and the flange's thickness behind it where it is another",
            Form.Tee => "flange x height x thickness, such as T 40x40x5, and the flange's thickness behind it where it is another",
            _ => "width x height",
        };
        return (form, count) switch
        {
            (Form.HexBar, 1) => (one, one, new()),
            (Form.RoundTube, 2) => (one, one, new() { Wall = numbers[1] }),
            (Form.RectangularTube or Form.Angle or Form.Tee, 2) => (one, one, new() { Wall = numbers[1] }),
            (Form.RectangularTube or Form.Angle, 3) => (Length.Max(one, numbers[1]), Length.Min(one, numbers[1]), new() { Wall = numbers[2] }),
            (Form.Channel or Form.Tee, 3) => (one, numbers[1], new() { Wall = numbers[2] }),
            (Form.Channel or Form.Tee, 4) => (one, numbers[1], new() { Wall = numbers[2], Flange = numbers[3] == numbers[2] ? null : numbers[3] }),
            (Form.Profile, 1) => (one, one, new()),
            (Form.Profile, 2) => (one, numbers[1], new()),
            _ => null,
        };
    }

    /// <summary>A bar's section in short: <c>40 × 20</c>, <c>Ø 30</c>, <c>Ø 20 × 2</c>, <c>60 × 40 × 3</c>, <c>L 50 × 50 × 5</c>, <c>hex 19</c>.</summary>
    /// <param name="text">A length without its unit.</param>
    public static string Of(Form form, Length width, Length thickness, SectionDetail? detail, Func<Length, string> text)
    {
        var both = $"{text(width)} × {text(thickness)}";
        var wall = detail?.Wall is { } known ? $" × {text(known)}{(detail.Flange is { } flange ? $" × {text(flange)}" : "")}" : "";
        return form switch
        {
            Form.RoundBar => $"Ø {text(width)}",
            Form.HexBar => $"hex {text(width)}",
            Form.RoundTube => $"Ø {text(width)}{wall}",
            Form.RectangularTube => both + wall,
            Form.Angle => $"L {both}{wall}",
            Form.Channel => $"U {both}{wall}",
            Form.Tee => $"T {both}{wall}",
            Form.Profile => $"{detail?.Name} {both}",
            _ => both,
        };
    }

    /// <summary>Section of a stock.</summary>
    public static string Of(Stock stock, Func<Length, string> text) => Of(stock.Form, stock.Width, stock.Thickness, stock.Detail, text);

    [GeneratedRegex("""\b(?:hex(?:agon(?:al(?:e)?)?)?|sechskant|6-?kt)(?:[\s-]*(?:bar|stange|rod))?\b\.?|(?<=\d["”″']?\s*)(?:a/?f|across\s+flats)\b""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Hex();

    [GeneratedRegex("""\b(?:(?:sq(?:uare)?|rect(?:angular)?|box)\.?[\s-]*(?:tub(?:e|ing)|section)|[sr]hs|(?:vierkant|quadrat|rechteck|form)-?rohr|tube\s+(?:carr[ée]|rectangulaire)|tubo\s+(?:cuadrado|rectangular))\b""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex BoxTube();

    [GeneratedRegex("""\b(?:r(?:ou)?nd\.?[\s-]*tub(?:e|ing)|chs|pipe|rundrohr|tube\s+rond|tubo\s+redondo)\b""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex RoundTube();

    [GeneratedRegex("""\b(?:tub(?:e|ing)|rohr|tubo|hss)\b""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Tube();

    [GeneratedRegex("""\b(?:l[\s-]*profil|angle(?:[\s-]*(?:iron|bar))?|winkel(?:profil|stahl)?|corni[eè]re|angular|[aá]ngulo)\b""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Angle();

    [GeneratedRegex("""\b(?:(?:[uc][\s-]*)?channel|u-?profil|u-?stahl|upn|profil[ée]\s+en\s+u|canal)\b""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Channel();

    [GeneratedRegex("""\b(?:tee(?:[\s-]*(?:bar|section))?|t-(?:profil|stahl)|profil[ée]\s+en\s+t)\b""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Tee();

    [GeneratedRegex("""^\s*[LTU]\s*(?=\d)""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Letter();
}
