using System.Text.RegularExpressions;
using Nest.Core.Quantities;
using Nest.Data.Csv;
using Nest.Data.Tables;

namespace Nest.Data.Stocks;

/// <summary>A price as suppliers write it.</summary>
/// <param name="Value">The number; null: none, or it was refused.</param>
/// <param name="Unit">What it is for, where the cell says so: <c>3.20/ft</c>.</param>
/// <param name="OnRequest">Whether it says "call" or the like.</param>
internal readonly partial record struct AmountCell(decimal? Value, PriceUnit? Unit, bool OnRequest)
{
    /// <summary>Reads <c>$21.40</c>, <c>21,40 EUR</c>, <c>1.250,00 €</c>, <c>3.20/ft</c>, <c>$85.00 per 100 lb</c>, <c>85.00 CWT</c>, <c>call</c>.</summary>
    /// <param name="currency">Currency of the list; a cell in another one is refused. Null: not known.</param>
    public static AmountCell Read(CsvRow row, string column, decimal most, string? currency)
    {
        var text = row.Text(column);
        if (text.Length == 0)
        {
            return default;
        }

        if (Words.Fold(text) is "call" or "calls" or "poa" or "por" or "onrequest" or "request" or "rfq" or "tbd" or "tba" or "na" or "aufanfrage" or "anfrage" or "surdemande" or "consultar" or "aconsultar" or "quote" or "callforprice" or "priceonrequest" or ""
            && !text.Any(char.IsAsciiDigit))
        {
            return new(null, null, true);
        }

        if (row.MarkOf(column) is not { } mark)
        {
            row.Fail(); // which mark it is was asked for the whole column
            return default;
        }

        PriceUnit? unit = null;
        if (Behind().Match(text) is { Success: true } behind && PriceUnit.Of(behind.Groups["unit"].Value) is { } per)
        {
            unit = per;
            text = text[..behind.Index];
        }

        var match = Currency().Match(text.Trim());
        var digits = match.Groups["number"].Value;
        var code = !digits.Any(char.IsAsciiDigit) ? "" : Code(match.Groups["before"].Value.Trim(), match.Groups["after"].Value.Trim());
        if (currency is not null && code.Length > 0 && !string.Equals(code, currency, StringComparison.OrdinalIgnoreCase))
        {
            row.Error(column, "currency-other", $"{column} is {row.Text(column)}, but the amounts here are in {currency}", $"give them in {currency}, or give the supplier currency = \"{code}\"");
            return default;
        }

        var plain = DecimalMarks.WithoutGroups(Spaces().Replace(digits.Any(char.IsAsciiDigit) ? digits : text, ""), mark);
        var reading = NumberText.Read(plain, mark);
        if (reading.Value is not { } value)
        {
            row.Unreadable(column, "number-unreadable", reading.Error, reading.Hint);
            return default;
        }

        if (value < 0m || value > most)
        {
            row.Error(column, "number-out-of-range", $"{column} is {row.Text(column)}", CsvRow.Range(0m, most));
            return default;
        }

        return new(value, unit, false);
    }

    /// <summary>Three letters of the currency that a cell names for sure; a dollar sign may be of several countries.</summary>
    private static string Code(string before, string after) => (before.Length > 0 ? before : after) switch
    {
        "€" => "EUR",
        "£" => "GBP",
        { Length: 3 } letters => letters.ToUpperInvariant(),
        _ => "",
    };

    [GeneratedRegex("""^(?<before>[$€£¥]|[A-Z]{3}\b|US\s?\$)?\s*(?<number>.*?)\s*(?<after>[$€£¥]|[A-Z]{3})?\s*$""", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Currency();

    [GeneratedRegex("""\s*(?:(?:/|\bper\b|\bje\b|\bpro\b)\s*(?<unit>(?:(?:100|hundred|lin\.?|lineal|linear|sq\.?)\s+)?[\p{L}\d²#]{1,14})|\s(?<unit>cwt|lbs?|kg|ft|ea|each|pcs?))\.?\s*$""", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Behind();

    // Blanks between groups of three digits, as in 1 250,00.
    [GeneratedRegex("""(?<=\d)[ \u00A0\u202F](?=\d{3}(?!\d))""", RegexOptions.CultureInvariant)]
    private static partial Regex Spaces();
}
