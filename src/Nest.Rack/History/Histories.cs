using System.Globalization;
using Microsoft.Data.Sqlite;
using Nest.Rack.Database;

namespace Nest.Rack.History;

/// <summary>Reading the history.</summary>
internal static class Histories
{
    private const string Select = "SELECT id, at, who, kind, summary, undoes, undone_by FROM change";

    public static ChangeRecord Find(Db db, long id)
    {
        var found = db.Query(Select + " WHERE id = $1", Read, id);
        return found.Count == 1
            ? found[0]
            : throw RackException.Refused(string.Create(CultureInfo.InvariantCulture, $"the history has no change {id}"), "see 'nest rack history'");
    }

    /// <summary>Newest first.</summary>
    public static List<ChangeRecord> Newest(Db db, int most) => db.Query(Select + " ORDER BY id DESC LIMIT $1", Read, (long)most);

    /// <summary>Changes that wrote this piece, oldest first. Rows outlive what they describe, so removed pieces are found too.</summary>
    public static List<ChangeRecord> OfMark(Db db, string mark) => db.Query(
        Select + """
         WHERE id IN (SELECT change_id FROM change_row WHERE table_name = 'piece' AND row_id IN (
            SELECT id FROM piece WHERE mark = $1
            UNION SELECT row_id FROM change_row WHERE table_name = 'piece' AND json_extract(coalesce(after, before), '$.mark') = $1))
        ORDER BY id
        """,
        Read, mark);

    public static List<ChangedRow> Rows(Db db, long changeId) => db.Query(
        "SELECT table_name, row_id, before, after FROM change_row WHERE change_id = $1 ORDER BY seq",
        row => new ChangedRow(row.GetString(0), row.GetInt64(1), row.IsDBNull(2) ? null : row.GetString(2), row.IsDBNull(3) ? null : row.GetString(3)),
        changeId);

    /// <summary>Changes after this one that wrote the same rows and still stand, newest first.</summary>
    public static List<long> LaterThan(Db db, long changeId, IEnumerable<ChangedRow> rows) =>
        [.. rows.SelectMany(row => db.Query(
            """
            SELECT DISTINCT change_row.change_id FROM change_row JOIN change ON change.id = change_row.change_id
            WHERE table_name = $1 AND row_id = $2 AND change_id > $3 AND change.undone_by IS NULL AND change.undoes IS NULL
            """,
            reader => reader.GetInt64(0), row.Table, row.RowId, changeId)).Distinct().OrderDescending()];

    /// <summary>Changes between these two that stand and entered something which refers to this row, newest first.</summary>
    public static List<long> Referring(Db db, long after, long before, ChangedRow row) => db.Query(
        """
        SELECT DISTINCT change_row.change_id FROM change_row JOIN change ON change.id = change_row.change_id
        WHERE change_id > $1 AND change_id < $2 AND change.undone_by IS NULL AND change.undoes IS NULL AND change_row.after IS NOT NULL
            AND (json_extract(change_row.after, '$.' || $3 || '_id') = $4
                OR $3 = 'piece' AND table_name = 'piece' AND json_extract(change_row.after, '$.parent_id') = $4
                OR $3 = 'plan' AND table_name = 'plan' AND json_extract(change_row.after, '$.continues') = $4)
        ORDER BY change_row.change_id DESC
        """,
        reader => reader.GetInt64(0), after, before, row.Table, row.RowId);

    private static ChangeRecord Read(SqliteDataReader row) => new(
        row.GetInt64(0), DateTimeOffset.Parse(row.GetString(1), CultureInfo.InvariantCulture), row.GetString(2), row.GetString(3),
        row.GetString(4), row.IsDBNull(5) ? null : row.GetInt64(5), row.IsDBNull(6) ? null : row.GetInt64(6));
}
