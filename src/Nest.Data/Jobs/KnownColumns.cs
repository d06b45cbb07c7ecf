using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Data.Parts;
using Nest.Data.Stocks;
using Nest.Data.Tables;
using Nest.Data.Toml;

namespace Nest.Data.Jobs;

/// <summary>Checks what a user says that heads mean.</summary>
internal static class KnownColumns
{
    private static readonly List<string> Names = [.. PartColumns.All.Concat(CatalogueReader.AllColumns).Concat(StockColumns.OfPiece).Select(column => column.Name).Distinct()];

    /// <summary>Whether every head is given a column that some table has; else findings.</summary>
    public static bool Check(TableChoices choices, FindingList findings)
    {
        var before = findings.Errors;
        foreach (var (head, column) in choices.Columns)
        {
            CheckOne(head, column, new($"{head} = {column}"), findings);
        }

        return findings.Errors == before;
    }

    /// <summary>The section <c>[columns]</c> of a file; what names no column of any table is a finding.</summary>
    public static ImmutableDictionary<string, string> Read(TomlTable root, FindingList findings)
    {
        var pairs = ShopNames.NamesOf(root, "columns");
        foreach (var (head, column) in pairs)
        {
            CheckOne(head, column, root.Table("columns")!.At(head), findings);
        }

        return pairs;
    }

    private static void CheckOne(string head, string column, SourcePosition where, FindingList findings)
    {
        if (Words.Fold(column) is "none" or "" || Names.Exists(name => Words.Fold(name) == Words.Fold(column)))
        {
            return;
        }

        findings.Error(
            "column-choice", where, $"there is no column '{column}' to read '{head}' as",
            Near.Hint(column, Names) is { Length: > 0 } hint ? hint : $"name one of {string.Join(", ", PartColumns.All.Select(known => known.Name))}, or none");
    }
}
