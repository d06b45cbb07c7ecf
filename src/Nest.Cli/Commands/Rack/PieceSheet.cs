using System.Globalization;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Exchange;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary>All that is known of one piece, line by line, in the unit of the shop.</summary>
internal static class PieceSheet
{
    /// <summary>Heads and texts; what is not known is left out.</summary>
    public static IEnumerable<(string Head, string Text)> Lines(RackPiece piece, LengthFormat format)
    {
        (string Head, string Text)[] lines =
        [
            ("mark", piece.Mark), ("state", RackTable.StateWord(piece.State)), ("form", piece.Form.Word()), ("material", piece.MaterialId),
            ("length", format.Text(piece.Length)), ("width", format.Text(piece.Width)), ("thickness", format.Text(piece.Thickness)),
            ("smallest length", Measured(piece.MinLength)), ("smallest width", Measured(piece.MinWidth)), ("smallest thickness", Measured(piece.MinThickness)),
            ("rolling", RackTable.RollingWord(piece.Rolling)), ("clean edges", RackTable.Edges(piece.CleanEdges)), ("good faces", RackTable.YesNo(piece.GoodFaces)),
            ("condition", RackTable.ConditionWord(piece.Condition)), .. piece.KeepOuts.Select(area => ("damaged area", Area(area))),
            ("heat", piece.Heat), ("certificate", piece.Certificate), ("place", piece.Place), ("bought", RackTable.YesNo(piece.Bought)),
            ("supplier", piece.Supplier), ("origin", piece.Origin), ("entered", piece.Entered.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)),
            ("reserved for", piece.ReservedFor is { } plan ? PlanNumber.Format(plan) : ""), ("mass", MassText.Format(piece.Mass, format.Unit)), ("note", piece.Note),
            ("cut from", piece.ParentMark ?? "-"), ("value carried", piece.Value.ToString()),
        ];
        return lines.Where(line => line.Text.Length > 0);

        string Measured(Length? length) => length is { } measured ? format.Text(measured) : "";

        string Area(Rect area) =>
            $"{Bare(area.SizeX)} × {format.Text(area.SizeY)}, {Bare(area.X)} from the left and {format.Text(area.Y)} from the bottom";

        string Bare(Length length) => format.Text(length, withUnit: false);
    }

    /// <summary>Condition and damage for a column of a list: <c>fair, 2 damaged areas</c>.</summary>
    public static string Condition(RackPiece piece) =>
        RackTable.ConditionWord(piece.Condition) + (piece.KeepOuts.IsEmpty ? "" : ", " + PieceWords.Areas(piece.KeepOuts.Length));
}
