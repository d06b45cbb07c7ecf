using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;

namespace Nest.Rack.Use;

/// <summary>Smallest leftovers worth keeping, from what this shop used again.</summary>
/// <remarks>Of the leftovers that the saw left here (they have a parent), those that were cut up, or that a plan has reserved, were used again. The limit is the largest length that nine of
/// ten of them reach; of plates for each side by itself. Fewer than <see cref="Least"/> tell nothing.</remarks>
/// <param name="Bars">Of bars, else of plates.</param>
/// <param name="Left">Leftovers that the saw left, those that are gone too.</param>
/// <param name="Used">Of them used again.</param>
/// <param name="KeepLength">Proposal; null: too few were used again.</param>
/// <param name="KeepWidth">Proposal for the shorter side of plates; null: bars, or too few.</param>
/// <param name="Below">Leftovers below the proposal that still lie there or were thrown away.</param>
public sealed record KeepLimits(bool Bars, int Left, int Used, Length? KeepLength, Length? KeepWidth, int Below)
{
    /// <summary>Uses from which on a proposal is made (own choice, no source).</summary>
    public const int Least = 10;

    /// <summary>From all pieces that the rack knows.</summary>
    /// <param name="step">Proposals are whole multiples of it, rounded down.</param>
    public static KeepLimits From(IEnumerable<RackPiece> pieces, bool bars, Length step)
    {
        var left = pieces.Where(piece => piece.ParentMark is not null && piece.Form.IsBar() == bars).ToList();
        var used = left.Where(IsUsed).ToList();
        if (used.Count < Least)
        {
            return new(bars, left.Count, used.Count, null, null, 0);
        }

        var length = NineOfTen(used.Select(Longer));
        Length? width = bars ? null : NineOfTen(used.Select(Shorter));
        var below = left.Count(piece => !IsUsed(piece) && (Longer(piece) < length || (width is { } least && Shorter(piece) < least)));
        return new(bars, left.Count, used.Count, length, width, below);

        static bool IsUsed(RackPiece piece) => piece.State is PieceState.Cut or PieceState.Reserved;

        Length Longer(RackPiece piece) => bars ? piece.Length : Length.Max(piece.Length, piece.Width);

        Length Shorter(RackPiece piece) => Length.Min(piece.Length, piece.Width);

        Length NineOfTen(IEnumerable<Length> lengths)
        {
            var sorted = lengths.Order().ToList();
            return Length.FromNanometres(sorted[sorted.Count / 10].Nanometres / step.Nanometres * step.Nanometres);
        }
    }
}
