using System.Collections.Immutable;
using Nest.Core.Jobs;

namespace Nest.Data.Toml;

/// <summary>What stands in a table under its keys, and which of the keys a reader asked for.</summary>
/// <remarks>Keys are kept in one spelling: without case, hyphens and blanks as underscores.</remarks>
internal sealed class TomlKeys(string path, TomlContext context)
{
    private readonly Dictionary<string, TomlValue> values = new(StringComparer.Ordinal);
    private readonly Dictionary<string, TomlTable> tables = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<TomlTable>> lists = new(StringComparer.Ordinal);
    private readonly HashSet<string> asked = new(StringComparer.Ordinal);

    /// <summary>All keys.</summary>
    public ImmutableHashSet<string> All => [.. values.Keys, .. tables.Keys, .. lists.Keys];

    /// <summary>The keys that have a value, sorted.</summary>
    public IReadOnlyList<string> OfValues => [.. values.Keys.Order(StringComparer.Ordinal)];

    /// <summary>The keys that were asked for, whether they are there or not.</summary>
    public IReadOnlyCollection<string> Asked => asked;

    /// <summary>Keys that nobody asked for, from top to bottom.</summary>
    public IEnumerable<(string Key, SourcePosition At)> NotAsked =>
        values.Select(pair => (pair.Key, At: pair.Value.KeyAt))
            .Concat(tables.Select(pair => (pair.Key, At: pair.Value.Where)))
            .Concat(lists.Select(pair => (pair.Key, At: pair.Value[0].Where)))
            .Where(pair => !asked.Contains(pair.Key)).OrderBy(pair => pair.At.Row);

    /// <summary>The key with those of the tables around it.</summary>
    public string Name(string key) => path.Length == 0 ? key : $"{path}.{key}";

    /// <summary>Notes that a reader knows the key.</summary>
    public void Ask(string key) => asked.Add(key);

    /// <summary>The value of a key; null: there is none.</summary>
    public TomlValue? Value(string key) => values.GetValueOrDefault(key);

    /// <summary>The table of a key; null: there is none.</summary>
    public TomlTable? Table(string key) => tables.GetValueOrDefault(key);

    /// <summary>The list of tables of a key, with one at least; null: there is none.</summary>
    public List<TomlTable>? List(string key) => lists.GetValueOrDefault(key);

    /// <summary>The table of that name; where a list stands, its last one, as TOML has it.</summary>
    public TomlTable Child(string name, SourcePosition at)
    {
        var key = Fold(name);
        if (lists.TryGetValue(key, out var list))
        {
            return list[^1];
        }

        if (!tables.TryGetValue(key, out var table))
        {
            tables[key] = table = new(Name(key), at, context);
        }

        return table;
    }

    /// <summary>One more table of a list.</summary>
    public TomlTable AddToList(string name, SourcePosition at)
    {
        var key = Fold(name);
        if (!lists.TryGetValue(key, out var list))
        {
            lists[key] = list = [];
        }

        list.Add(new(Name(key), at, context));
        return list[^1];
    }

    /// <summary>A value; the second of a name is told and left out.</summary>
    public void Set(string name, TomlValue value)
    {
        if (!values.TryAdd(Fold(name), value))
        {
            context.Findings.Error("key-twice", value.KeyAt, $"'{Name(Fold(name))}' is there twice", "leave one of them out");
        }
    }

    private static string Fold(string name) => name.Trim().ToLowerInvariant().Replace('-', '_').Replace(' ', '_');
}
