using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Tomlyn;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace Nest.Data.Toml;

/// <summary>Reads a TOML file into tables whose every key and value knows its row and column.</summary>
internal static class TomlFile
{
    // No setting lies deeper than two tables; a longer key would only make work.
    private const int LongestKey = 8;

    /// <summary>The root table; null after syntax errors, which are all reported.</summary>
    public static TomlTable? Read(string text, string file, TomlContext context)
    {
        if (text.IndexOf('\uFFFD', StringComparison.Ordinal) is >= 0 and var lost)
        {
            var line = text.AsSpan(0, lost);
            context.Findings.Error(
                "file-encoding", new(file, line.Count('\n') + 1, lost - line.LastIndexOf('\n')), "a character here was lost when the file was saved (U+FFFD)",
                "type it again and save the file as UTF-8");
            return null;
        }

        DocumentSyntax document;
        try
        {
            document = SyntaxParser.Parse(text, file, validate: true);
        }
        catch (TomlException problem)
        {
            // Nesting beyond the parser's limit is the one thing that it throws at.
            context.Findings.Error("toml-syntax", new(file, problem.Line ?? 0, problem.Column ?? 0), "lists or tables are nested too deep", "no setting is nested like this: check the brackets");
            return null;
        }

        if (document.HasErrors)
        {
            foreach (var message in document.Diagnostics.Where(message => message.Kind == DiagnosticMessageKind.Error))
            {
                context.Findings.Error(
                    "toml-syntax", Position(file, message.Span.Start), $"not valid TOML: {message.Message}",
                    "write key = value; text stands in quotes, as does a length with a unit or fraction");
            }

            return null;
        }

        var root = new TomlTable("", new(file), context);
        foreach (var pair in document.KeyValues)
        {
            Add(root, pair, file, context);
        }

        foreach (var section in document.Tables)
        {
            var target = Open(root, section, file, context);
            foreach (var pair in section.Items)
            {
                Add(target, pair, file, context);
            }
        }

        return root;
    }

    private static TomlTable Open(TomlTable root, TableSyntaxBase section, string file, TomlContext context)
    {
        var names = KeyNames(section.Name!);
        var where = Position(file, section.Span.Start);
        var table = root;
        for (var i = 0; i < names.Count; i++)
        {
            var last = i == names.Count - 1;
            table = last && section is TableArraySyntax
                ? table.Content.AddToList(names[i], where)
                : table.Content.Child(names[i], where);
        }

        return table;
    }

    private static void Add(TomlTable table, KeyValueSyntax pair, string file, TomlContext context)
    {
        var names = KeyNames(pair.Key!);
        var where = Position(file, pair.Key!.Span.Start);
        foreach (var name in names.SkipLast(1))
        {
            table = table.Content.Child(name, where);
        }

        Set(table, names[^1], pair.Value!, where, file, context);
    }

    private static void Set(TomlTable table, string name, ValueSyntax value, SourcePosition where, string file, TomlContext context)
    {
        switch (value)
        {
            case InlineTableSyntax inline:
                Fill(table.Content.Child(name, where), inline, file, context);
                break;
            case ArraySyntax array when array.Items.Any() && array.Items.All(item => item.Value is InlineTableSyntax):
                foreach (var item in array.Items)
                {
                    Fill(table.Content.AddToList(name, Position(file, item.Value!.Span.Start)), (InlineTableSyntax)item.Value!, file, context);
                }

                break;
            default:
                table.Content.Set(name, new(value, where, Position(file, value.Span.Start)));
                break;
        }
    }

    private static void Fill(TomlTable table, InlineTableSyntax inline, string file, TomlContext context)
    {
        foreach (var item in inline.Items)
        {
            Add(table, item.KeyValue!, file, context);
        }
    }

    private static List<string> KeyNames(KeySyntax key)
    {
        var names = new List<string> { NameOf(key.Key!) };
        names.AddRange(key.DotKeys.Take(LongestKey).Select(part => NameOf(part.Key!)));
        return names;
    }

    private static string NameOf(BareKeyOrStringValueSyntax key) => key switch
    {
        BareKeySyntax bare => bare.Key?.Text?.Trim() ?? "",
        StringValueSyntax quoted => quoted.Value ?? "",
        _ => key.ToString().Trim(),
    };

    internal static SourcePosition Position(string file, TextPosition at) => new(file, at.Line + 1, at.Column + 1);
}

/// <summary>What all tables of a file share.</summary>
internal sealed class TomlContext(FindingList findings)
{
    public FindingList Findings { get; } = findings;

    /// <summary>Unit of a bare number; known once the job's unit was read.</summary>
    public LengthUnit Unit { get; set; }
}
