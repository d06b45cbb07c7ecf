using System.Collections.Immutable;
using Nest.Core.Quantities;
using Nest.Data.Models;

namespace Nest.Data.Tables;

/// <summary>What the user says of a table, in place of what would be found out.</summary>
public sealed record TableChoices
{
    public static TableChoices None { get; } = new();

    /// <summary>Names of the columns that a parts list may have.</summary>
    public static ImmutableArray<string> PartColumnNames { get; } = [.. Parts.PartColumns.All.Select(column => column.Name)];

    /// <summary>Sheet of a workbook by name or number from 1; null: the first with a head that is known.</summary>
    public string? Sheet { get; init; }

    /// <summary>'.' or ','; null: found from the numbers.</summary>
    public char? DecimalMark { get; init; }

    /// <summary>Unit of bare numbers where neither cell, head nor sheet names one; null: found out, else millimetres.</summary>
    public LengthUnit? Unit { get; init; }

    /// <summary>Head → our column, or <c>none</c> for a column that is not to be read. Heads are compared without case and punctuation.</summary>
    public ImmutableDictionary<string, string> Columns { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>A name of a material as the list has it → a material of the shop.</summary>
    public ImmutableDictionary<string, string> Materials { get; init; } = ImmutableDictionary<string, string>.Empty;

    /// <summary>Material of parts for which no list names one; null: nothing is said.</summary>
    public string? Material { get; init; }

    /// <summary>What is said of models: a model or a folder of them may be planned, and a parts list may name models.</summary>
    public ModelJobChoices Models { get; init; } = new();

    /// <summary>What the shop's lists call things, where neither user nor job file says another; null: nothing is said.</summary>
    public ShopNames? Shop { get; init; }

    /// <summary>Reads <c>Qty / set = quantity</c>.</summary>
    /// <returns>Null when the text has no <c>=</c> or an empty side.</returns>
    public static (string Left, string Right)? Pair(string text)
    {
        // The last sign: a head may have one of its own.
        var at = text.LastIndexOf('=');
        var (left, right) = at < 0 ? ("", "") : (text[..at].Trim(), text[(at + 1)..].Trim());
        return left.Length == 0 || right.Length == 0 ? null : (left, right);
    }

    /// <summary>What is said, and below it what a file says of other names; a file writes <c>per_crane</c> for what is typed as <c>per crane</c>.</summary>
    internal static ImmutableDictionary<string, string> Over(ImmutableDictionary<string, string> said, ImmutableDictionary<string, string> below) =>
        below.RemoveRange(below.Keys.Where(name => said.Keys.Any(other => Words.Fold(other) == Words.Fold(name)))).SetItems(said);

    internal bool NamesColumns => Columns.Count > 0 || Shop is { Columns.Count: > 0 };

    internal string? ColumnFor(string foldedHead) => Meaning(foldedHead, Columns) ?? Meaning(foldedHead, Shop?.Columns);

    /// <summary>What is said of a list's name of a material; null: nothing.</summary>
    internal string? MaterialFor(string name) =>
        Materials.Count > 0 || Shop is { Materials.Count: > 0 } ? Meaning(Words.Fold(name), Materials) ?? Meaning(Words.Fold(name), Shop?.Materials) : null;

    private static string? Meaning(string folded, ImmutableDictionary<string, string>? names)
    {
        foreach (var (name, meaning) in names ?? [])
        {
            if (Words.Fold(name) == folded)
            {
                return meaning;
            }
        }

        return null;
    }
}
