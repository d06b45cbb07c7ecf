using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Database;
using Nest.Rack.Pieces;

namespace Nest.Rack.Plans;

/// <summary>A whole piece that came for a plan, or for one whose rest it does, and that no other plan has taken since.</summary>
/// <param name="StockId">What it was bought as.</param>
/// <param name="Worth">What it is worth if it stays on the rack.</param>
public sealed record PaidPiece(string Mark, string StockId, Money Worth);

/// <summary>What is paid for: free for its plan and for every plan that does the rest of it.</summary>
/// <remarks>The money is spent whether the piece is used or not, so a rest counts almost nothing for it: <see cref="Charge"/>. That little
/// keeps paid pieces in order among themselves: where fewer will do, the others stay whole.</remarks>
internal static class PaidStock
{
    /// <summary>Part of its worth at which a paid piece is planned: small, so that nothing is bought in its place; above zero, so that none
    /// is cut up for nothing.</summary>
    private const long Part = 10;

    private const string Line = """
        WITH RECURSIVE line (id, continues) AS (
            SELECT id, continues FROM plan WHERE id = $1 UNION ALL SELECT plan.id, plan.continues FROM plan JOIN line ON plan.id = line.continues)
        """;

    /// <summary>Worth of what came for this plan or the plans whose rest it does, used or not, by the piece's key.</summary>
    public static Dictionary<long, Money> Worths(Db db, long planId) => db.Query(
        Line + " SELECT delivery.piece_id, purchase.worth FROM delivery JOIN purchase ON purchase.id = delivery.purchase_id WHERE purchase.plan_id IN (SELECT id FROM line)",
        row => (row.GetInt64(0), Money.FromUnits(row.GetInt64(1))), planId).ToDictionary(row => row.Item1, row => row.Item2);

    /// <summary>Of these the ones that are there for the plan, oldest first.</summary>
    public static ImmutableArray<PaidPiece> Of(Db db, long planId) => [.. db.Query(
        Line + string.Create(CultureInfo.InvariantCulture, $"""
         SELECT piece.mark, purchase.stock, purchase.worth FROM delivery
            JOIN purchase ON purchase.id = delivery.purchase_id JOIN piece ON piece.id = delivery.piece_id
            WHERE purchase.plan_id IN (SELECT id FROM line)
                AND (piece.state = {(int)PieceState.OnRack} OR (piece.state = {(int)PieceState.Reserved} AND piece.plan_id IN (SELECT id FROM line)))
            ORDER BY piece.id
        """),
        row => new PaidPiece(row.GetString(0), row.GetString(1), Money.FromUnits(row.GetInt64(2))), planId)];

    /// <summary>What a plan of the rest counts for a paid piece: a tenth of its worth, but never less than its scrap, or to saw it up would
    /// be a gain.</summary>
    public static Money Charge(Money worth, Job job, Stock stock) =>
        Money.Max(Money.FromUnits(worth.Units / Part), StockWorth.Of(job, stock).Scrap);
}
