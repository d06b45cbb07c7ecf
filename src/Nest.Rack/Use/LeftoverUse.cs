using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.Rack.Use;

/// <summary>Which pieces of the rack serve no part that the shop knows.</summary>
/// <remarks>A part of a job is asked of <see cref="BlankSizer"/>, with the job's allowances and saws. Of parts that plans of this rack wanted only the shape is
/// known: a piece counts as serving where it holds the finished part, side by side (of a section: where it is the same section and long enough). That is
/// necessary and not sufficient, so what is named as idle serves none of them. O(pieces × parts).</remarks>
public static class LeftoverUse
{
    /// <summary>Free pieces that serve none of these parts, in the order given.</summary>
    /// <param name="pieces">Pieces of the rack; those that a plan has reserved are in use.</param>
    public static ImmutableArray<RackPiece> Idle(IEnumerable<RackPiece> pieces, IReadOnlyCollection<Job> jobs, IReadOnlyCollection<PartShape> shapes) =>
        [.. pieces.Where(piece => piece.State == PieceState.OnRack && !shapes.Any(shape => Holds(piece, shape)) && !jobs.Any(job => Serves(job, piece)))];

    private static bool Serves(Job job, RackPiece piece)
    {
        if (!job.Materials.Any(material => string.Equals(material.Id, piece.MaterialId, StringComparison.OrdinalIgnoreCase)))
        {
            return false;
        }

        var one = job with { Stocks = [piece.ToStock(Money.Zero)] };
        return job.Parts.Any(part => !BlankSizer.Size(one, part).Fits.IsEmpty);
    }

    /// <summary>Whether the piece holds the finished part, whichever way it lies.</summary>
    public static bool Holds(RackPiece piece, PartShape shape)
    {
        if (!string.Equals(piece.MaterialId, shape.MaterialId, StringComparison.OrdinalIgnoreCase))
        {
            return false;
        }

        if (shape.Section.Length > 0 || piece.Detail is not null)
        {
            return piece.Detail is { } detail && (shape.Section.Length == 0
                ? piece.Form == Form.HexBar && shape.Round && shape.Width <= piece.Width && shape.Length <= piece.Length
                : string.Equals(shape.Section, $"{piece.Form.Word()} {detail.Key}", StringComparison.Ordinal)
                    && (shape.Width, shape.Thickness) == (piece.Width, piece.Thickness) && shape.Length <= piece.Length);
        }

        var (a, b, c) = PieceRows.Sides(piece.Length, piece.Width, piece.Thickness);
        var (x, y, z) = PieceRows.Sides(shape.Length, shape.Width, shape.Thickness);
        return x <= a && y <= b && z <= c;
    }
}
