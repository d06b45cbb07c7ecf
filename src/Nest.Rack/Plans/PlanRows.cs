using System.Globalization;
using Microsoft.Data.Sqlite;
using Nest.Rack.Database;

namespace Nest.Rack.Plans;

/// <summary>A layout with its key.</summary>
internal sealed record StoredLayout(long Id, long PlanId, int Number, long? PieceId, int Count, int Cut, int Lost, Blueprint Blueprint)
{
    /// <summary>Still to cut. A lost leftover is gone; of bought stock another piece can be taken.</summary>
    public int Open => OpenOf(PieceId, Count, Cut, Lost);

    public static int OpenOf(long? pieceId, int count, int cut, int lost) => count - cut - (pieceId is null ? 0 : lost);
}

/// <summary>Plans as rows.</summary>
internal static class PlanRows
{
    public static PlanState StateOf(Db db, long planId) => db.Value("SELECT state FROM plan WHERE id = $1", planId) is long state
        ? (PlanState)state
        : throw RackException.Refused($"the rack has no plan {PlanNumber.Format(planId)}", "see 'nest plans'");

    public static StoredLayout Layout(Db db, long planId, int number)
    {
        var found = db.Query("SELECT * FROM layout WHERE plan_id = $1 AND number = $2", ReadLayout, planId, (long)number);
        return found.Count == 1
            ? found[0]
            : throw RackException.Refused($"{PlanNumber.Format(planId)} has no layout {number}", $"see 'nest plans {PlanNumber.Format(planId)}'");
    }

    /// <summary>The plan whose rest this one does, and so on back to the first: their blanks are one batch.</summary>
    public static long First(Db db, long planId) => db.Number(
        """
        WITH RECURSIVE line (id, continues) AS (
            SELECT id, continues FROM plan WHERE id = $1 UNION ALL SELECT plan.id, plan.continues FROM plan JOIN line ON plan.id = line.continues)
        SELECT id FROM line WHERE continues IS NULL
        """,
        planId);

    /// <summary>The plans whose rest this one does, from the first on, and itself.</summary>
    public static List<long> Line(Db db, long planId) => db.Query(
        """
        WITH RECURSIVE line (id, continues, step) AS (
            SELECT id, continues, 0 FROM plan WHERE id = $1
            UNION ALL SELECT plan.id, plan.continues, line.step + 1 FROM plan JOIN line ON plan.id = line.continues)
        SELECT id FROM line ORDER BY step DESC
        """,
        row => row.GetInt64(0), planId);

    /// <summary>What a plan was made for, with the shape of the part and the number wanted altogether where the rack knows them.</summary>
    public static List<(string PartId, int Wanted, (PartShape Shape, int Total, StoredGang? Gang)? Told)> Wanted(Db db, long planId) => db.Query(
        "SELECT part, wanted, body FROM demand WHERE plan_id = $1 ORDER BY id",
        row => (row.GetString(0), row.GetInt32(1), PartShape.FromJson(row.GetString(2))), planId);

    /// <summary>Good blanks of a plan, by the key of the layout that they came from.</summary>
    public static List<(string PartId, long LayoutId, int Count)> Made(Db db, long planId) => db.Query(
        """
        SELECT made.part, cut.layout_id, sum(made.count) FROM made JOIN cut ON cut.id = made.cut_id JOIN layout ON layout.id = cut.layout_id
        WHERE layout.plan_id = $1 GROUP BY 1, 2 ORDER BY 1, 2
        """,
        row => (row.GetString(0), row.GetInt64(1), row.GetInt32(2)), planId);

    public static List<StoredLayout> Layouts(Db db, long planId) =>
        db.Query("SELECT * FROM layout WHERE plan_id = $1 ORDER BY number", ReadLayout, planId);

    public static PlanRecord Plan(Db db, long planId)
    {
        StateOf(db, planId);
        return db.Query("SELECT id, name, state, created, continues FROM plan WHERE id = $1", ReadPlan, planId)[0] with
        {
            Layouts = [.. db.Query(
                """
                SELECT layout.number, layout.count, layout.cut, layout.lost, layout.piece_id, json_extract(layout.blueprint, '$.stock'), piece.mark
                FROM layout LEFT JOIN piece ON piece.id = layout.piece_id WHERE layout.plan_id = $1 ORDER BY layout.number
                """,
                row =>
                {
                    var (count, cut, lost) = (row.GetInt32(1), row.GetInt32(2), row.GetInt32(3));
                    long? piece = row.IsDBNull(4) ? null : row.GetInt64(4);
                    return new LayoutProgress(
                        row.GetInt32(0), row.GetString(5), row.IsDBNull(6) ? null : row.GetString(6), count, cut, lost,
                        StoredLayout.OpenOf(piece, count, cut, lost));
                },
                planId)],
            Parts = [.. Parts(db, planId)],
            Purchases = [.. Purchases.Progress(db, planId)],
            Orders = [.. OrdersGiven.Of(db, planId)],
        };
    }

    public static List<PlanRecord> All(Db db) =>
        db.Query("SELECT id, name, state, created, continues FROM plan ORDER BY id", ReadPlan);

    public static List<PartProgress> Parts(Db db, long planId) => db.Query(
        """
        SELECT demand.part, demand.wanted, coalesce((
            SELECT sum(made.count) FROM made JOIN cut ON cut.id = made.cut_id JOIN layout ON layout.id = cut.layout_id
            WHERE layout.plan_id = demand.plan_id AND made.part = demand.part), 0)
        FROM demand WHERE demand.plan_id = $1 ORDER BY demand.id
        """,
        row => new PartProgress(row.GetString(0), row.GetInt32(1), row.GetInt32(2)),
        planId);

    private static StoredLayout ReadLayout(SqliteDataReader row) => new(
        row.GetInt64(0), row.GetInt64(1), row.GetInt32(2), row.IsDBNull(3) ? null : row.GetInt64(3), row.GetInt32(4), row.GetInt32(5),
        row.GetInt32(6), Blueprint.FromJson(row.GetString(7)));

    private static PlanRecord ReadPlan(SqliteDataReader row) => new()
    {
        Id = row.GetInt64(0),
        Name = row.GetString(1),
        State = (PlanState)row.GetInt32(2),
        Created = DateTimeOffset.Parse(row.GetString(3), CultureInfo.InvariantCulture),
        Continues = row.IsDBNull(4) ? null : row.GetInt64(4),
    };
}
