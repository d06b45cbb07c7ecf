using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Tables;
using Tomlyn.Syntax;

namespace Nest.Data.Toml;

/// <summary>A table with typed access. What is wrong goes to the findings; keys that nobody asked for are unknown ones.</summary>
/// <remarks>Keys are compared without case; hyphens and underscores are the same. Lengths are numbers in the shop's unit or text with
/// a unit; numbers are read from their digits, never through floating point.</remarks>
internal sealed class TomlTable(string path, SourcePosition where, TomlContext context)
{
    private readonly TomlKeys keys = new(path, context);

    public SourcePosition Where => where;

    /// <summary>What stands in it, to be filled while the file is read.</summary>
    internal TomlKeys Content => keys;

    public bool Failed { get; private set; }

    public bool Has(string key)
    {
        keys.Ask(key);
        return keys.Value(key) is not null || keys.Table(key) is not null || keys.List(key) is not null;
    }

    /// <summary>All that stands in the table.</summary>
    public ImmutableHashSet<string> Keys => keys.All;

    public bool IsText(string key) => keys.Value(key) is { Syntax: StringValueSyntax };

    public SourcePosition At(string key) => keys.Value(key)?.At ?? keys.Table(key)?.Where ?? where;

    public void Error(string key, string rule, string message, string advice)
    {
        Failed = true;
        context.Findings.Error(rule, At(key), message, advice);
    }

    public string? Text(string key) => Value(key) is not { } value ? null : value.Syntax is StringValueSyntax text ? text.Value
        : Wrong<string>(key, value, "text in quotes", $"write {key} = \"...\"");

    /// <summary>One text or a list of texts.</summary>
    public IReadOnlyList<(string Text, SourcePosition At)> Texts(string key)
    {
        switch (Value(key))
        {
            case null:
                return [];
            case { Syntax: StringValueSyntax text } value:
                return [(text.Value ?? "", value.At)];
            case { Syntax: ArraySyntax array } value when array.Items.All(item => item.Value is StringValueSyntax):
                return [.. array.Items.Select(item =>
                    (((StringValueSyntax)item.Value!).Value ?? "", TomlFile.Position(value.At.File, item.Value!.Span.Start)))];
            case { } value:
                Wrong<string>(key, value, "text in quotes or a list of it", $"write {key} = \"...\" or {key} = [\"...\", \"...\"]");
                return [];
        }
    }

    public decimal? Number(string key, decimal least = 0m, decimal most = 1_000_000m)
    {
        if (Value(key) is not { } value)
        {
            return null;
        }

        if (Digits(value) is not { } digits)
        {
            return WrongNumber<decimal>(key, value, "a number", $"write {key} = 12.5, without quotes");
        }

        var reading = NumberText.Read(digits);
        if (reading.Value is not { } number)
        {
            Error(key, "number-unreadable", $"{Name(key)}: {reading.Error}", reading.Hint);
            return null;
        }

        if (number < least || number > most)
        {
            Error(key, "number-out-of-range", $"{Name(key)} is {digits}", Csv.CsvRow.Range(least, most));
            return null;
        }

        return number;
    }

    public int? Whole(string key, int least, int most)
    {
        if (Number(key, least, most) is not { } number)
        {
            return null;
        }

        if (number != decimal.Truncate(number))
        {
            Error(key, "number-not-whole", $"{Name(key)} is {number.ToString(CultureInfo.InvariantCulture)}", "write a whole number");
            return null;
        }

        return (int)number;
    }

    public bool? Flag(string key)
    {
        if (Value(key) is not { } value)
        {
            return null;
        }

        if (value.Syntax is BooleanValueSyntax flag)
        {
            return flag.Value;
        }

        Wrong<string>(key, value, "true or false", $"write {key} = true or {key} = false");
        return null;
    }

    /// <summary>A length of zero or more (or above zero): a number in the shop's unit, or text.</summary>
    public Length? Length(string key, bool aboveZero = false)
    {
        if (Value(key) is not { } value)
        {
            return null;
        }

        var text = value.Syntax is StringValueSyntax quoted ? quoted.Value ?? "" : Digits(value);
        if (text is null)
        {
            Wrong<string>(key, value, "a length", $"write {key} = 1.5 or {key} = \"1/16 in\"");
            return null;
        }

        var reading = LengthText.Read(text, context.Unit);
        if (reading.Value is not { } length)
        {
            Error(key, "length-unreadable", $"{Name(key)}: {reading.Error}", reading.Hint);
            return null;
        }

        if (length < Core.Quantities.Length.Zero || (aboveZero && length == Core.Quantities.Length.Zero))
        {
            Error(key, "length-not-positive", $"{Name(key)} is {text}", aboveZero ? "write a length above zero" : "write zero or more");
            return null;
        }

        if (length > Csv.CsvRow.LongestSize)
        {
            Error(key, "length-too-long", $"{Name(key)} is {text}, longer than any stock (30 m)", "check the number and its unit");
            return null;
        }

        return length;
    }

    /// <summary>A word of a fixed set.</summary>
    public T? Word<T>(string key, Func<string, T?> meaning, string words)
        where T : struct
    {
        if (Text(key) is not { } text)
        {
            return null;
        }

        var word = meaning(text);
        if (word is null)
        {
            Error(key, "word-unknown", $"{Name(key)} is '{text}'", $"write {words}");
        }

        return word;
    }

    public TomlTable? Table(string key)
    {
        keys.Ask(key);
        if (keys.Value(key) is { } value)
        {
            Wrong<string>(key, value, "a table", $"write [{Name(key)}] on a line of its own");
        }
        else if (keys.List(key) is { } list)
        {
            context.Findings.Error("toml-shape", list[0].Where, $"{Name(key)} is given as a list", $"write [{Name(key)}] once");
        }

        return keys.Table(key);
    }

    /// <summary>The tables of a list; one table counts as a list of one.</summary>
    public IReadOnlyList<TomlTable> Tables(string key)
    {
        keys.Ask(key);
        if (keys.Value(key) is { } value)
        {
            Wrong<string>(key, value, "a list of tables", $"write [[{Name(key)}]] on a line of its own for each");
        }

        return keys.List(key) ?? (keys.Table(key) is { } table ? [table] : []);
    }

    /// <summary>All keys with their numbers, for tables whose keys are names (rates by family).</summary>
    public IReadOnlyList<(string Key, decimal Number)> Numbers(decimal least, decimal most) =>
        [.. keys.OfValues
            .Select(key => (key, number: Number(key, least, most))).Where(pair => pair.number is not null)
            .Select(pair => (pair.key, pair.number!.Value))];

    /// <summary>All keys with their texts, as of a table of names.</summary>
    public IReadOnlyList<(string Key, string Text)> Pairs() =>
        [.. keys.OfValues.Select(key => (key, text: Text(key))).Where(pair => pair.text is not null).Select(pair => (pair.key, pair.text!))];

    /// <summary>A name: not longer than any label holds.</summary>
    public string? Label(string key)
    {
        if (Text(key) is not { } text)
        {
            return null;
        }

        if (text.Length > TableLimits.Name)
        {
            Error(key, "name-too-long", $"{Name(key)} has {text.Length} characters, at most {TableLimits.Name} are read", "shorten it");
            return text[..TableLimits.Name];
        }

        return text;
    }

    /// <summary>Reports the keys that nobody asked for.</summary>
    public void NoOtherKeys()
    {
        foreach (var (key, at) in keys.NotAsked)
        {
            Failed = true;
            var hint = Near.Hint(key, keys.Asked);
            context.Findings.Error(
                "key-unknown", at, $"there is no setting '{Name(key)}'",
                hint.Length > 0 ? hint : $"known here: {string.Join(", ", keys.Asked.Order(StringComparer.Ordinal))}");
        }
    }

    private string Name(string key) => keys.Name(key);

    private TomlValue? Value(string key)
    {
        keys.Ask(key);
        if ((keys.Table(key) ?? keys.List(key)?[0]) is { } table)
        {
            Failed = true;
            context.Findings.Error("toml-shape", table.Where, $"{Name(key)} is a table", $"write {key} = ... above the first [section]");
            return null;
        }

        return keys.Value(key);
    }

    /// <summary>The digits of a whole or decimal number as written, groups by underscore left out.</summary>
    private static string? Digits(TomlValue value) => value.Syntax switch
    {
        IntegerValueSyntax whole => whole.Token?.Text?.Replace("_", "", StringComparison.Ordinal).Trim(),
        FloatValueSyntax real => real.Token?.Text?.Replace("_", "", StringComparison.Ordinal).Trim(),
        _ => null,
    };

    private T? Wrong<T>(string key, TomlValue value, string wanted, string advice)
        where T : class
    {
        Failed = true;
        context.Findings.Error("toml-type", value.At, $"{Name(key)} is not {wanted}", advice);
        return null;
    }

    private T? WrongNumber<T>(string key, TomlValue value, string wanted, string advice)
        where T : struct
    {
        Wrong<string>(key, value, wanted, advice);
        return null;
    }
}
