using System.Collections.Immutable;
using System.Text.RegularExpressions;

namespace Nest.Core.Quantities;

/// <summary>What stands at a number of a size.</summary>
public enum SizeMark
{
    None,

    /// <summary><c>Ø20</c>, <c>5/8 dia</c>.</summary>
    Diameter,

    /// <summary><c>□ 20</c>, <c>1 sq</c>.</summary>
    Side,

    /// <summary><c>85 long</c>, <c>L = 85</c>.</summary>
    Length,

    /// <summary><c>50 wide</c>.</summary>
    Width,

    /// <summary><c>3/8 thk</c>.</summary>
    Thickness,
}

/// <summary>One number of a size.</summary>
/// <param name="Text">As written, without its mark.</param>
public readonly record struct SizeItem(Length Length, SizeMark Mark, string Text);

/// <summary>A size in one text: its numbers in their order.</summary>
/// <param name="Items">Empty when refused.</param>
/// <param name="Error">What is wrong; empty when read.</param>
/// <param name="Hint">What to write instead; empty when read.</param>
public readonly record struct SizeReading(ImmutableArray<SizeItem> Items, string Error, string Hint);

/// <summary>Several lengths in one text: <c>500x300x10</c>, <c>20" x 12" x 3/8"</c>, <c>24 x 12 x 0.5 in</c>, <c>5/8 dia x 3-1/4</c>,
/// <c>Ø20 x 85</c>. The one reader of sizes for tables and for what is typed.</summary>
/// <remarks>A unit behind the last number alone is meant for all. What stands at a number (dia, thk, long …) says which it is. O(n).</remarks>
public static partial class SizeText
{
    private const string Example = "write sizes apart by x, such as 3/8 x 4 x 7-1/4 or 5/8 dia x 3-1/4";

    /// <summary>Reads a size; every number is above zero.</summary>
    /// <param name="mark">Decimal mark.</param>
    /// <param name="most">Most numbers.</param>
    public static SizeReading Read(string text, LengthUnit unit, char mark = '.', int most = 4)
    {
        if (text.Length > 120)
        {
            return Refused($"'{text[..40]}…' is too long for a size", Example);
        }

        if (Hexagon().IsMatch(text))
        {
            return Refused($"'{text}' is a hexagon", "give it the form hex bar; its size is across flats, then its length");
        }

        var words = Apart(text.Trim()).Select(Marked).ToArray();
        if (words.Length > most)
        {
            return Refused($"'{text}' has {words.Length} numbers", Example);
        }

        // "500 x 300 x 12.7 mm" is written for one unit; where another number has a unit of its own too, each keeps its own.
        var last = UnitOf(words[^1].Text);
        var shared = last.Length > 0 && words[..^1].All(item => UnitOf(item.Text).Length == 0) ? last : "";
        var items = ImmutableArray.CreateBuilder<SizeItem>(words.Length);
        foreach (var (word, at) in words.Select((word, at) => (word, at)))
        {
            if (word.Text.Length == 0)
            {
                return Refused($"'{text}' has an x without a number beside it", Example);
            }

            var reading = LengthText.Read(at < words.Length - 1 && shared.Length > 0 ? $"{word.Text} {shared}" : word.Text, unit, mark);
            if (reading.Value is not { } length)
            {
                return Refused($"'{text}': {reading.Error}", reading.Hint);
            }

            if (length <= Length.Zero)
            {
                return Refused($"'{text}': a size must be above zero", Example);
            }

            items.Add(new(length, word.Mark, word.Text));
        }

        return new(items.ToImmutable(), "", "");
    }

    /// <summary>Whether the text looks like a size: numbers apart by x, or one marked as a diameter.</summary>
    public static bool LooksLikeSize(string text) => text.Length is > 2 and <= 120 && Shape().IsMatch(text);

    /// <summary>Whether the text names a unit anywhere.</summary>
    public static bool NamesUnit(string text) => Apart(text).Any(item => UnitOf(Marked(item).Text).Length > 0);

    /// <summary>Lengths apart by commas, none below zero, as in an area <c>x,y,width,height</c>.</summary>
    /// <param name="error">What is wrong; empty when read.</param>
    public static Length[]? List(string text, LengthUnit unit, out string error)
    {
        var items = text.Split(',', StringSplitOptions.TrimEntries);
        var last = UnitOf(items[^1]);
        var shared = last.Length > 0 && items[..^1].All(item => UnitOf(item).Length == 0) ? last : "";
        var lengths = new Length[items.Length];
        for (var i = 0; i < items.Length; i++)
        {
            var reading = LengthText.Read(i < items.Length - 1 && items[i].Length > 0 ? $"{items[i]} {shared}" : items[i], unit);
            if (reading.Value is not { } length)
            {
                error = $"'{text}': {reading.Error}; {reading.Hint}";
                return null;
            }

            if (length < Length.Zero)
            {
                error = $"'{text}': a size must not be below zero";
                return null;
            }

            lengths[i] = length;
        }

        error = "";
        return lengths;
    }

    /// <summary>Splits at every x that is not within a word, at × and *, and at "by".</summary>
    private static List<string> Apart(string text)
    {
        var items = new List<string>();
        var start = 0;
        for (var i = 0; i < text.Length; i++)
        {
            var length = text[i] is '×' or '✕' or '*' || (text[i] is 'x' or 'X' && IsAlone(text, i, i + 1)) ? 1
                : i + 2 <= text.Length && text.AsSpan(i, 2).Equals("by", StringComparison.OrdinalIgnoreCase) && IsAlone(text, i, i + 2) ? 2 : 0;
            if (length > 0)
            {
                items.Add(text[start..i].Trim());
                start = i + length;
                i += length - 1;
            }
        }

        items.Add(text[start..].Trim());
        return items;
    }

    private static bool IsAlone(string text, int from, int to)
    {
        var (before, after) = (from, to);
        while (before > 0 && char.IsLetter(text[before - 1]) && text[before - 1] is not ('ø' or 'Ø' or 'Φ' or 'φ'))
        {
            before--;
        }

        while (after < text.Length && char.IsLetter(text[after]) && text[after] is not ('ø' or 'Ø' or 'Φ' or 'φ'))
        {
            after++;
        }

        return IsKnown(text[before..from]) && IsKnown(text[to..after]);

        static bool IsKnown(string word) => word.ToLowerInvariant() is "" or "mm" or "cm" or "m" or "in" or "inch" or "inches" or "ft" or "dia" or "diam" or "diameter" or "rd"
            or "round" or "sq" or "square" or "l" or "lg" or "long" or "w" or "wide" or "b" or "t" or "thk" or "thick" or "d" or "thou";
    }

    private static (string Text, SizeMark Mark) Marked(string item)
    {
        var text = item.Trim().TrimEnd(',', ';');
        if (text.Length > 0 && char.IsAsciiDigit(text[0]) && char.IsAsciiDigit(text[^1]))
        {
            return (text, SizeMark.None);
        }

        if (MarkBefore().Match(text) is { Success: true } before)
        {
            return (text[before.Length..].Trim(), MarkOf(before.Value));
        }

        return MarkBehind().Match(text) is { Success: true } behind
            ? (text[..behind.Index].Trim(), MarkOf(behind.Groups["mark"].Value))
            : (text, SizeMark.None);
    }

    private static SizeMark MarkOf(string word) => word.Trim(' ', '.', '=', ':').ToLowerInvariant() switch
    {
        "sq" or "square" or "□" or "vkt" => SizeMark.Side,
        "l" or "lg" or "long" or "length" or "lang" => SizeMark.Length,
        "w" or "wide" or "width" or "b" or "breit" => SizeMark.Width,
        "t" or "thk" or "thick" or "th" or "dick" => SizeMark.Thickness,
        _ => SizeMark.Diameter,
    };

    /// <summary>What stands behind the last digit: <c>mm</c>, <c>in</c>, <c>"</c>, <c>'</c>; empty when nothing does.</summary>
    private static string UnitOf(string item)
    {
        var at = item.Length;
        while (at > 0 && !char.IsNumber(item[at - 1]) && item[at - 1] is not ('.' or ','))
        {
            at--;
        }

        return at == 0 ? "" : item[at..].Trim();
    }

    private static SizeReading Refused(string error, string hint) => new([], error, hint);

    [GeneratedRegex("""^(?:[øØ⌀∅Φφ□]|(?:dia(?:m(?:eter|etre)?)?|rd|round|sq|square|vkt|thk|d|l|w|b|t)\b\.?|[dlwbt](?=\d))\s*[=:]?\s*""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex MarkBefore();

    [GeneratedRegex("""(?<=[\d"”″'\s.]|mm|in|½|¼|¾|⅛|⅜|⅝|⅞)\s*(?<mark>[øØ⌀∅□]|(?:dia(?:m(?:eter|etre)?)?|rd|round|sq|square|vkt|thk|thick|lg|long|length|lang|wide|width|breit|dick|l|w|b|t|d)\.?)\s*$""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex MarkBehind();

    [GeneratedRegex("""\b(?:hex|hexagon|hexagonal|sechskant|6-?kt)\b""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Hexagon();

    [GeneratedRegex("""\d.*?[\d"”″'½¼¾⅛⅜⅝⅞a-z.]\s*[x×*]\s*\S*\d|[øØ⌀∅]\s*\d|\d.*\bdia|\bhex\s*\d""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Shape();
}
