using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Rectangles worth keeping that a free layout leaves: the largest first, each a gap away from all pieces and from the
/// offcuts taken before it.</summary>
/// <remarks>Maximal empty rectangles by splitting (each obstacle cuts every rectangle it meets into at most four), contained ones
/// dropped: O(n · m²) for n obstacles and m rectangles alive. Greedy: not proven largest in sum.</remarks>
internal static class FreeOffcuts
{
    public static ImmutableArray<Offcut> Find(Job job, StockFrame frame, ImmutableArray<Rect> pieces)
    {
        if (frame.Rule is null)
        {
            return [];
        }

        var empty = new List<Rect> { frame.Usable };
        foreach (var piece in pieces)
        {
            empty = Without(empty, piece, frame.Saw.Kerf);
        }

        // A damaged area is no leftover that anybody wants.
        foreach (var keepOut in frame.Stock.KeepOuts)
        {
            empty = Without(empty, keepOut, Length.Zero);
        }

        var found = ImmutableArray.CreateBuilder<Offcut>();
        while (empty.Count > 0)
        {
            var best = empty
                .Select(area => CostModel.Judge(job, frame.Stock, area, frame.Sheet))
                .Where(offcut => offcut.Keep)
                .OrderByDescending(offcut => offcut.Area.Area)
                .ThenBy(offcut => offcut.Area.X).ThenBy(offcut => offcut.Area.Y)
                .Cast<Offcut?>().FirstOrDefault();
            if (best is not { } offcut)
            {
                break;
            }

            found.Add(offcut);
            empty = Without(empty, offcut.Area, frame.Saw.Kerf);
        }

        return found.ToImmutable();
    }

    /// <summary>All maximal rectangles in which a blank could still lie, a gap away from pieces, kept offcuts and damage.</summary>
    public static ImmutableArray<Rect> Room(StockFrame frame, Layout layout)
    {
        var empty = new List<Rect> { frame.Usable };
        foreach (var taken in layout.Pieces.Select(piece => piece.Area).Concat(layout.Offcuts.Where(offcut => offcut.Keep).Select(offcut => offcut.Area)).Concat(frame.Stock.KeepOuts))
        {
            empty = Without(empty, taken, frame.Saw.Kerf);
        }

        return [.. empty.OrderBy(area => area.Area).ThenBy(area => area.X).ThenBy(area => area.Y)];
    }

    private static List<Rect> Without(List<Rect> empty, Rect obstacle, Length gap)
    {
        var blocked = new Rect(obstacle.X - gap, obstacle.Y - gap, obstacle.SizeX + gap + gap, obstacle.SizeY + gap + gap);
        var next = new List<Rect>(empty.Count + 4);
        foreach (var rect in empty)
        {
            if (!rect.Overlaps(blocked))
            {
                next.Add(rect);
                continue;
            }

            Add(new(rect.X, rect.Y, blocked.X - rect.X, rect.SizeY));
            Add(new(blocked.Right, rect.Y, rect.Right - blocked.Right, rect.SizeY));
            Add(new(rect.X, rect.Y, rect.SizeX, blocked.Y - rect.Y));
            Add(new(rect.X, blocked.Top, rect.SizeX, rect.Top - blocked.Top));
        }

        return [.. next.Where((rect, i) => !next.Where((other, j) => j != i && other.Contains(rect) && (other != rect || j < i)).Any())];

        void Add(Rect rect)
        {
            if (rect.SizeX > Length.Zero && rect.SizeY > Length.Zero)
            {
                next.Add(rect);
            }
        }
    }
}
