using System.Globalization;
using System.Text;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Exchange;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary>Pieces as text, and sizes from text.</summary>
internal static class RackText
{
    /// <summary><c>500 × 300 × 10 mm</c>, <c>Ø 30 × 800 mm</c>: bars with their section first.</summary>
    public static string Size(RackPiece piece, LengthFormat format)
    {
        var (length, width, thickness) = (Bare(piece.UsableLength), Bare(piece.UsableWidth), Bare(piece.Thickness));
        return piece.Form switch
        {
            Form.Plate => $"{length} × {width} × {thickness} {format.UnitName}",
            Form.FlatBar => $"{Bare(piece.Width)} × {thickness} × {length} {format.UnitName}",
            Form.SquareBar => $"□ {thickness} × {length} {format.UnitName}",
            _ => $"Ø {thickness} × {length} {format.UnitName}",
        };

        string Bare(Length value) => LengthText.Format(value, format, withUnit: false);
    }

    /// <summary>Length, width and thickness of a form from sizes as written: plate and flat bar length × width × thickness, square and
    /// round bar length × side or diameter.</summary>
    public static (Length Length, Length Width, Length Thickness)? SizesOf(Form form, string text, LengthUnit unit, out string error)
    {
        var read = SizeText.Read(text, unit);
        error = read.Error.Length > 0 ? Refusal(read) : "";
        if (error.Length > 0)
        {
            return null;
        }

        var sizes = read.Items;
        switch (form, sizes.Length)
        {
            case (Form.Plate or Form.FlatBar, 3) when sizes.Any(size => size.Mark == SizeMark.Thickness):
                // Whoever marks the thickness may write it first: 3/8 thk x 4 x 7-1/4.
                var thick = sizes.First(size => size.Mark == SizeMark.Thickness);
                var others = sizes.Remove(thick).Select(size => size.Length).ToArray();
                return sizes[0] == thick ? (others[1], others[0], thick.Length) : (others[0], others[1], thick.Length);
            case (Form.Plate or Form.FlatBar, 3) when sizes.All(size => size.Mark is SizeMark.None or SizeMark.Length or SizeMark.Width):
                return (sizes[0].Length, sizes[1].Length, sizes[2].Length);
            case (Form.SquareBar or Form.RoundBar, 2):
                var section = form == Form.RoundBar ? SizeMark.Diameter : SizeMark.Side;
                return sizes[0].Mark == section || sizes[1].Mark == SizeMark.Length
                    ? (sizes[1].Length, sizes[0].Length, sizes[0].Length)
                    : (sizes[0].Length, sizes[1].Length, sizes[1].Length);
            default:
                error = $"'{text}' is no size of a {RackTable.FormWord(form)}; write {(form is Form.Plate or Form.FlatBar ? "length x width x thickness" : form == Form.RoundBar ? "length x diameter" : "length x side")}";
                return null;
        }
    }

    /// <summary>Why a size was refused, without what can only be done in a job's file.</summary>
    public static string Refusal(SizeReading read) => $"{read.Error}; {NumberInput.AtTheKeyboard(read.Hint)}";

    public static string FormName(RackPiece piece) => RackTable.FormWord(piece.Form);

    public static string State(RackPiece piece) => piece.State switch
    {
        PieceState.OnRack => "free",
        PieceState.Reserved => PlanNumber.Format(piece.ReservedFor ?? 0),
        _ => piece.State.ToString().ToLowerInvariant(),
    };

    public static string Plan(PlanState state) => state == PlanState.Incomplete ? "parts missing" : state.ToString().ToLowerInvariant();

    /// <summary>Columns as wide as their widest cell; the last one is not padded.</summary>
    public static void Table(TextWriter writer, IReadOnlyList<string> heads, IReadOnlyCollection<string[]> rows)
    {
        var widths = heads.Select((head, i) => Math.Max(head.Length, rows.Count == 0 ? 0 : rows.Max(row => row[i].Length))).ToArray();

        // Written at once: a console flushes after each write.
        var text = new StringBuilder();
        Line(heads);
        foreach (var row in rows)
        {
            Line(row);
        }

        writer.Write(text);

        void Line(IReadOnlyList<string> cells)
        {
            var start = text.Length;
            for (var i = 0; i < cells.Count; i++)
            {
                text.Append(cells[i]).Append(' ', i == cells.Count - 1 ? 0 : widths[i] - cells[i].Length + 2);
            }

            while (text.Length > start && text[^1] == ' ')
            {
                text.Length--;
            }

            text.Append(writer.NewLine);
        }
    }

    public static string Day(DateTimeOffset time) => time.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);

    public static string Count(int count, string noun) => string.Create(CultureInfo.InvariantCulture, $"{count} {noun}{(count == 1 ? "" : "s")}");

    /// <summary>The note on pieces entered without a value.</summary>
    /// <param name="where">Where the user can name one.</param>
    public static string Unpriced(int count, bool own, string where) => own
        ? $"note: {Count(count, "piece")} without a value entered at what the shop's price lists give"
        : $"note: {Count(count, "piece")} without a value entered at what the starter's demo prices give — {where} says what {(count == 1 ? "it carries" : "they carry")}, 'nest rack prices FILE' names price lists of your own";
}
