using System.Globalization;
using Microsoft.Data.Sqlite;
using Nest.Rack.Database;

namespace Nest.Rack.History;

/// <summary>Takes changes back. Undoing is a change itself, so it can be undone too.</summary>
/// <remarks>A change is taken back whole or not at all, and only when every row it wrote is still as it left it: what was built on it
/// since must be taken back first. Rows it added are removed, rows it removed return under their old keys. Marks are not given again.</remarks>
internal static class Undoing
{
    // SQLITE_CONSTRAINT: only foreign keys can fail in a delete.
    private const int ForeignKey = 19;

    /// <summary>The change that a plain "undo" means: the newest that is neither an undo nor undone.</summary>
    /// <param name="before">The undo that is being made: it is no change to take back.</param>
    /// <param name="who">Who undoes: another's change is only taken back by its number.</param>
    public static long Newest(Db db, long before, string who)
    {
        if (db.Value("SELECT max(id) FROM change WHERE id < $1 AND undone_by IS NULL AND undoes IS NULL", before) is not long id)
        {
            throw RackException.Refused("there is nothing to undo", "see 'nest rack history'");
        }

        var newest = Histories.Find(db, id);
        return newest.Who == who
            ? id
            : throw RackException.Refused(
                string.Create(CultureInfo.InvariantCulture, $"the newest change, {id}, is of {newest.Who}: {newest.Summary}"),
                string.Create(CultureInfo.InvariantCulture, $"to take it back all the same, name it: 'nest rack undo {id}'"));
    }

    public static ChangeRecord Undo(ChangeSet undo, long changeId)
    {
        var db = undo.Db;
        var change = changeId < undo.Id
            ? Histories.Find(db, changeId)
            : throw RackException.Refused(string.Create(CultureInfo.InvariantCulture, $"the history has no change {changeId}"), "see 'nest rack history'");
        if (change.UndoneBy is { } by)
        {
            throw RackException.Refused(
                string.Create(CultureInfo.InvariantCulture, $"change {changeId} was undone already, by change {by}"),
                string.Create(CultureInfo.InvariantCulture, $"to bring it back, undo change {by}"));
        }

        var rows = Histories.Rows(db, changeId);
        var conflicts = Left(rows).Where(left => !IsAsLeft(db, left.Row, left.Cells)).Select(left => left.Row).ToList();
        if (conflicts.Count > 0)
        {
            var later = Histories.LaterThan(db, changeId, conflicts);
            throw RackException.Refused(
                string.Create(CultureInfo.InvariantCulture, $"change {changeId} cannot be undone: what it did was changed since{(later.Count == 0 ? "" : ", by change " + string.Join(", ", later))}"),
                later.Count == 0 ? "see 'nest rack history'" : string.Create(CultureInfo.InvariantCulture, $"undo change {later[0]} first"));
        }

        var plans = PlansCut(db, rows);
        RefuseEnded(db, changeId, rows, plans);
        for (var i = rows.Count - 1; i >= 0; i--)
        {
            var row = rows[i];
            switch (row)
            {
                case { Before: null }:
                    Remove(undo, row, changeId);
                    break;
                case { After: null }:
                    undo.Restore(row.Table, row.RowId, RowImage.FromJson(row.Before!));
                    break;
                default:
                    (string, object?)[] old = [.. RowImage.FromJson(row.Before!).Select(cell => (cell.Key, cell.Value))];
                    undo.Update(row.Table, row.RowId, old);
                    break;
            }
        }

        foreach (var plan in plans)
        {
            Plans.Cutting.Restate(undo, plan);
        }

        db.Execute("UPDATE change SET undoes = $1 WHERE id = $2", changeId, undo.Id);
        db.Execute("UPDATE change SET undone_by = $1 WHERE id = $2", undo.Id, changeId);

        // Undoing an undo: what that had taken back stands again.
        if (change.Undoes is { } first)
        {
            db.Execute("UPDATE change SET undone_by = NULL WHERE id = $1", first);
        }

        undo.Summary = string.Create(CultureInfo.InvariantCulture, $"undid change {changeId}: {change.Summary}");
        return change;
    }

    /// <summary>Plans of whose layouts the change cut, or took back, something.</summary>
    private static List<long> PlansCut(Db db, List<ChangedRow> rows) =>
        [.. rows.Where(row => row is { Table: "layout", Before: not null, After: not null })
            .Select(row => db.Number("SELECT plan_id FROM layout WHERE id = $1", row.RowId)).Distinct()];

    /// <summary>What was cut for a plan that was given up since stays cut: its piece would be reserved for nobody, its parts missing
    /// nowhere.</summary>
    private static void RefuseEnded(Db db, long changeId, List<ChangedRow> rows, List<long> plans)
    {
        foreach (var plan in plans.Where(plan => !rows.Exists(row => row is { Table: "plan" } && row.RowId == plan && EndsOrReopens(row))))
        {
            var state = Plans.PlanRows.StateOf(db, plan);
            if (state is Plans.PlanState.Cancelled or Plans.PlanState.Replaced)
            {
                var later = Histories.LaterThan(db, changeId, [new ChangedRow("plan", plan, null, null)]);
                throw RackException.Refused(
                    string.Create(CultureInfo.InvariantCulture, $"change {changeId} cannot be undone: {Plans.PlanNumber.Format(plan)} was {Plans.Reserving.Word(state)} since"),
                    later.Count == 0 ? "see 'nest rack history'" : string.Create(CultureInfo.InvariantCulture, $"undo change {later[0]} first"));
            }
        }
    }

    private static bool EndsOrReopens(ChangedRow row) => new[] { row.Before, row.After }.Any(cells =>
        cells is not null && RowImage.FromJson(cells).TryGetValue("state", out var state)
        && (Plans.PlanState)Convert.ToInt32(state, CultureInfo.InvariantCulture) is Plans.PlanState.Cancelled or Plans.PlanState.Replaced);

    private static void Remove(ChangeSet undo, ChangedRow row, long changeId)
    {
        try
        {
            undo.Delete(row.Table, row.RowId);
        }
        catch (SqliteException fault) when (fault.SqliteErrorCode == ForeignKey)
        {
            var later = Histories.Referring(undo.Db, changeId, undo.Id, row);
            throw new RackException(
                RackFault.Refused,
                string.Create(CultureInfo.InvariantCulture, $"change {changeId} cannot be undone: what it entered is used{(later.Count == 0 ? "" : " by change " + string.Join(", ", later))}"),
                later.Count == 0 ? "undo what uses it first, or scrap the piece" : string.Create(CultureInfo.InvariantCulture, $"undo change {later[0]} first, or scrap the piece"),
                fault);
        }
    }

    /// <summary>Each row once, with the cells as the change left them (a change may write a row several times); null: removed.</summary>
    private static IEnumerable<(ChangedRow Row, Dictionary<string, object?>? Cells)> Left(List<ChangedRow> rows)
    {
        foreach (var group in rows.GroupBy(row => (row.Table, row.RowId)))
        {
            Dictionary<string, object?>? cells = null;
            foreach (var row in group)
            {
                if (row.After is null)
                {
                    cells = null;
                    continue;
                }

                cells ??= new(StringComparer.Ordinal);
                foreach (var (name, value) in RowImage.FromJson(row.After))
                {
                    cells[name] = value;
                }
            }

            yield return (group.Last(), cells);
        }
    }

    private static bool IsAsLeft(Db db, ChangedRow row, Dictionary<string, object?>? cells)
    {
        var now = RowImage.Read(db, row.Table, row.RowId);
        return cells is null || now is null
            ? cells is null && now is null
            : cells.All(cell => now.TryGetValue(cell.Key, out var value) && RowImage.Same(cell.Value, value));
    }
}
