using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>Every piece may come from this stock, and has exactly the size of its blank.</summary>
internal static class RulesFit
{
    /// <summary>Checks form, material, thickness or section, size and rolling direction of each piece.</summary>
    /// <returns>Σ of the pieces' facing; null when a piece does not fit (its facing is then unknown).</returns>
    public static Money? Pieces(PlanFacts facts, LayoutFacts one)
    {
        var stock = one.Stock;
        var known = new Dictionary<string, IReadOnlyList<ExpectedBlank>>(StringComparer.Ordinal);
        Money? facing = Money.Zero;
        for (var index = 0; index < one.Layout.Pieces.Length; index++)
        {
            var piece = one.Layout.Pieces[index];
            var part = facts.Parts[piece.PartId];
            if (!known.TryGetValue(part.Id, out var sizes))
            {
                sizes = Allowed(facts, one, part) ? ExpectedBlanks.Of(facts.Job, part, one.Material, stock, one.Saw) : [];
                known.Add(part.Id, sizes);
                if (sizes.Count == 0 && Allowed(facts, one, part))
                {
                    TooThin(facts, one, index);
                }
                else if (sizes.Count == 0)
                {
                    NotAllowed(facts, one, index, part);
                }
            }

            if (sizes.Count == 0)
            {
                facing = null;
                continue;
            }

            var match = sizes.FirstOrDefault(size => Matches(one, part, size, one.Layout.Pieces[index]));
            if (match is null)
            {
                Report(facts, one, part, sizes[0], index);
                facing = null;
            }
            else
            {
                facing += match.Facing;
            }
        }

        return facing;
    }

    private static bool Allowed(PlanFacts facts, LayoutFacts one, Part part) =>
        part.Forms.HasFlag((Forms)(1 << (int)one.Stock.Form))
        && part.MaterialId.Equals(one.Stock.MaterialId, StringComparison.OrdinalIgnoreCase)
        && facts.Materials.ContainsKey(part.MaterialId);

    private static void NotAllowed(PlanFacts facts, LayoutFacts one, int index, Part part)
    {
        if (part.MaterialId.Equals(one.Stock.MaterialId, StringComparison.OrdinalIgnoreCase))
        {
            facts.Add("form-not-allowed", one.Piece(index), $"may not be made from {one.Stock.Form}");
        }
        else
        {
            facts.Add("wrong-material", one.Piece(index), $"is of {part.MaterialId}, {one.Stock.Id} is {one.Stock.MaterialId}");
        }
    }

    private static void TooThin(PlanFacts facts, LayoutFacts one, int index) => facts.Add(
        one.Bar ? "section-too-small" : "too-thin",
        one.Piece(index),
        one.Bar
            ? $"the section {one.Stock.MinWidth} × {one.Stock.MinThickness} of {one.Stock.Id} does not cover the blank"
            : $"the thickness {one.Stock.MinThickness} of {one.Stock.Id} does not cover the blank");

    /// <summary>Whether a piece has the size of this blank, and lies as it may.</summary>
    public static bool Matches(LayoutFacts one, Part part, ExpectedBlank size, PlacedPiece piece)
    {
        if (one.Bar)
        {
            return piece.Area.SizeX == size.SizeX && piece.Area.SizeY == size.SizeY && piece.Turned == size.Across && piece.Ends == size.Ends;
        }

        return piece.Ends is null && (piece.Turned
            ? part.MayTurn && piece.Area.SizeX == size.SizeY && piece.Area.SizeY == size.SizeX
            : piece.Area.SizeX == size.SizeX && piece.Area.SizeY == size.SizeY);
    }

    private static void Report(PlanFacts facts, LayoutFacts one, Part part, ExpectedBlank size, int index)
    {
        var piece = one.Layout.Pieces[index];
        var straight = piece.Area.SizeX == size.SizeX && piece.Area.SizeY == size.SizeY;
        var turned = piece.Area.SizeX == size.SizeY && piece.Area.SizeY == size.SizeX;
        if (!one.Bar && !part.MayTurn && (turned || (straight && piece.Turned)))
        {
            facts.Add("turned-against-grain", one.Piece(index), "lies across the rolling direction and may not");
        }
        else if (piece.Ends != size.Ends)
        {
            facts.Add("end-angles", one.Piece(index), size.Ends is { } ends
                ? $"is to be sawn at {ends.Start} and {ends.End}"
                : "has angled cuts that the saw does not make here");
        }
        else if (straight || (turned && !one.Bar))
        {
            facts.Add("turn-mark-wrong", one.Piece(index), piece.Turned ? "is marked as turned, but is not" : "is turned, but not marked so");
        }
        else
        {
            facts.Add("blank-size", one.Piece(index),
                $"is {RulesSheet.Show(piece.Area)}, its blank from {one.Stock.Id} is {size.SizeX} × {size.SizeY}");
        }
    }
}
