using System.Globalization;
using Nest.Core.Racks;
using Nest.Rack.Database;
using Nest.Rack.History;
using Nest.Rack.Marks;
using Nest.Rack.Pieces;

namespace Nest.Rack.StockTake;

/// <summary>Counting the rack: what should be there, what was found, the differences, and making the books agree.</summary>
internal static class StockTakes
{
    public static long Start(ChangeSet change, string place)
    {
        var id = change.Insert("stock_take", ("started", change.At), ("place", place), ("state", (long)StockTakeState.Open));
        var (where, values) = new PieceFilter { Place = place }.ToSql();
        foreach (var mark in change.Db.Query(PieceRows.Select + where, PieceRows.Read, values).Select(stored => stored.Piece.Mark))
        {
            change.Insert("stock_take_line", ("take_id", id), ("mark", mark), ("expected", 1L), ("found", 0L), ("place", ""));
        }

        return id;
    }

    /// <summary>Enters a mark that was found.</summary>
    /// <param name="place">Where; empty: where the books have it.</param>
    public static void Found(ChangeSet change, long takeId, string mark, string place)
    {
        RefuseClosed(change.Db, takeId);
        var read = PieceRows.Stored(change.Db, mark, "enter it as it is painted, or mark the piece anew");
        var ids = change.Db.Query("SELECT id FROM stock_take_line WHERE take_id = $1 AND mark = $2", row => row.GetInt64(0), takeId, read);
        if (ids.Count == 0)
        {
            change.Insert("stock_take_line", ("take_id", takeId), ("mark", read), ("expected", 0L), ("found", 1L), ("place", place));
        }
        else
        {
            change.Update("stock_take_line", ids[0], ("found", 1L), ("place", place));
        }
    }

    public static StockTakeRecord Read(Db db, long takeId)
    {
        var heads = db.Query(
            "SELECT started, place, state FROM stock_take WHERE id = $1",
            row => (DateTimeOffset.Parse(row.GetString(0), CultureInfo.InvariantCulture), row.GetString(1), (StockTakeState)row.GetInt32(2)), takeId);
        if (heads.Count == 0)
        {
            throw RackException.Refused(string.Create(CultureInfo.InvariantCulture, $"there is no stock-take {takeId}"), "start one with 'nest rack count start'");
        }

        var lines = db.Query(
            """
            SELECT line.mark, line.expected, line.found, line.place, piece.state, piece.place, piece.plan_id,
                (SELECT max(change_id) FROM change_row WHERE table_name = 'stock_take_line' AND row_id = line.id),
                (SELECT max(change_id) FROM change_row WHERE table_name = 'piece' AND row_id = piece.id AND json_extract(after, '$.state') IS NOT NULL),
                (SELECT max(change_id) FROM change_row WHERE table_name = 'piece' AND row_id = piece.id AND json_extract(after, '$.place') IS NOT NULL)
            FROM stock_take_line AS line LEFT JOIN piece ON piece.mark = line.mark WHERE line.take_id = $1
            ORDER BY piece.place, line.mark
            """,
            row =>
            {
                var (expected, found, place) = (row.GetInt32(1) != 0, row.GetInt32(2) != 0, row.GetString(3));
                PieceState? state = row.IsDBNull(4) ? null : (PieceState)row.GetInt32(4);
                var book = row.IsDBNull(5) ? "" : row.GetString(5);
                bool Since(int column) => !row.IsDBNull(column) && !row.IsDBNull(7) && row.GetInt64(column) > row.GetInt64(7);
                return new CountLine(row.GetString(0), expected, found, place, Judge(state, found, place, book, Since(8), Since(9)), book, state == PieceState.Reserved ? row.GetInt64(6) : null);
            },
            takeId);
        return new(takeId, heads[0].Item1, heads[0].Item2, heads[0].Item3, [.. lines]);
    }

    /// <summary>Makes the books agree with what was found.</summary>
    /// <returns>Number of pieces changed.</returns>
    /// <param name="allMissing">That nothing was entered as found is meant so.</param>
    public static int Apply(ChangeSet change, long takeId, bool allMissing)
    {
        RefuseClosed(change.Db, takeId);
        var take = Read(change.Db, takeId);
        var open = take.Lines.Where(line => line.Verdict is CountVerdict.Contradicts or CountVerdict.Unknown).ToList();
        if (open.Count > 0)
        {
            throw RackException.Refused(
                $"the books cannot explain {string.Join(", ", open.Select(line => line.Mark))}: cut by the books, or never entered",
                "look at the pieces; undo the wrong cut, or enter them as new pieces and paint the new marks, then strike them from the count");
        }

        var missing = take.Lines.Count(line => line.Verdict == CountVerdict.Missing);
        if (!allMissing && missing > 0 && !take.Lines.Any(line => line.Found))
        {
            throw RackException.Refused(
                string.Create(CultureInfo.InvariantCulture, $"nothing was entered as found: all {missing} pieces would be booked as lost"),
                string.Create(CultureInfo.InvariantCulture, $"enter what was found with 'nest rack count found {takeId}'; where all are really gone, say --all-missing"));
        }

        var changed = 0;

        // Reserved pieces that were not scanned stay as they are: booked as lost behind the plan's back they would be missed only at the saw.
        foreach (var line in take.Differences.Where(line => line.Verdict != CountVerdict.MissingReserved))
        {
            var stored = PieceRows.Find(change.Db, line.Mark);
            switch (line.Verdict)
            {
                case CountVerdict.Missing:
                    PieceRows.Update(change, stored with { Piece = stored.Piece with { State = PieceState.Lost } });
                    Ledger.Add(change, LedgerKind.Lost, stored.Id, null, stored.Piece.Micrograms);
                    break;
                case CountVerdict.Moved:
                    PieceRows.Update(change, stored with { Piece = stored.Piece with { Place = line.Place } });
                    break;
                default:
                    var kind = stored.Piece.State == PieceState.Lost ? LedgerKind.Lost : LedgerKind.Scrapped;
                    var place = line.Place.Length == 0 ? stored.Piece.Place : line.Place;
                    PieceRows.Update(change, stored with { Piece = stored.Piece with { State = PieceState.OnRack, Place = place } });
                    Ledger.Add(change, kind, stored.Id, null, -stored.Piece.Micrograms);
                    break;
            }

            changed++;
        }

        change.Update("stock_take", takeId, ("state", (long)StockTakeState.Applied));
        return changed;
    }

    /// <summary>Strikes a mark that was entered by mistake.</summary>
    public static void Strike(ChangeSet change, long takeId, string mark)
    {
        RefuseClosed(change.Db, takeId);
        var read = PieceRows.Stored(change.Db, mark, "see 'nest rack count show'");
        var rows = change.Db.Query(
            "SELECT id, expected FROM stock_take_line WHERE take_id = $1 AND mark = $2 AND found = 1", row => (row.GetInt64(0), row.GetInt32(1) != 0), takeId, read);
        if (rows.Count == 0)
        {
            throw RackException.Refused($"{read} was not entered as found", "see 'nest rack count show'");
        }

        if (rows[0].Item2)
        {
            change.Update("stock_take_line", rows[0].Item1, ("found", 0L), ("place", ""));
        }
        else
        {
            change.Delete("stock_take_line", rows[0].Item1);
        }
    }

    /// <summary>Closes a stock-take without touching the books.</summary>
    public static void Drop(ChangeSet change, long takeId)
    {
        RefuseClosed(change.Db, takeId);
        change.Update("stock_take", takeId, ("state", (long)StockTakeState.Dropped));
    }

    /// <summary>All stock-takes, newest first.</summary>
    public static List<StockTakeRecord> All(Db db) =>
        [.. db.Query("SELECT id FROM stock_take ORDER BY id DESC", row => row.GetInt64(0)).Select(id => Read(db, id))];

    public static void RefuseClosed(Db db, long takeId)
    {
        if (Read(db, takeId).State != StockTakeState.Open)
        {
            throw RackException.Refused(string.Create(CultureInfo.InvariantCulture, $"the stock-take {takeId} is closed"), "start another");
        }
    }

    /// <param name="stateSince">It was cut, thrown away or the like after it was found: the later word counts.</param>
    /// <param name="placeSince">It was moved after it was found.</param>
    private static CountVerdict Judge(PieceState? state, bool found, string place, string book, bool stateSince, bool placeSince) => (state, found) switch
    {
        (null, true) => CountVerdict.Unknown,
        (PieceState.Reserved, false) => CountVerdict.MissingReserved,
        (PieceState.OnRack, false) => CountVerdict.Missing,
        (PieceState.OnRack or PieceState.Reserved, true) =>
            place.Length == 0 || placeSince || string.Equals(place, book, StringComparison.OrdinalIgnoreCase) ? CountVerdict.Agrees : CountVerdict.Moved,
        (PieceState.Lost or PieceState.Scrapped, true) when !stateSince => CountVerdict.Returned,
        (PieceState.Cut, true) when !stateSince => CountVerdict.Contradicts,

        // Cut or thrown away while the count went on, and not found: as it should be.
        _ => CountVerdict.Agrees,
    };
}
