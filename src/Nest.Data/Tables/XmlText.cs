using System.Text;

namespace Nest.Data.Tables;

/// <summary>Texts and values of XML as they are meant: entities, numbers of characters, ends of lines.</summary>
internal sealed class XmlText
{
    private const int LongestEntity = 12;

    private readonly TextKeeper keeper = new();

    /// <summary>Text with its entities and ends of lines as they are meant.</summary>
    public string Plain(ReadOnlySpan<byte> text)
    {
        if (text.Length <= TextKeeper.Longest && !text.ContainsAny((byte)'&', (byte)'\r') && Ascii.IsValid(text))
        {
            Span<char> kept = stackalloc char[text.Length];
            Encoding.ASCII.GetChars(text, kept);
            return keeper.Of(kept);
        }

        var plain = XmlScanner.Strict.GetString(text);
        plain = plain.Contains('\r') ? plain.Replace("\r\n", "\n", StringComparison.Ordinal).Replace('\r', '\n') : plain;
        return plain.Contains('&') ? Meant(plain) : plain;
    }

    private static string Meant(ReadOnlySpan<char> text)
    {
        var meant = new StringBuilder(text.Length);
        for (var from = text.IndexOf('&'); from >= 0; from = text.IndexOf('&'))
        {
            meant.Append(text[..from]);
            text = text[(from + 1)..];
            var length = text[..Math.Min(text.Length, LongestEntity)].IndexOf(';');
            meant.Append(length < 1 ? throw XmlScanner.Damaged("a sign & without a meaning") : Entity(text[..length]));
            text = text[(length + 1)..];
        }

        return meant.Append(text).ToString();
    }

    private static string Entity(ReadOnlySpan<char> entity) => entity switch
    {
        "amp" => "&",
        "lt" => "<",
        "gt" => ">",
        "quot" => "\"",
        "apos" => "'",
        ['#', 'x', .. var digits] when uint.TryParse(digits, System.Globalization.NumberStyles.AllowHexSpecifier, null, out var code) => Sign(code),
        ['#', .. var digits] when uint.TryParse(digits, System.Globalization.NumberStyles.None, null, out var code) => Sign(code),
        _ => throw XmlScanner.Damaged("an entity that is not known"),
    };

    private static string Sign(uint code) => Rune.IsValid(code) ? new Rune(code).ToString() : throw XmlScanner.Damaged("a sign that is none");
}
