using System.Collections.Immutable;
using System.Globalization;
using Nest.Rack.Database;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.Rack.Tracing;

/// <summary>From blanks back to heats, and from a heat forward to blanks.</summary>
internal static class Traces
{
    private const string Select = """
        SELECT made.batch, made.part, made.count, layout.plan_id, layout.number, cut.at, piece.heat, piece.certificate, piece.supplier,
            material.name, piece.id
        FROM made JOIN cut ON cut.id = made.cut_id JOIN layout ON layout.id = cut.layout_id JOIN piece ON piece.id = cut.piece_id
            JOIN material ON material.id = piece.material_id
        """;

    /// <summary>Blanks of a batch, or that a plan of this number made.</summary>
    public static List<TracedBlanks> OfBatch(Db db, string batch, string? part)
    {
        const string Where = " WHERE (made.batch = $1 OR layout.plan_id = $2)";
        var plan = batch.StartsWith('P') || batch.StartsWith('p') ? PlanNumber.TryRead(batch, out var id) ? id : -1 : -1;
        var all = Read(db, Select + Where + " ORDER BY made.id", batch, plan);
        if (all.Count == 0)
        {
            throw plan >= 0 && db.Number("SELECT count(*) FROM plan WHERE id = $1", plan) > 0
                ? RackException.Refused($"nothing of {PlanNumber.Format(plan)} has been cut yet", "see 'nest plans'")
                : RackException.Refused($"the rack knows no batch '{batch}'", "name the batch as it was given with 'nest cut', or a plan's number; see 'nest plans'");
        }

        var found = part is null ? all : all.Where(blanks => string.Equals(blanks.PartId, part, StringComparison.OrdinalIgnoreCase)).ToList();
        return found.Count > 0 ? found : throw RackException.Refused(
            $"the batch '{batch}' has no part '{part}'", $"it has {string.Join(", ", all.Select(blanks => blanks.PartId).Distinct().Order(StringComparer.Ordinal))}");
    }

    public static HeatTrace OfHeat(Db db, string heat)
    {
        var pieces = db.Query(PieceRows.Select + " WHERE piece.heat = $1 ORDER BY piece.id", PieceRows.Read, heat);
        return pieces.Count == 0
            ? throw RackException.Refused($"the rack knows no heat '{heat}'", "see the column heat of 'nest rack list --all'")
            : new(heat, [.. pieces.Select(row => row.Piece)], [.. Read(db, Select + " WHERE piece.heat = $1 ORDER BY made.id", heat)]);
    }

    private static List<TracedBlanks> Read(Db db, string sql, params ReadOnlySpan<object?> values)
    {
        var rows = db.Query(
            sql,
            row => (PieceId: row.GetInt64(10), Blanks: new TracedBlanks(
                row.GetString(0), row.GetString(1), row.GetInt32(2), PlanNumber.Format(row.GetInt64(3)), row.GetInt32(4),
                DateTimeOffset.Parse(row.GetString(5), CultureInfo.InvariantCulture), row.GetString(6), row.GetString(7), row.GetString(8),
                row.GetString(9), [])),
            values);
        return [.. rows.Select(row => row.Blanks with { Marks = Ancestors(db, row.PieceId) })];
    }

    private static ImmutableArray<string> Ancestors(Db db, long pieceId) =>
        [.. db.Query(
            """
            WITH RECURSIVE line (id, parent_id, mark, depth) AS (
                SELECT id, parent_id, mark, 0 FROM piece WHERE id = $1
                UNION ALL SELECT piece.id, piece.parent_id, piece.mark, depth + 1 FROM piece JOIN line ON piece.id = line.parent_id)
            SELECT mark FROM line ORDER BY depth
            """,
            row => row.GetString(0), pieceId)];
}
