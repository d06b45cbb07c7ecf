using System.Globalization;
using Nest.Rack.Database;

namespace Nest.Rack.History;

/// <summary>One change to the rack while it is being made: every row that is written goes through here and is kept as it was before and
/// after, so that the change can be explained and undone.</summary>
internal sealed class ChangeSet
{
    private int rows;

    public ChangeSet(Db db, DateTimeOffset now, DateOnly today, string who, string kind)
    {
        Db = db;
        Today = today;
        Now = now;
        db.Execute("INSERT INTO change (at, who, kind, summary) VALUES ($1, $2, $3, '')", At, who, kind);
        Id = db.LastId;
    }

    public Db Db { get; }

    public long Id { get; }

    public DateTimeOffset Now { get; }

    /// <summary>The day in the shop.</summary>
    public DateOnly Today { get; }

    /// <summary>The time as it is stored.</summary>
    public string At => Stamp(Now);

    /// <summary>What was done, in a sentence; must be given.</summary>
    public string Summary { get; set; } = "";

    public static string Stamp(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture);

    public long Insert(string table, params ReadOnlySpan<(string Column, object? Value)> values)
    {
        var columns = new string[values.Length];
        var cells = new object?[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            (columns[i], cells[i]) = values[i];
        }

        Db.Execute($"INSERT INTO {table} ({string.Join(", ", columns)}) VALUES ({Places(cells.Length)})", cells);
        var id = Db.LastId;
        Note(table, id, null, RowImage.ToJson(RowImage.Read(Db, table, id)!));
        return id;
    }

    public void Update(string table, long id, params ReadOnlySpan<(string Column, object? Value)> values)
    {
        var row = RowImage.Read(Db, table, id) ?? throw new InvalidOperationException($"No row {id} in {table}.");
        var before = new List<KeyValuePair<string, object?>>();
        var after = new List<KeyValuePair<string, object?>>();
        foreach (var (column, value) in values)
        {
            if (!RowImage.Same(row[column], value))
            {
                before.Add(new(column, row[column]));
                after.Add(new(column, value));
            }
        }

        if (after.Count == 0)
        {
            return;
        }

        Set(table, id, after);
        Note(table, id, RowImage.ToJson(before), RowImage.ToJson(after));
    }

    public void Delete(string table, long id)
    {
        var row = RowImage.Read(Db, table, id) ?? throw new InvalidOperationException($"No row {id} in {table}.");
        Db.Execute($"DELETE FROM {table} WHERE id = $1", id);
        Note(table, id, RowImage.ToJson(row), null);
    }

    /// <summary>Puts a row back that was deleted, under its old id.</summary>
    public void Restore(string table, long id, Dictionary<string, object?> row)
    {
        Db.Execute(
            $"INSERT INTO {table} ({string.Join(", ", row.Keys)}) VALUES ({Places(row.Count)})", [.. row.Values]);
        Note(table, id, null, RowImage.ToJson(row));
    }

    /// <summary>Writes the summary.</summary>
    public void Close()
    {
        if (Summary.Length == 0)
        {
            throw new InvalidOperationException("A change must say what was done.");
        }

        Db.Execute("UPDATE change SET summary = $1 WHERE id = $2", Summary, Id);
    }

    private void Set(string table, long id, List<KeyValuePair<string, object?>> values)
    {
        var assignments = values.Select((pair, i) => string.Create(CultureInfo.InvariantCulture, $"{pair.Key} = ${i + 2}"));
        object?[] cells = [id, .. values.Select(pair => pair.Value)];
        Db.Execute($"UPDATE {table} SET {string.Join(", ", assignments)} WHERE id = $1", cells);
    }

    private void Note(string table, long id, string? before, string? after) => Db.Execute(
        "INSERT INTO change_row (change_id, seq, table_name, row_id, before, after) VALUES ($1, $2, $3, $4, $5, $6)",
        Id, ++rows, table, id, before, after);

    private static string Places(int count) =>
        string.Join(", ", Enumerable.Range(1, count).Select(i => string.Create(CultureInfo.InvariantCulture, $"${i}")));
}
