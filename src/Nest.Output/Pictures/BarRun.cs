using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Output.Pictures;

/// <summary>What a stretch of a bar becomes.</summary>
internal enum RunKind
{
    Trim,
    Blanks,
    Keep,
    Scrap,
}

/// <summary>A stretch of a bar: equal blanks one behind the other, a trim, or what is left.</summary>
/// <param name="From">Where it begins in the bar.</param>
/// <param name="To">Where its metal ends.</param>
/// <param name="Pieces">Blanks: one or more.</param>
/// <param name="Offcut">Of what is left: its index in the layout; else −1.</param>
internal sealed record BarRun(RunKind Kind, Length From, Length To, IReadOnlyList<PlacedPiece> Pieces, int Offcut = -1)
{
    /// <summary>The runs of a layout from left to right. O(n log n).</summary>
    public static List<BarRun> Of(Layout layout, Length kerf)
    {
        var runs = new List<BarRun>();
        foreach (var piece in layout.Pieces.OrderBy(piece => piece.Area.X))
        {
            if (runs.Count > 0 && runs[^1].Pieces[0] is var first && first.PartId == piece.PartId && first.Area.SizeX == piece.Area.SizeX && first.Ends == piece.Ends && first.Spare == piece.Spare)
            {
                runs[^1] = runs[^1] with { To = piece.Area.Right, Pieces = [.. runs[^1].Pieces, piece] };
            }
            else
            {
                runs.Add(new(RunKind.Blanks, piece.Area.X, piece.Area.Right, [piece]));
            }
        }

        for (var at = 0; at < layout.Offcuts.Length; at++)
        {
            var offcut = layout.Offcuts[at];
            runs.Add(new(offcut.Keep ? RunKind.Keep : RunKind.Scrap, offcut.Area.X, offcut.Area.Right, [], at));
        }

        runs = [.. runs.OrderBy(run => run.From)];

        // A trim is what lies before the first run and behind the last.
        var (low, high) = (runs.Count == 0 ? layout.Sheet.SizeX : runs[0].From, runs.Count == 0 ? layout.Sheet.SizeX : runs[^1].To);
        if (low > kerf)
        {
            runs.Insert(0, new(RunKind.Trim, Length.Zero, low - kerf, []));
        }

        if (layout.Sheet.SizeX - high > kerf)
        {
            runs.Add(new(RunKind.Trim, high + kerf, layout.Sheet.SizeX, []));
        }

        return runs;
    }
}
