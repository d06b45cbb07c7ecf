using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Database;
using Nest.Rack.History;
using Nest.Rack.Marks;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;
using Nest.Rack.Values;

namespace Nest.Rack;

/// <summary>The rack: a database of pieces with marks, of the plans that use them, and of every change.</summary>
/// <remarks>
/// One file, created at first use; it must stand on a disk of this machine (locks over a network are not reliable). Every method is
/// one transaction: it is done whole or not at all, and once it has returned, its change outlasts a killed program or a power cut.
/// Several processes may use one file; one store belongs to one thread. Faults are <see cref="RackException"/>s with a message and
/// advice.
/// </remarks>
public sealed partial class RackStore : IDisposable
{
    private readonly RackDatabase database;

    private RackStore(RackDatabase database) => this.database = database;

    /// <summary>One page of the smallest kind (SQLite file format, 1.3.2: pages have 512 bytes at least).</summary>
    private const int SmallestFile = 512;

    /// <summary>The rack's file.</summary>
    public string Path => database.Path;

    /// <summary>Opens the rack; creates it where there is none, and migrates an older one after making a backup beside it.</summary>
    public static RackStore Open(string path, RackOptions? options = null)
    {
        // To SQLite these name databases that are gone with the program.
        if (path.Trim().Length == 0 || path.Trim() == ":memory:" || path.StartsWith("file:", StringComparison.OrdinalIgnoreCase))
        {
            throw new RackException(RackFault.NotARack, $"'{path}' is no name of a file", "name the rack's file");
        }

        // SQLite takes a file with less than a header for an empty one and would begin a new rack in it: but something was there.
        if (File.Exists(path) && new FileInfo(path).Length is > 0 and < SmallestFile and var bytes)
        {
            throw new RackException(RackFault.Damaged, $"{path} has only {bytes} bytes, so it is what is left of a rack, or no rack", "put a copy of the rack in its place, or name the rack's file");
        }

        return new(new RackDatabase(path, options ?? new()));
    }

    public void Dispose() => database.Dispose();

    /// <summary>Writes a whole copy of the rack as it is now, while others go on working with it.</summary>
    /// <param name="path">A file that is not there.</param>
    public void CopyTo(string path) => Backups.Copy(Path, path);

    // ---- pieces -----------------------------------------------------------------------------------------------------------------

    /// <summary>Makes materials known. One that is known keeps its density, since pieces were booked at it.</summary>
    public void Learn(IEnumerable<Material> materials)
    {
        var list = materials.ToList();
        var known = database.Read(db => db.Query("SELECT name FROM material", row => row.GetString(0))).ToHashSet(StringComparer.OrdinalIgnoreCase);
        var unknown = list.Where(material => !known.Contains(material.Id)).ToList();
        if (unknown.Count > 0)
        {
            database.Write("materials", change =>
            {
                Materials.Learn(change, unknown);
                change.Summary = $"materials {string.Join(", ", unknown.Select(material => material.Id))}";
                return 0;
            });
        }
    }

    /// <summary>Enters pieces, all or none; each gets a mark.</summary>
    /// <param name="table">Fingerprint of the table they are from, so that it is not entered twice; null: none.</param>
    /// <exception cref="RackException">The table was entered before.</exception>
    public ImmutableArray<RackPiece> Add(IReadOnlyCollection<RackPiece> pieces, string? table = null) => pieces.Count == 0 ? [] : database.Write("add", change =>
    {
        if (table is not null)
        {
            RackSettings.Once(change, $"table {table}");
        }

        var added = ImmutableArray.CreateBuilder<RackPiece>(pieces.Count);
        foreach (var piece in pieces)
        {
            if (piece.State != PieceState.OnRack || piece.ReservedFor is not null)
            {
                throw RackException.Refused("a new piece is on the rack and free", "enter it so");
            }

            // Only a cut makes one piece the child of another.
            var stored = PieceRows.Insert(change, piece with { ParentMark = null }, null);
            Ledger.Add(change, piece.Bought ? LedgerKind.Bought : LedgerKind.Found, stored.Id, null, stored.Piece.Micrograms);
            added.Add(stored.Piece);
        }

        change.Summary = $"added {Marks(added.Select(piece => piece.Mark))}";
        return added.ToImmutable();
    });

    /// <summary>Enters one piece.</summary>
    public RackPiece Add(RackPiece piece) => Add([piece])[0];

    public ImmutableArray<RackPiece> List(PieceFilter filter)
    {
        // Damage is looked at piece by piece, after the rest; so the limit too comes after it.
        var whole = filter.Holds.IsDefaultOrEmpty;
        var (where, values) = (whole ? filter : filter with { Limit = null }).ToSql();
        var pieces = database.Read(db => db.Query(PieceRows.Select + where, PieceRows.Read, values)).Select(row => row.Piece);
        return whole ? [.. pieces] : [.. pieces.Where(piece => SoundMetal.Holds(piece, filter.Holds)).Take(filter.Limit ?? int.MaxValue)];
    }

    public RackPiece Show(string mark) => database.Read(db => PieceRows.Find(db, mark).Piece);

    /// <summary>Moves pieces to another place.</summary>
    /// <returns>Their marks, each once.</returns>
    public ImmutableArray<string> Move(IReadOnlyCollection<string> marks, string place) => database.Write("move", change =>
    {
        var pieces = Each(change, marks);
        foreach (var stored in pieces)
        {
            PieceRows.Update(change, stored with { Piece = stored.Piece with { Place = place.Trim() } });
        }

        change.Summary = $"moved {Marks(pieces.Select(stored => stored.Piece.Mark))} to {(place.Trim().Length == 0 ? "no place" : place.Trim())}";
        return MarksOf(pieces);
    });

    /// <summary>Corrects what is known of a piece, sizes and material too.</summary>
    public Adjusted Adjust(string mark, PieceChange adjustment) => database.Write("adjust", change =>
    {
        // Papers come late: what is known of the metal is corrected on pieces that are cut already, too.
        var stored = adjustment.IsOfPapers ? PieceRows.Find(change.Db, mark) : Here(change, mark);
        var after = adjustment.On(stored.Piece);
        if (adjustment.MaterialId is not null)
        {
            RefuseReserved(stored.Piece);
        }

        PieceRules.Check(after, stored.Piece);
        var (material, density) = Materials.Find(change.Db, after.MaterialId);
        after = after with { Micrograms = PieceMass.Of(after, density) };
        var words = PieceWords.Changed(stored.Piece, after, LengthFormat.ExactMetric).ToList();
        if (words.Count == 0)
        {
            throw RackException.Refused($"nothing to change on {stored.Piece.Mark}", "name what is different");
        }

        PieceRows.Update(change, stored with { Piece = after }, material);
        Ledger.Add(change, LedgerKind.Corrected, stored.Id, null, after.Micrograms - stored.Piece.Micrograms);
        var children = Papers.HandDown(change, stored, after);
        var adjusted = new Adjusted(stored.Piece, after, children.Count == 0 ? "" : $"so too {Marks(children)}, cut from it");
        change.Summary = adjusted.Line(words);
        return adjusted;
    });

    /// <summary>Throws pieces away. Reserved ones are refused: cancel or re-plan first.</summary>
    /// <returns>Their marks, each once.</returns>
    public ImmutableArray<string> Scrap(IReadOnlyCollection<string> marks, string reason) => database.Write("scrap", change =>
    {
        var pieces = Each(change, marks);
        foreach (var stored in pieces)
        {
            RefuseReserved(stored.Piece);
            PieceRows.Update(change, stored with { Piece = stored.Piece with { State = PieceState.Scrapped } });
            Ledger.Add(change, LedgerKind.Scrapped, stored.Id, null, stored.Piece.Micrograms);
        }

        change.Summary = $"scrapped {Marks(pieces.Select(stored => stored.Piece.Mark))}{(reason.Length == 0 ? "" : $": {reason}")}";
        return MarksOf(pieces);
    });

    // ---- history ----------------------------------------------------------------------------------------------------------------

    /// <summary>Newest first.</summary>
    public ImmutableArray<ChangeRecord> History(int most = 50) => database.Read(db => Histories.Newest(db, most).ToImmutableArray());

    /// <summary>Changes of one piece, oldest first.</summary>
    public ImmutableArray<ChangeRecord> HistoryOf(string mark) => database.Read(db => Histories.OfMark(db, PieceRows.Stored(db, mark, "")).ToImmutableArray());

    /// <summary>The rows that a change wrote.</summary>
    public ImmutableArray<ChangedRow> RowsOf(long change) => database.Read(db =>
    {
        Histories.Find(db, change);
        return Histories.Rows(db, change).ToImmutableArray();
    });

    /// <summary>Takes back a change; null: the newest that stands, which must be of the same person.</summary>
    /// <returns>The change that was taken back.</returns>
    public ChangeRecord Undo(long? changeId = null) => database.Write("undo", change =>
        Undoing.Undo(change, changeId ?? Undoing.Newest(change.Db, change.Id, database.Options.Who)));

    // ---- helpers ----------------------------------------------------------------------------------------------------------------

    /// <summary>A piece that is on the rack, reserved or not.</summary>
    private static StoredPiece Here(ChangeSet change, string mark)
    {
        var stored = PieceRows.Find(change.Db, mark);
        return stored.Piece.State is PieceState.OnRack or PieceState.Reserved
            ? stored
            : throw RackException.Refused(
                $"{stored.Piece.Mark} is no longer on the rack: it is {stored.Piece.State.ToString().ToLowerInvariant()}", $"see 'nest rack show {stored.Piece.Mark}'");
    }

    /// <summary>Pieces that are on the rack; one that is named twice is one piece.</summary>
    private static List<StoredPiece> Each(ChangeSet change, IEnumerable<string> marks) =>
        [.. marks.Select(mark => Here(change, mark)).DistinctBy(stored => stored.Id)];

    private static void RefuseReserved(RackPiece piece)
    {
        if (piece.State == PieceState.Reserved)
        {
            throw RackException.Refused(
                $"{piece.Mark} is reserved for {PlanNumber.Format(piece.ReservedFor ?? 0)}",
                $"where it is spoiled or gone, book it with 'nest miscut {PlanNumber.Format(piece.ReservedFor ?? 0)} LAYOUT WHAT'; else cancel that plan");
        }
    }

    private static ImmutableArray<string> MarksOf(IEnumerable<StoredPiece> pieces) => [.. pieces.Select(stored => stored.Piece.Mark)];

    private static string Marks(IEnumerable<string> marks)
    {
        const int Named = 12;
        var list = marks.ToList();
        return list.Count <= Named ? string.Join(", ", list) : $"{string.Join(", ", list.Take(Named))} and {list.Count - Named} more";
    }
}
