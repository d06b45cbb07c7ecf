using System.Collections.Immutable;
using System.Globalization;
using Microsoft.Data.Sqlite;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Database;
using Nest.Rack.History;
using Nest.Rack.Marks;

namespace Nest.Rack.Pieces;

/// <summary>A piece with its key.</summary>
internal readonly record struct StoredPiece(long Id, RackPiece Piece);

/// <summary>Pieces as rows.</summary>
internal static class PieceRows
{
    public const string Select = """
        SELECT piece.id, piece.mark, piece.state, piece.form, material.name, piece.length, piece.width, piece.thickness,
            piece.min_length, piece.min_width, piece.min_thickness, piece.rolling, piece.clean, piece.keep_outs, piece.good_faces,
            piece.heat, piece.certificate, piece.place, piece.bought, piece.supplier, piece.origin, parent.mark, piece.value,
            piece.entered, piece.condition, piece.note, piece.plan_id, piece.micrograms, piece.section
        FROM piece JOIN material ON material.id = piece.material_id LEFT JOIN piece AS parent ON parent.id = piece.parent_id
        """;

    public static StoredPiece Read(SqliteDataReader row)
    {
        var length = Length.FromNanometres(row.GetInt64(5));
        var width = Length.FromNanometres(row.GetInt64(6));
        var thickness = Length.FromNanometres(row.GetInt64(7));
        return new(row.GetInt64(0), new RackPiece
        {
            Mark = row.GetString(1),
            State = (PieceState)row.GetInt32(2),
            Form = (Form)row.GetInt32(3),
            MaterialId = row.GetString(4),
            Length = length,
            Width = width,
            Thickness = thickness,
            MinLength = Smaller(row.GetInt64(8), length),
            MinWidth = Smaller(row.GetInt64(9), width),
            MinThickness = Smaller(row.GetInt64(10), thickness),
            Rolling = (RollingDirection)row.GetInt32(11),
            CleanEdges = EdgesOf(row.GetInt32(12)),
            KeepOuts = RectsOf(row.GetString(13)),
            GoodFaces = row.GetInt32(14) != 0,
            Heat = row.GetString(15),
            Certificate = row.GetString(16),
            Place = row.GetString(17),
            Bought = row.GetInt32(18) != 0,
            Supplier = row.GetString(19),
            Origin = row.GetString(20),
            ParentMark = row.IsDBNull(21) ? null : row.GetString(21),
            Value = Money.FromUnits(row.GetInt64(22)),
            Entered = DateOnly.ParseExact(row.GetString(23), "yyyy-MM-dd", CultureInfo.InvariantCulture),
            Condition = (PieceCondition)row.GetInt32(24),
            Note = row.GetString(25),
            ReservedFor = row.IsDBNull(26) ? null : row.GetInt64(26),
            Micrograms = row.GetInt64(27),
            Detail = SectionColumn.Detail(row.GetString(28)),
            ListedSection = SectionColumn.Listed(row.GetString(28)),
        });

        static Length? Smaller(long min, Length nominal) => min == nominal.Nanometres ? null : Length.FromNanometres(min);
    }

    /// <summary>The piece with this mark.</summary>
    /// <param name="mark">As typed.</param>
    public static StoredPiece Find(Db db, string mark)
    {
        var read = Stored(db, mark, "nothing was changed");
        var found = db.Query(Select + " WHERE piece.mark = $1", Read, read);
        return found.Count == 1
            ? found[0]
            : throw RackException.Refused($"the rack has no piece {read}", "look at the piece again, or see 'nest rack history'");
    }

    /// <summary>A mark as the rack has it: own marks are found whatever their case.</summary>
    /// <exception cref="RackException">It can be no mark.</exception>
    public static string Stored(Db db, string mark, string advice)
    {
        if (!PieceMark.TryRead(mark, out var read, out var error))
        {
            // It may be painted so all the same.
            read = mark.Trim();
            return IsTaken(db, read) ? read : throw RackException.Refused(error, advice);
        }

        return IsTaken(db, read) ? read
            : db.Query("SELECT mark FROM piece WHERE mark = $1 COLLATE NOCASE", row => row.GetString(0), read) is [var one, ..] ? one : read;
    }

    /// <summary>Enters a piece under a new mark, or under its own when it has one.</summary>
    public static StoredPiece Insert(ChangeSet change, RackPiece piece, long? parentId)
    {
        PieceRules.Check(piece, cut: parentId is not null);
        var (material, density) = Materials.Find(change.Db, piece.MaterialId);
        var stored = piece with
        {
            Mark = piece.Mark.Length == 0 ? NextMark(change.Db) : TakeMark(change.Db, piece.Mark),
            Entered = piece.Entered == default ? change.Today : piece.Entered,
            Micrograms = PieceMass.Of(piece, density),
        };
        (string, object?)[] columns =
        [
            ("mark", stored.Mark), ("material_id", material), ("parent_id", parentId), ("bought", stored.Bought ? 1 : 0),
            ("entered", stored.Entered.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)), .. Columns(stored),
        ];
        return new(change.Insert("piece", columns), stored);
    }

    /// <summary>Writes what an adjustment may change.</summary>
    /// <param name="material">Key of another material; null: it stays.</param>
    public static void Update(ChangeSet change, StoredPiece piece, long? material = null) => change.Update(
        "piece", piece.Id, material is null ? Columns(piece.Piece) : [("material_id", material), .. Columns(piece.Piece)]);

    /// <summary>The three sides, largest first: what a box must cover to hold another.</summary>
    public static (long Side1, long Side2, long Side3) Sides(Length a, Length b, Length c)
    {
        Span<long> sides = [a.Nanometres, b.Nanometres, c.Nanometres];
        sides.Sort();
        return (sides[2], sides[1], sides[0]);
    }

    public static int EdgeBits(CleanEdges edges) =>
        (edges.Left ? 1 : 0) | (edges.Right ? 2 : 0) | (edges.Bottom ? 4 : 0) | (edges.Top ? 8 : 0);

    public static CleanEdges EdgesOf(int bits) => new((bits & 1) != 0, (bits & 2) != 0, (bits & 4) != 0, (bits & 8) != 0);

    private static (string, object?)[] Columns(RackPiece piece)
    {
        var (side1, side2, side3) = Sides(piece.UsableLength, piece.UsableWidth, piece.UsableThickness);
        return
        [
            ("state", (long)piece.State), ("form", (long)piece.Form),
            ("length", piece.Length.Nanometres), ("width", piece.Width.Nanometres), ("thickness", piece.Thickness.Nanometres),
            ("min_length", piece.UsableLength.Nanometres), ("min_width", piece.UsableWidth.Nanometres),
            ("min_thickness", piece.UsableThickness.Nanometres), ("side1", side1), ("side2", side2), ("side3", side3),
            ("rolling", (long)piece.Rolling), ("clean", (long)EdgeBits(piece.CleanEdges)),
            ("keep_outs", RectsText(piece.KeepOuts)), ("good_faces", piece.GoodFaces ? 1L : 0L), ("heat", piece.Heat),
            ("certificate", piece.Certificate), ("place", piece.Place), ("supplier", piece.Supplier), ("origin", piece.Origin),
            ("value", piece.Value.Units), ("condition", (long)piece.Condition), ("note", piece.Note),
            ("plan_id", piece.ReservedFor), ("micrograms", piece.Micrograms),

            // The column has a default, and a rack of an older version does not have it.
            .. SectionColumn.Text(piece.Detail, piece.ListedSection) is { Length: > 0 } section ? new (string, object?)[] { ("section", section) } : [],
        ];
    }

    private static string NextMark(Db db)
    {
        // Not part of the history on purpose: a number is never given twice, even when the entry is undone.
        while (true)
        {
            var number = db.Number("SELECT value FROM counter WHERE name = 'mark'");
            db.Execute("UPDATE counter SET value = $1 WHERE name = 'mark'", number + 1);
            var mark = MarkScheme.FromNumber(number);
            if (!IsTaken(db, mark))
            {
                return mark;
            }
        }
    }

    private static string TakeMark(Db db, string mark)
    {
        if (!PieceMark.TryRead(mark, out var read, out var error))
        {
            throw RackException.Refused(error, "leave the mark out, and the rack gives one");
        }

        return IsTaken(db, Stored(db, read, ""))
            ? throw RackException.Refused($"the mark {read} was given before", "leave the mark out, and the rack gives one")
            : read;
    }

    private static bool IsTaken(Db db, string mark) => db.Number("SELECT count(*) FROM piece WHERE mark = $1", mark) > 0;

    private static string RectsText(ImmutableArray<Rect> rects) => string.Join(';', rects.Select(rect => string.Create(
        CultureInfo.InvariantCulture,
        $"{rect.X.Nanometres},{rect.Y.Nanometres},{rect.SizeX.Nanometres},{rect.SizeY.Nanometres}")));

    private static ImmutableArray<Rect> RectsOf(string text) => text.Length == 0 ? [] : [.. text.Split(';').Select(item =>
    {
        var numbers = item.Split(',').Select(number => Length.FromNanometres(long.Parse(number, CultureInfo.InvariantCulture))).ToArray();
        return new Rect(numbers[0], numbers[1], numbers[2], numbers[3]);
    })];
}
