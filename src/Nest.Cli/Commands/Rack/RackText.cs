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
    public static string Size(RackPiece piece, LengthFormat format) => PieceSizes.Text(piece, format);

    /// <summary>Why a size was refused, without what can only be done in a job's file.</summary>
    public static string Refusal(SizeReading read) => $"{read.Error}; {NumberInput.AtTheKeyboard(read.Hint)}";

    public static string FormName(RackPiece piece) => piece.Form.Word();

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
        int[] widths = [.. heads.Select(head => head.Length)];
        foreach (var row in rows)
        {
            for (var i = 0; i < widths.Length; i++)
            {
                widths[i] = Math.Max(widths[i], row[i].Length);
            }
        }

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
