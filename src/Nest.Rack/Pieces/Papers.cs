using Nest.Core.Racks;
using Nest.Rack.History;

namespace Nest.Rack.Pieces;

/// <summary>Heat and certificate belong to the metal: corrected on a piece, they are corrected on what was cut from it.</summary>
internal static class Papers
{
    /// <summary>Corrects the pieces cut from this one that had its old heat or certificate.</summary>
    /// <returns>Their marks.</returns>
    public static List<string> HandDown(ChangeSet change, StoredPiece before, RackPiece after)
    {
        var (old, marks) = (before.Piece, new List<string>());
        if (old.Heat == after.Heat && old.Certificate == after.Certificate)
        {
            return marks;
        }

        foreach (var child in change.Db.Query(
            """
            WITH RECURSIVE line (id) AS (
                SELECT id FROM piece WHERE parent_id = $1 UNION ALL SELECT piece.id FROM piece JOIN line ON piece.parent_id = line.id)
            """ + " " + PieceRows.Select + " WHERE piece.id IN (SELECT id FROM line) ORDER BY piece.id",
            PieceRows.Read, before.Id))
        {
            var piece = child.Piece with
            {
                Heat = child.Piece.Heat == old.Heat ? after.Heat : child.Piece.Heat,
                Certificate = child.Piece.Certificate == old.Certificate ? after.Certificate : child.Piece.Certificate,
            };
            if (piece != child.Piece)
            {
                PieceRows.Update(change, child with { Piece = piece });
                marks.Add(piece.Mark);
            }
        }

        return marks;
    }
}
