using System.Collections.Frozen;
using Nest.Core.Jobs;
using Nest.Data.Tables;

namespace Nest.Data.Csv;

/// <summary>The head of a table: which of its cells names which column, in what unit, and why a cell is read or not.</summary>
internal sealed class TableHead(string file, RawRow row, IReadOnlyList<Column> columns, TableChoices choices)
{
    private readonly Dictionary<string, int> places = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> units = new(StringComparer.Ordinal);
    private readonly Dictionary<int, string> reasons = [];
    private readonly HashSet<int> outranked = [];
    // Every cell asks for its place; all columns are known by then.
    private FrozenDictionary<string, int>? placesKnown;

    public string File => file;

    public RawRow Row => row;

    public int Line => row.Line;

    public int Width => row.Cells.Length;

    public IReadOnlyList<Column> Columns => columns;

    public TableChoices Choices => choices;

    /// <summary>Text of a cell, from 0.</summary>
    public string At(int at) => row.At(at);

    public bool Has(string column) => places.ContainsKey(column);

    /// <summary>Whether the table must have the column and has not.</summary>
    public bool Lacks(Column column) => column.Required && !Has(column.Name) && !(column.Unless is { } other && Has(other));

    /// <summary>Number of the column's cell in a row, from 1; 0 when the table has no such column.</summary>
    public int Place(string column) =>
        (placesKnown is { } known ? known.TryGetValue(column, out var place) : places.TryGetValue(column, out place)) ? place + 1 : 0;

    /// <summary>Unit that the column's head names, or the line of units under it: <c>mm</c>, <c>cm</c>, <c>m</c>, <c>in</c>.</summary>
    public string? UnitOf(string column) => units.GetValueOrDefault(column);

    /// <summary>The head as it is written.</summary>
    public string TextOf(string column) => places.TryGetValue(column, out var place) ? row.At(place) : column;

    /// <summary>Column that a cell names, from 0; null: none.</summary>
    public string? Meaning(int at) => places.FirstOrDefault(pair => pair.Value == at).Key;

    /// <summary>Why a cell is read as it is; empty: because of its name.</summary>
    public string Reason(int at) => reasons.GetValueOrDefault(at, "");

    /// <summary>Whether another cell names its column better.</summary>
    public bool IsOutranked(int at) => outranked.Contains(at);

    /// <summary>Cells that are filled and name no column, and nothing was said of them.</summary>
    public List<int> Unread() => [.. Enumerable.Range(0, Width).Where(at => row.At(at).Length > 0 && !places.ContainsValue(at) && !reasons.ContainsKey(at))];

    /// <summary>Reads a cell as a column that its name does not say.</summary>
    public void Read(int at, Column column, string reason) => (places[column.Name], reasons[at]) = (at, reason);

    /// <summary>No column comes from here on.</summary>
    public void Close() => placesKnown = places.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>Finds the columns by the names in the cells.</summary>
    public void Find(FindingList findings)
    {
        for (var i = 0; i < row.Cells.Length; i++)
        {
            if (row.At(i).Length == 0)
            {
                continue;
            }

            var where = new SourcePosition(file, row.Line, i + 1);
            var found = ColumnNames.Find(row.At(i), columns, choices);
            if (found.Column is not { } column)
            {
                if (found.Chosen is not null)
                {
                    reasons[i] = "left out as asked";
                }

                continue;
            }

            if (places.TryGetValue(column.Name, out var first))
            {
                if (found.Chosen is null && ColumnNames.Find(row.At(first), columns, choices).Chosen is not null)
                {
                    continue; // the user chose the other one
                }

                if (column.Ranked && found.Chosen is null)
                {
                    // Part number, name and description in one list: the one that names best is read, the others are not.
                    var (here, there) = (column.Rank(Words.Fold(found.Name)), column.Rank(Words.Fold(ColumnNames.Find(row.At(first), columns, choices).Name)));
                    places[column.Name] = here < there ? i : first;
                    if (here != there)
                    {
                        outranked.Add(here < there ? first : i);
                        continue;
                    }
                }

                reasons[i] = "there twice";
                findings.Error(
                    "column-twice", where, $"the column '{column.Name}' is there twice, also in column {first + 1}",
                    $"leave one of them out, or say which with --columns \"{row.At(i)} = none\"");
                continue;
            }

            places[column.Name] = i;
            if (found.Chosen is not null)
            {
                reasons[i] = "as asked";
            }

            if (found.Unit is { } unit && column.Kind is ColumnKind.Length or ColumnKind.Size)
            {
                units[column.Name] = unit;
            }
        }
    }

    /// <summary>Takes the units of a line of units under the head.</summary>
    public void TakeUnits(RawRow line)
    {
        foreach (var column in columns.Where(column => column.Kind is ColumnKind.Length or ColumnKind.Size && Has(column.Name)))
        {
            if (ColumnNames.UnitOf(line.At(Place(column.Name) - 1)) is { } unit)
            {
                units.TryAdd(column.Name, unit);
            }
        }
    }
}
