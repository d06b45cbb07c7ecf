using System.Collections.Immutable;
using Nest.Data.Jobs;
using Nest.Data.Tables;
using Nest.Data.Toml;

namespace Nest.Data;

/// <summary>What a shop's lists call their columns and materials, for all its jobs: the sections <c>[columns]</c> and <c>[material_names]</c>
/// of a file <c>shop.toml</c> beside a job or list, or in the folder above it. Job file and command line go before it.</summary>
/// <param name="File">The file, as messages name it.</param>
/// <param name="Columns">Head → our column, or <c>none</c>.</param>
/// <param name="Materials">A list's name of a material → a material of the shop.</param>
public sealed record ShopNames(string File, ImmutableDictionary<string, string> Columns, ImmutableDictionary<string, string> Materials)
{
    public const string FileName = "shop.toml";

    /// <summary>The names that hold in a folder; null: there is no such file, or nothing of the kind in it.</summary>
    public static ShopNames? In(string folder) => In(folder, new());

    /// <summary>The choices with the shop's names for a job, list or model; those that have some already stay as they are.</summary>
    internal static TableChoices For(string path, TableChoices choices, FindingList findings)
    {
        if (choices.Shop is not null || path.Contains('\0', StringComparison.Ordinal))
        {
            return choices;
        }

        // A list that is piped in is of the folder where the user stands.
        var folder = path == TableSource.Pasted ? "" : Path.GetDirectoryName(path) ?? "";
        return choices with { Shop = In(folder, findings) };
    }

    private static ShopNames? In(string folder, FindingList findings)
    {
        foreach (var file in (string[])[Path.Combine(folder, FileName), Path.Combine(folder, "..", FileName)])
        {
            if (Path.Exists(file))
            {
                return TextFile.Read(file, "a shop's file", findings) is { } text && TomlFile.Read(text, file, new(findings)) is { } root ? Of(root, file, findings) : null;
            }
        }

        return null;
    }

    private static ShopNames? Of(TomlTable root, string file, FindingList findings)
    {
        // What else stands in the file is for new jobs of the desk.
        var (columns, materials) = (KnownColumns.Read(root, findings), NamesOf(root, "material_names"));
        return columns.Count + materials.Count == 0 ? null : new(file, columns, materials);
    }

    /// <summary>A table of names: what a list has = what it means.</summary>
    internal static ImmutableDictionary<string, string> NamesOf(TomlTable root, string key) =>
        root.Table(key) is { } table ? table.Pairs().ToImmutableDictionary(pair => pair.Key, pair => pair.Text) : ImmutableDictionary<string, string>.Empty;
}
