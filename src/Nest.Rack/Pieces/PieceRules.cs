using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Pieces;

/// <summary>What must hold of every piece.</summary>
internal static class PieceRules
{
    private static readonly Length Longest = Length.FromMillimetres(100_000);

    public static void Check(RackPiece piece)
    {
        Size(piece.Length, piece.UsableLength, "length");
        Size(piece.Width, piece.UsableWidth, "width");
        Size(piece.Thickness, piece.UsableThickness, "thickness");
        if (piece.Form is Form.SquareBar or Form.RoundBar && piece.Width != piece.Thickness)
        {
            throw RackException.Refused(
                $"a {(piece.Form == Form.RoundBar ? "round" : "square")} bar has one size across, not {piece.Width} and {piece.Thickness}",
                "give width and thickness the same value");
        }

        if (piece.Form == Form.FlatBar && piece.Width < piece.Thickness)
        {
            throw RackException.Refused($"a flat bar is at least as wide as thick, not {piece.Width} by {piece.Thickness}", "swap width and thickness");
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
                throw RackException.Refused(
                    $"the keep-out at {keepOut.X}, {keepOut.Y} of {keepOut.SizeX} by {keepOut.SizeY} is not inside the piece",
                    "measure x along the length and y across, from the lower left corner");
            }
        }
    }

    private static void Size(Length nominal, Length usable, string name)
    {
        if (nominal <= Length.Zero || nominal > Longest)
        {
            throw RackException.Refused($"the {name} {nominal} is not a size of a piece", $"give a {name} above 0 and up to {Longest}");
        }

        if (usable <= Length.Zero || usable > nominal)
        {
            throw RackException.Refused($"the smallest {name} {usable} must be above 0 and not above the {name} {nominal}", "measure again");
        }
    }
}
