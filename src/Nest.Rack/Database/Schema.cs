using System.Globalization;

namespace Nest.Rack.Database;

/// <summary>The rack's tables, version by version. A published version is never changed; what is new goes into the next one.</summary>
/// <remarks>Lengths are whole nanometres, masses whole micrograms, money in units of <see cref="Core.Quantities.Money"/>, times UTC as
/// text. Every table whose rows the history may restore has the key <c>id</c>, never used twice.</remarks>
internal static class Schema
{
    /// <summary>Marks a file as a rack of Nest: "Nest" in ASCII.</summary>
    public const long ApplicationId = 0x4E657374;

    public static IReadOnlyList<string> Versions { get; } = [Version1, Version2, Version3, Version4, Version5];

    private const string Version1 = """
        CREATE TABLE counter (name TEXT PRIMARY KEY, value INTEGER NOT NULL) WITHOUT ROWID;
        INSERT INTO counter VALUES ('mark', 0);

        CREATE TABLE setting (id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL UNIQUE, value TEXT NOT NULL);

        CREATE TABLE material (
            id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL UNIQUE COLLATE NOCASE, family TEXT NOT NULL,
            density INTEGER NOT NULL CHECK (density > 0));

        CREATE TABLE plan (
            id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL, state INTEGER NOT NULL, created TEXT NOT NULL,
            fingerprint TEXT NOT NULL, continues INTEGER REFERENCES plan (id));

        CREATE TABLE demand (
            id INTEGER PRIMARY KEY AUTOINCREMENT, plan_id INTEGER NOT NULL REFERENCES plan (id), part TEXT NOT NULL,
            wanted INTEGER NOT NULL, UNIQUE (plan_id, part));

        CREATE TABLE piece (
            id INTEGER PRIMARY KEY AUTOINCREMENT, mark TEXT NOT NULL UNIQUE, state INTEGER NOT NULL, form INTEGER NOT NULL,
            material_id INTEGER NOT NULL REFERENCES material (id),
            length INTEGER NOT NULL CHECK (length > 0), width INTEGER NOT NULL CHECK (width > 0),
            thickness INTEGER NOT NULL CHECK (thickness > 0),
            min_length INTEGER NOT NULL CHECK (min_length > 0), min_width INTEGER NOT NULL CHECK (min_width > 0),
            min_thickness INTEGER NOT NULL CHECK (min_thickness > 0),
            side1 INTEGER NOT NULL, side2 INTEGER NOT NULL, side3 INTEGER NOT NULL,
            rolling INTEGER NOT NULL, clean INTEGER NOT NULL, keep_outs TEXT NOT NULL, good_faces INTEGER NOT NULL,
            heat TEXT NOT NULL COLLATE NOCASE, certificate TEXT NOT NULL, place TEXT NOT NULL COLLATE NOCASE,
            bought INTEGER NOT NULL, supplier TEXT NOT NULL, origin TEXT NOT NULL, parent_id INTEGER REFERENCES piece (id),
            value INTEGER NOT NULL, entered TEXT NOT NULL, condition INTEGER NOT NULL, note TEXT NOT NULL,
            plan_id INTEGER REFERENCES plan (id), micrograms INTEGER NOT NULL CHECK (micrograms >= 0));
        CREATE INDEX piece_fit ON piece (state, material_id, side3, side2, side1);
        CREATE INDEX piece_heat ON piece (heat);
        CREATE INDEX piece_parent ON piece (parent_id);
        CREATE INDEX piece_plan ON piece (plan_id);

        CREATE TABLE layout (
            id INTEGER PRIMARY KEY AUTOINCREMENT, plan_id INTEGER NOT NULL REFERENCES plan (id), number INTEGER NOT NULL,
            piece_id INTEGER REFERENCES piece (id), count INTEGER NOT NULL CHECK (count > 0),
            cut INTEGER NOT NULL CHECK (cut >= 0), lost INTEGER NOT NULL CHECK (lost >= 0), blueprint TEXT NOT NULL,
            UNIQUE (plan_id, number), CHECK (cut <= count));
        CREATE INDEX layout_piece ON layout (piece_id);

        CREATE TABLE cut (
            id INTEGER PRIMARY KEY AUTOINCREMENT, layout_id INTEGER NOT NULL REFERENCES layout (id),
            piece_id INTEGER NOT NULL UNIQUE REFERENCES piece (id), kind INTEGER NOT NULL, at TEXT NOT NULL, note TEXT NOT NULL);
        CREATE INDEX cut_layout ON cut (layout_id);

        CREATE TABLE made (
            id INTEGER PRIMARY KEY AUTOINCREMENT, cut_id INTEGER NOT NULL REFERENCES cut (id), part TEXT NOT NULL COLLATE NOCASE,
            count INTEGER NOT NULL CHECK (count > 0), batch TEXT NOT NULL COLLATE NOCASE);
        CREATE INDEX made_cut ON made (cut_id);
        CREATE INDEX made_batch ON made (batch, part);

        CREATE TABLE ledger (
            id INTEGER PRIMARY KEY AUTOINCREMENT, kind INTEGER NOT NULL, piece_id INTEGER NOT NULL REFERENCES piece (id),
            cut_id INTEGER REFERENCES cut (id), micrograms INTEGER NOT NULL, at TEXT NOT NULL);
        CREATE INDEX ledger_cut ON ledger (cut_id);
        CREATE INDEX ledger_piece ON ledger (piece_id);

        CREATE TABLE change (
            id INTEGER PRIMARY KEY AUTOINCREMENT, at TEXT NOT NULL, who TEXT NOT NULL, kind TEXT NOT NULL, summary TEXT NOT NULL,
            undoes INTEGER REFERENCES change (id), undone_by INTEGER REFERENCES change (id));
        CREATE TABLE change_row (
            change_id INTEGER NOT NULL REFERENCES change (id), seq INTEGER NOT NULL, table_name TEXT NOT NULL, row_id INTEGER NOT NULL,
            before TEXT, after TEXT, PRIMARY KEY (change_id, seq)) WITHOUT ROWID;
        CREATE INDEX change_row_row ON change_row (table_name, row_id);
        """;

    private const string Version2 = """
        CREATE TABLE stock_take (
            id INTEGER PRIMARY KEY AUTOINCREMENT, started TEXT NOT NULL, place TEXT NOT NULL, state INTEGER NOT NULL);
        CREATE TABLE stock_take_line (
            id INTEGER PRIMARY KEY AUTOINCREMENT, take_id INTEGER NOT NULL REFERENCES stock_take (id), mark TEXT NOT NULL,
            expected INTEGER NOT NULL, found INTEGER NOT NULL, place TEXT NOT NULL, UNIQUE (take_id, mark));
        """;

    // The index is on nominal sides: see StockRequest. What a plan buys, and which pieces came for it. Of plans entered before, the layouts tell both; of the worth of a whole piece they
    // know nothing, so it gets the usual 0.6 of its price. A row goes with the plan or piece that an old change, undone, removes.
    private const string Version3 = """
        CREATE TABLE purchase (
            id INTEGER PRIMARY KEY AUTOINCREMENT, plan_id INTEGER NOT NULL REFERENCES plan (id) ON DELETE CASCADE, stock TEXT NOT NULL,
            count INTEGER NOT NULL CHECK (count > 0), price INTEGER NOT NULL, worth INTEGER NOT NULL, body TEXT NOT NULL,
            UNIQUE (plan_id, stock));
        CREATE TABLE delivery (
            id INTEGER PRIMARY KEY AUTOINCREMENT, purchase_id INTEGER NOT NULL REFERENCES purchase (id) ON DELETE CASCADE,
            piece_id INTEGER NOT NULL UNIQUE REFERENCES piece (id) ON DELETE CASCADE);
        CREATE INDEX delivery_purchase ON delivery (purchase_id);
        CREATE INDEX piece_box ON piece (state, material_id, min(length, width, thickness),
            length + width + thickness - min(length, width, thickness) - max(length, width, thickness), max(length, width, thickness));
        INSERT INTO purchase (plan_id, stock, count, price, worth, body)
            SELECT plan_id, json_extract(blueprint, '$.stock'), sum(count), min(json_extract(blueprint, '$.price')),
                min(json_extract(blueprint, '$.price')) * 6 / 10, min(blueprint)
            FROM layout WHERE piece_id IS NULL GROUP BY 1, 2 ORDER BY 1, 2;
        INSERT INTO delivery (purchase_id, piece_id)
            SELECT purchase.id, cut.piece_id FROM cut JOIN layout ON layout.id = cut.layout_id
                JOIN purchase ON purchase.plan_id = layout.plan_id AND purchase.stock = json_extract(layout.blueprint, '$.stock')
            WHERE layout.piece_id IS NULL ORDER BY cut.id;
        """;

    // The part as it was planned, for change orders; empty of plans entered before.
    private const string Version4 = """
        ALTER TABLE demand ADD COLUMN body TEXT NOT NULL DEFAULT '';
        """;

    // What the outer sizes of a tube, angle, channel, tee or profile do not tell; empty of plate and solid bar.
    private const string Version5 = """
        ALTER TABLE piece ADD COLUMN section TEXT NOT NULL DEFAULT '';
        """;

    /// <summary>Creates or migrates the rack to the newest of these versions, in one transaction; before each migration of an existing
    /// rack a backup is made beside it.</summary>
    public static void BringUpToDate(Db db, string path, TimeProvider clock, IReadOnlyList<string> versions)
    {
        // One snapshot: while another process creates the rack, its parts must not be seen from before and after.
        db.Execute("BEGIN DEFERRED");
        try
        {
            if (Version(db, path, versions.Count) == versions.Count)
            {
                return;
            }
        }
        finally
        {
            RackDatabase.TryRollBack(db);
        }

        db.Execute("BEGIN IMMEDIATE");
        try
        {
            // Another process may have been faster: look again, now that nobody else can write.
            var version = Version(db, path, versions.Count);
            if (version > 0 && version < versions.Count)
            {
                Backups.Make(path, version, clock.GetUtcNow());
            }

            for (var i = (int)version; i < versions.Count; i++)
            {
                db.Script(versions[i]);
            }

            db.Script(string.Create(CultureInfo.InvariantCulture, $"PRAGMA application_id = {ApplicationId}; PRAGMA user_version = {versions.Count}"));
            db.Execute("COMMIT");
        }
        catch
        {
            RackDatabase.TryRollBack(db);
            throw;
        }
    }

    private static long Version(Db db, string path, int newest)
    {
        var application = db.Number("PRAGMA application_id");
        var version = db.Number("PRAGMA user_version");
        var empty = db.Number("SELECT count(*) FROM sqlite_schema") == 0;
        if (application == 0 && version == 0 && empty)
        {
            return 0;
        }

        if (application != ApplicationId)
        {
            throw new RackException(RackFault.NotARack, $"{path} is a database of another program, not a rack", "name the rack's file, or a new one");
        }

        return version <= newest
            ? version
            : throw new RackException(
                RackFault.Newer,
                string.Create(CultureInfo.InvariantCulture, $"the rack {path} was written by a newer Nest (version {version} of the rack; this Nest knows {newest}); nothing was changed"),
                "use the newer Nest");
    }
}
