using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Pieces;

/// <summary>What must hold of every piece.</summary>
internal static class PieceRules
{
    /// <param name="before">The piece before a correction; null: it is new. What was not touched is not found fault with.</param>
    /// <param name="cut">What the saw left: it is as it is, narrower than thick too.</param>
    public static void Check(RackPiece piece, RackPiece? before = null, bool cut = false)
    {
        Size(piece.Length, piece.UsableLength, "length");
        Size(piece.Width, piece.UsableWidth, "width");
        Size(piece.Thickness, piece.UsableThickness, "thickness");
        if (JobSections.Fault(piece.ToStock(Money.Zero)) is { } fault)
        {
            throw RackException.RefusedSize($"{piece.Form.Word()}: {fault.Message}", fault.Advice);
        }

        if (piece.Form.HasOneSize() && piece.Width != piece.Thickness)
        {
            throw RackException.RefusedSize(
                $"a {piece.Form.Word()} has one size across, not {piece.Width} and {piece.Thickness}",
                "give width and thickness the same value");
        }

        var sized = before is null || (before.Length, before.Width, before.Thickness) != (piece.Length, piece.Width, piece.Thickness);
        if (sized && !cut && StockShape.Of(piece.Form, piece.Length, piece.Width, piece.Thickness) is { } problem)
        {
            throw RackException.RefusedSize($"{problem.Message} ({piece.Length} × {piece.Width} × {piece.Thickness})", problem.Advice);
        }

        var edges = piece.CleanEdges;
        if (piece.Form.IsBar() && !cut && edges != before?.CleanEdges && (edges.Bottom || edges.Top) && edges != new CleanEdges(true, true, true, true))
        {
            throw RackException.Refused("a bar has no bottom and top that could be clean, only its ends", "name left, right or all");
        }

        if (piece.Value < Money.Zero)
        {
            throw RackException.Refused($"a piece cannot carry a cost below zero ({piece.Value})", "give the cost it carries, or 0");
        }

        var sheet = new Rect(Length.Zero, Length.Zero, piece.Length, piece.Width);
        foreach (var keepOut in piece.KeepOuts)
        {
            if (piece.Form.IsBar())
            {
                throw RackException.Refused("only plates have keep-outs", "enter the sound length of the bar instead");
            }

            if (keepOut.SizeX <= Length.Zero || keepOut.SizeY <= Length.Zero || !sheet.Contains(keepOut))
            {
                throw RackException.RefusedSize(
                    $"the keep-out at {keepOut.X}, {keepOut.Y} of {keepOut.SizeX} by {keepOut.SizeY} is not inside the piece",
                    "measure x along the length and y across, from the lower left corner");
            }
        }
    }

    private static void Size(Length nominal, Length usable, string name)
    {
        if (nominal <= Length.Zero || nominal > StockShape.Longest)
        {
            throw RackException.RefusedSize($"the {name} {nominal} is not a size of a piece", $"give a {name} above 0 and up to {StockShape.Longest}");
        }

        if (usable <= Length.Zero || usable > nominal)
        {
            throw RackException.RefusedSize($"the smallest {name} {usable} must be above 0 and not above the {name} {nominal}", "measure again");
        }
    }
}
