using Nest.Data.Parts;
using Nest.Data.Stocks;
using Nest.Data.Tables;

namespace Nest.Data.Jobs;

/// <summary>Checks what a user says that heads mean.</summary>
internal static class KnownColumns
{
    /// <summary>Whether every head is given a column that some table has; else findings.</summary>
    public static bool Check(TableChoices choices, FindingList findings)
    {
        var names = PartColumns.All.Concat(CatalogueReader.AllColumns).Concat(StockColumns.OfPiece).Select(column => column.Name).Distinct().ToList();
        var before = findings.Errors;
        foreach (var (head, column) in choices.Columns)
        {
            if (Words.Fold(column) is not ("none" or "") && !names.Exists(name => Words.Fold(name) == Words.Fold(column)))
            {
                findings.Error(
                    "column-choice", new($"{head} = {column}"), $"there is no column '{column}' to read '{head}' as",
                    Near.Hint(column, names) is { Length: > 0 } hint ? hint : $"name one of {string.Join(", ", PartColumns.All.Select(known => known.Name))}, or none");
            }
        }

        return findings.Errors == before;
    }
}
