namespace Nest.Solve.Choose;

/// <summary>All layouts found so far, the cheapest of each kind; in order of finding, so that every run sees the same order.</summary>
internal sealed class ColumnPool
{
    private readonly Dictionary<string, int> _index = new(StringComparer.Ordinal);
    private readonly List<Column> _columns = [];

    public IReadOnlyList<Column> Columns => _columns;

    /// <summary>Takes a column in; returns whether it is new or cheaper than its twin.</summary>
    public bool Add(Column column)
    {
        if (!_index.TryGetValue(column.Key, out var at))
        {
            _index[column.Key] = _columns.Count;
            _columns.Add(column);
            return true;
        }

        if (column.Cost >= _columns[at].Cost)
        {
            return false;
        }

        _columns[at] = column;
        return true;
    }
}
