using Nest.Core.Quantities;

namespace Nest.Cli.Commands.Rack;

/// <summary>Several lengths in one text: <c>500x300x10</c>, <c>20" x 12" x 3/8"</c>, <c>24 x 12 x 0.5 in</c>.</summary>
internal static class SizeText
{
    /// <summary>Reads sizes apart by x, all above zero.</summary>
    /// <param name="error">What is wrong; empty when read.</param>
    public static Length[]? Sizes(string text, LengthUnit unit, out string error) => Read(text, ['x', 'X', '×', '*'], unit, zeroIsLegal: false, out error);

    /// <summary>Reads lengths apart by these characters.</summary>
    public static Length[]? Read(string text, char[] apart, LengthUnit unit, bool zeroIsLegal, out string error)
    {
        var items = text.Split(apart, StringSplitOptions.TrimEntries);

        // "500 x 300 x 12.7 mm" is written for one unit; where another number has a unit of its own too, each keeps its own.
        var last = UnitOf(items[^1]);
        var shared = last.Length > 0 && items[..^1].All(item => UnitOf(item).Length == 0) ? last : "";
        var lengths = new List<Length>();
        for (var i = 0; i < items.Length; i++)
        {
            var reading = LengthText.Read(i < items.Length - 1 && items[i].Length > 0 ? $"{items[i]} {shared}" : items[i], unit);
            if (reading.Value is not { } length)
            {
                error = $"'{text}': {reading.Error}; {NumberInput.AtTheKeyboard(reading.Hint)}";
                return null;
            }

            if (zeroIsLegal ? length < Length.Zero : length <= Length.Zero)
            {
                error = $"'{text}': a size must {(zeroIsLegal ? "not be below" : "be above")} zero";
                return null;
            }

            lengths.Add(length);
        }

        error = "";
        return [.. lengths];
    }

    /// <summary>Whether the text names a unit anywhere.</summary>
    public static bool NamesUnit(string text) => text.Split('x', 'X', '×', '*').Any(item => UnitOf(item.Trim()).Length > 0);

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
}
