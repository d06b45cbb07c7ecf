using System.Globalization;
using System.Text.RegularExpressions;
using Nest.Core.Jobs;

namespace Nest.Data.Stocks;

/// <summary>What a price is for: so many of a basis, as per hundred pieces or per hundredweight.</summary>
/// <param name="Factor">What one price is per one of the basis: 0.01 for a price per hundred.</param>
internal readonly partial record struct PriceUnit(PriceBasis Basis, decimal Factor = 1m)
{
    public const string Words = "piece, m, m2, kg, ft, ft2, lb, 100, cwt, 100 kg or t";

    /// <summary>A hundredweight is the short one of the United States, 100 lb (NIST Handbook 44, appendix C; from memory).</summary>
    public static PriceUnit? Of(string text)
    {
        var word = string.Concat(text.Trim().ToLowerInvariant().Replace("²", "2", StringComparison.Ordinal).Where(c => !char.IsWhiteSpace(c) && c is not ('.' or '-')));
        foreach (var before in (string[])["per", "/", "je", "pro", "par", "por"])
        {
            if (word.StartsWith(before, StringComparison.Ordinal) && word.Length > before.Length && word != "piece")
            {
                word = word[before.Length..];
                break;
            }
        }

        return word switch
        {
            "" or "piece" or "pieces" or "pc" or "pcs" or "each" or "ea" or "unit" or "bar" or "plate" or "length" or "st" or "stk" or "stück" or "stueck" or "pièce" or "pce" or "pieza" or "ud" or "stange" => new(PriceBasis.Piece),
            "m" or "metre" or "meter" or "mtr" or "lfm" or "laufmeter" or "mètre" or "metro" or "lm" => new(PriceBasis.Metre),
            "m2" or "sqm" or "qm" or "squaremetre" or "squaremeter" => new(PriceBasis.SquareMetre),
            "kg" or "kilo" or "kilogram" or "kilogramm" => new(PriceBasis.Kilogram),
            "ft" or "foot" or "lf" or "linft" or "linealfoot" or "linearfoot" or "lft" => new(PriceBasis.Foot),
            "in" or "inch" => new(PriceBasis.Foot, 12m),
            "ft2" or "sqft" or "sf" or "squarefoot" => new(PriceBasis.SquareFoot),
            "lb" or "lbs" or "pound" or "#" => new(PriceBasis.Pound),
            "cwt" or "cwts" or "hundredweight" or "100lb" or "100lbs" or "hundredlb" or "hundredlbs" or "hundredpounds" or "100pounds" => new(PriceBasis.Pound, 0.01m),
            "100kg" or "%kg" => new(PriceBasis.Kilogram, 0.01m),
            "t" or "to" or "tonne" or "1000kg" => new(PriceBasis.Kilogram, 0.001m),
            "100" or "c" or "hundred" or "100pcs" or "100pc" or "100pieces" or "100st" or "100stk" or "100stück" or "100ea" or "hundredpieces" or "hundredpcs" or "hundredea" or "cpcs" => new(PriceBasis.Piece, 0.01m),
            "1000" or "thousand" or "1000pcs" or "1000st" or "1000stk" or "1000stück" => new(PriceBasis.Piece, 0.001m),
            "100ft" => new(PriceBasis.Foot, 0.01m),
            "100m" => new(PriceBasis.Metre, 0.01m),
            _ => null,
        };
    }
}

/// <summary>A column of prices that says in its head what they are for, or from how many pieces they hold.</summary>
/// <param name="Head">As written.</param>
/// <param name="From">1: for any number.</param>
internal sealed partial record PriceHead(string Head, PriceUnit? Unit, int From)
{
    /// <summary>Reads <c>Price/ft</c>, <c>$ per lb</c>, <c>EUR/100 kg</c>, <c>Preis je m</c>, <c>price from 5</c>, <c>10+</c>, <c>5-9 pcs</c>; null: no such head.</summary>
    public static PriceHead? Of(string head)
    {
        if (head.Length is 0 or > 60)
        {
            return null;
        }

        if (Each().IsMatch(head))
        {
            return new(head, new(PriceBasis.Piece), 1);
        }

        if (Per().Match(head) is { Success: true } per && PriceUnit.Of(per.Groups["unit"].Value) is { } unit)
        {
            return new(head, unit, 1);
        }

        return Range().Match(head) is { Success: true } range
            && int.TryParse(range.Groups["from"].Value, NumberStyles.None, CultureInfo.InvariantCulture, out var from) && from >= 1
            ? new(head, null, from)
            : null;
    }

    [GeneratedRegex("""^\s*(?:price|preis|prix|precio|[$€£])\s*[\(\[]?\s*(?:each|ea\.?|pc|stk)\s*[\)\]]?\s*$""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Each();

    [GeneratedRegex("""^\s*(?:(?:unit|net|list|netto|listen)?\s*(?:price|preis|prix|precio|cost|rate)s?|[$€£]|USD|EUR|GBP|CHF|CAD|AUD)\s*(?:[\(\[]\s*(?:[$€£]|[A-Z]{3})\s*[\)\]])?\s*[\(\[]?\s*(?:[$€£]|USD|EUR|GBP|CHF)?\s*(?:/|per\b|je\b|pro\b|par\b|por\b)\s*(?<unit>[^\)\]]{1,20}?)\s*[\)\]]?\s*$""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Per();

    [GeneratedRegex("""^\s*(?:(?:price|preis|prix|precio)[\s_-]*(?:from|ab|dès|desde|at|for)[\s_-]*(?<from>\d{1,7})\s*(?:pcs|pc|stk)?|(?:price|preis|prix|precio|qty|menge|net|[$€£])?\s*(?<from>\d{1,7})\s*(?:\+|(?:-|–|to|bis)\s*\d{1,7})\s*(?:pcs|pc|ea|stk)?|(?:from|ab|dès|desde|≥|>=)\s*(?<from>\d{1,7})\s*(?:pcs|pc|ea|stk)?)\s*$""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Range();
}
