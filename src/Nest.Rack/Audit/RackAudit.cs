using System.Globalization;
using Nest.Core.Racks;
using Nest.Rack.Database;
using Nest.Rack.Marks;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.Rack.Audit;

/// <summary>Checks that a rack agrees with itself: the file, its references, the life of each piece and plan, and the metal.</summary>
internal static class RackAudit
{
    /// <summary>Rules as queries that must give no row; the first column names what is wrong.</summary>
    private static readonly (string Rule, string Sql)[] Rules =
    [
        ("reserved, but by no plan that is open", $"""
            SELECT mark FROM piece WHERE state = {N(PieceState.Reserved)} AND NOT EXISTS (
                SELECT 1 FROM layout JOIN plan ON plan.id = layout.plan_id
                WHERE layout.piece_id = piece.id AND plan.id = piece.plan_id AND layout.cut + layout.lost = 0
                    AND plan.state IN ({N(PlanState.Reserved)}, {N(PlanState.Cutting)}))
                AND NOT EXISTS (
                SELECT 1 FROM delivery JOIN purchase ON purchase.id = delivery.purchase_id JOIN plan ON plan.id = purchase.plan_id
                WHERE delivery.piece_id = piece.id AND plan.id = piece.plan_id
                    AND plan.state IN ({N(PlanState.Reserved)}, {N(PlanState.Cutting)}))
            """),
        ("more of a stock kept for a plan than its layouts still cut", $"""
            SELECT 'P' || purchase.plan_id || ' ' || purchase.stock FROM purchase
            WHERE (SELECT count(*) FROM delivery JOIN piece ON piece.id = delivery.piece_id
                    WHERE delivery.purchase_id = purchase.id AND piece.state = {N(PieceState.Reserved)} AND piece.plan_id = purchase.plan_id)
                > (SELECT coalesce(sum(count - cut), 0) FROM layout
                    WHERE layout.plan_id = purchase.plan_id AND layout.piece_id IS NULL AND json_extract(layout.blueprint, '$.stock') = purchase.stock)
            """),
        ("has a plan, but is not reserved", $"SELECT mark FROM piece WHERE state <> {N(PieceState.Reserved)} AND plan_id IS NOT NULL"),
        ("wanted by a plan that is open, but not reserved for it", $"""
            SELECT piece.mark FROM layout JOIN plan ON plan.id = layout.plan_id JOIN piece ON piece.id = layout.piece_id
            WHERE plan.state IN ({N(PlanState.Reserved)}, {N(PlanState.Cutting)}) AND layout.cut + layout.lost = 0
                AND (piece.state <> {N(PieceState.Reserved)} OR piece.plan_id IS NOT plan.id)
            """),
        ("cut, but no cut is booked", $"SELECT mark FROM piece WHERE state = {N(PieceState.Cut)} AND NOT EXISTS (SELECT 1 FROM cut WHERE cut.piece_id = piece.id)"),
        ("a cut is booked, but it is not cut", $"SELECT mark FROM piece WHERE state <> {N(PieceState.Cut)} AND EXISTS (SELECT 1 FROM cut WHERE cut.piece_id = piece.id)"),
        ("left over from a piece that is not cut", $"SELECT piece.mark FROM piece JOIN piece AS parent ON parent.id = piece.parent_id WHERE parent.state <> {N(PieceState.Cut)}"),
        ("layout with another number of cuts than booked", """
            SELECT 'P' || plan_id || ' layout ' || number FROM layout
            WHERE cut <> (SELECT count(*) FROM cut WHERE cut.layout_id = layout.id AND kind = 0)
                OR lost <> (SELECT count(*) FROM cut WHERE cut.layout_id = layout.id AND kind = 1)
            """),
        ("the metal of its cut does not add up", """
            SELECT piece.mark FROM cut JOIN piece ON piece.id = cut.piece_id
            WHERE piece.micrograms <> coalesce((SELECT sum(micrograms) FROM ledger WHERE ledger.cut_id = cut.id), 0)
                + coalesce((SELECT sum(micrograms) FROM piece AS child WHERE child.parent_id = piece.id), 0)
                - coalesce((SELECT sum(ledger.micrograms) FROM ledger JOIN piece AS child ON child.id = ledger.piece_id
                    WHERE child.parent_id = piece.id AND ledger.kind IN (0, 1, 2)), 0)
            """),
        ("a finished plan has layouts to cut", $"""
            SELECT 'P' || plan.id FROM plan JOIN layout ON layout.plan_id = plan.id
            WHERE plan.state IN ({N(PlanState.Finished)}, {N(PlanState.Incomplete)})
                AND layout.count - layout.cut
                    - CASE WHEN layout.piece_id IS NULL AND plan.state = {N(PlanState.Incomplete)} THEN 0 ELSE layout.lost END > 0
            """),
    ];

    /// <summary>What is wrong; empty when all is well.</summary>
    public static List<string> Findings(Db db)
    {
        var findings = db.Query("PRAGMA integrity_check", row => row.GetString(0)).Where(line => line != "ok").Select(line => "file: " + line).ToList();
        if (findings.Count > 0)
        {
            return findings;
        }

        findings.AddRange(db.Query("PRAGMA foreign_key_check", row => string.Create(
            CultureInfo.InvariantCulture, $"{row.GetString(0)} row {row.GetValue(1)}: refers to a row of {row.GetString(2)} that is missing")));
        foreach (var (rule, sql) in Rules)
        {
            findings.AddRange(db.Query(sql, row => $"{row.GetString(0)}: {rule}"));
        }

        findings.AddRange(db.Query("SELECT mark FROM piece", row => row.GetString(0))
            .Where(mark => !PieceMark.TryRead(mark, out var read, out _) || read != mark)
            .Select(mark => $"{mark}: not a mark"));
        if (MetalBalance.Read(db).Difference is not 0 and var difference)
        {
            findings.Add(string.Create(CultureInfo.InvariantCulture, $"metal: {difference} µg are missing (below zero: too many)"));
        }

        return findings;
    }

    private static string N(Enum value) => Convert.ToInt32(value, CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture);
}
