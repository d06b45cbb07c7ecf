using System.Globalization;
using Tomlyn;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace Nest.Data.Toml;

/// <summary>Changes single settings of a TOML file that a person wrote: only the value's own characters change, so comments, order and blanks stay.</summary>
/// <remarks>Settings at the top of the file, above its first table. Keys are compared as <see cref="TomlTable"/> does. The text must be valid TOML.</remarks>
public static class TomlText
{
    /// <summary>The text with a setting changed or added; null as value takes it out.</summary>
    /// <param name="value">As it is written in TOML: <c>3</c>, <c>"mm"</c>, <c>["A", "B"]</c>.</param>
    public static string With(string text, string key, string? value)
    {
        var pairs = Top(text);
        if (pairs.Find(pair => Fold(pair.Key) == Fold(key)) is { Key: not null } found)
        {
            return value is not null ? text[..found.ValueStart] + value + text[found.ValueEnd..] : WithoutLine(text, found.Start, found.ValueEnd);
        }

        if (value is null)
        {
            return text;
        }

        // Behind the last setting of the top: further down it would belong to a table.
        var line = $"{key} = {value}";
        if (pairs.Count == 0)
        {
            return line + "\n" + text;
        }

        var end = text.IndexOf('\n', pairs[^1].ValueEnd);
        return end < 0 ? text + "\n" + line + "\n" : text[..(end + 1)] + line + "\n" + text[(end + 1)..];
    }

    /// <summary>The text with a name added to a list of texts, or taken out of it.</summary>
    public static string Listed(string text, string key, string name, bool there)
    {
        var names = Names(text, key).ToList();
        var at = names.FindIndex(one => string.Equals(one, name, StringComparison.OrdinalIgnoreCase));
        if (there == at >= 0)
        {
            return text;
        }

        if (there)
        {
            names.Add(name);
        }
        else
        {
            names.RemoveAt(at);
        }

        return With(text, key, names.Count == 0 ? null : $"[{string.Join(", ", names.Select(Quoted))}]");
    }

    /// <summary>The names of a list of texts at the top of the file.</summary>
    public static IReadOnlyList<string> Names(string text, string key) => Pairs(text)
        .FirstOrDefault(pair => Fold(Name(pair)) == Fold(key))?.Value switch
    {
        StringValueSyntax one => [one.Value ?? ""],
        ArraySyntax array => [.. array.Items.Select(item => item.Value).OfType<StringValueSyntax>().Select(one => one.Value ?? "")],
        _ => [],
    };

    /// <summary>Why a text is no TOML, with its row; empty: it is.</summary>
    public static string Fault(string text)
    {
        try
        {
            return SyntaxParser.Parse(text, "", validate: true).Diagnostics.FirstOrDefault() is { } fault ? string.Create(CultureInfo.InvariantCulture, $"row {fault.Span.Start.Line + 1}: {fault.Message}") : "";
        }
        catch (TomlException problem)
        {
            return problem.Message;
        }
    }

    /// <summary>A text in quotes.</summary>
    public static string Quoted(string text)
    {
        var quoted = new System.Text.StringBuilder("\"");
        foreach (var c in text.Trim())
        {
            quoted.Append(c switch
            {
                '"' or '\\' => $"\\{c}",
                _ when char.IsControl(c) => " ",
                _ => c.ToString(CultureInfo.InvariantCulture),
            });
        }

        return quoted.Append('"').ToString();
    }

    private static List<(string Key, int Start, int ValueStart, int ValueEnd)> Top(string text) => [.. Pairs(text)
        .Select(pair => (Name(pair), pair.Key!.Span.Start.Offset, pair.Value!.Span.Start.Offset, pair.Value.Span.End.Offset + 1))];

    /// <summary>The settings above the first table; none where the text is nested beyond what the parser takes.</summary>
    private static SyntaxList<KeyValueSyntax> Pairs(string text)
    {
        try
        {
            return SyntaxParser.Parse(text, "", validate: true).KeyValues;
        }
        catch (TomlException)
        {
            return [];
        }
    }

    private static string WithoutLine(string text, int start, int end)
    {
        var next = text.IndexOf('\n', end);
        var rest = next < 0 ? text.Length : next;
        // What a person wrote behind it stays, as a comment of its own.
        return text[end..rest].Trim() is { Length: > 0 } remark ? text[..start] + remark + text[rest..] : text[..start] + (next < 0 ? "" : text[(next + 1)..]);
    }

    private static string Name(KeyValueSyntax pair) => pair.Key?.ToString().Trim().Trim('"', '\'') ?? "";

    private static string Fold(string name) => name.Trim().ToLowerInvariant().Replace('-', '_').Replace(' ', '_');
}
