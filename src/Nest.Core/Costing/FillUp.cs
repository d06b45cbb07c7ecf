using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>Pieces of a part that still come out of metal that the plan takes anyway.</summary>
/// <param name="Count">At least so many; another plan may give more.</param>
/// <param name="Extra">Milling of what the stock is thicker or wider, and the credit of the kept offcuts that they use up.</param>
public sealed record FillUpLine(string PartId, int Count, Money Extra);

/// <summary>How many more of each part the offcuts of a plan give, without buying anything.</summary>
/// <remarks>Problem: use of offcuts. Method: on a plate the offcut is filled in rows, all pieces one way (turned where that gives more
/// and the part may turn); on a bar by length. Parts in the order given share the offcuts: each takes the offcuts it fits in, the
/// smallest first, whole. Guarantee: heuristic, the counts can be cut as they are. O(parts · offcuts).</remarks>
public static class FillUp
{
    /// <summary>Each part alone: as if all offcuts were for it.</summary>
    public static ImmutableArray<FillUpLine> Alone(Plan plan, ImmutableArray<Blank> blanks) =>
        [.. blanks.Select(blank => Together(plan, [blank])).Where(lines => lines.Length > 0).Select(lines => lines[0])];

    /// <summary>All parts together, the first one first.</summary>
    public static ImmutableArray<FillUpLine> Together(Plan plan, IReadOnlyList<Blank> preferred)
    {
        var left = plan.Layouts
            .SelectMany(layout => layout.Offcuts.Select(offcut => (Layout: layout, Offcut: offcut)))
            .OrderBy(entry => entry.Offcut.Area.Area)
            .Select(entry => (entry.Layout, entry.Offcut, Count: entry.Layout.Count)).ToList();
        var lines = ImmutableArray.CreateBuilder<FillUpLine>();
        foreach (var blank in preferred)
        {
            var count = 0;
            var extra = Money.Zero;
            left.RemoveAll(entry =>
            {
                if (blank.Fits.FirstOrDefault(fit => fit.StockId == entry.Layout.StockId) is not { } fit)
                {
                    return false;
                }

                var pieces = Pieces(plan, entry.Layout, entry.Offcut.Area, fit) * entry.Count;
                count += pieces;
                extra += pieces > 0 ? (fit.ExtraCost * pieces) + (entry.Offcut.Value * entry.Count) : Money.Zero;
                return pieces > 0;
            });
            if (count > 0)
            {
                lines.Add(new(blank.Part.Id, count, extra));
            }
        }

        return lines.ToImmutable();
    }

    private static int Pieces(Plan plan, Layout layout, Rect offcut, BlankFit fit)
    {
        var stock = plan.StockOf(layout);
        var saw = plan.SawOf(layout);
        if (stock.CutFor is not null)
        {
            return 0;
        }

        if (stock.Form.IsBar())
        {
            var most = saw.MostPieces is { } limit ? Math.Max(0, limit - layout.Pieces.Length) : int.MaxValue;
            var held = saw.ShortestHeld == Length.Zero || fit.SizeX >= saw.ShortestHeld;
            return held ? Math.Min(most, Row(offcut.SizeX, fit.SizeX, saw.Kerf)) : 0;
        }

        // Only what is sure to be possible: sound metal, a saw that reaches across and may cut once more, pieces that it can hold.
        if (stock.KeepOuts.Any(offcut.Overlaps) || saw.Stages is not null || Length.Max(offcut.SizeX, offcut.SizeY) > (saw.LargestCut ?? Length.MaxValue)
            || Length.Min(fit.SizeX, fit.SizeY) < saw.ShortestHeld)
        {
            return 0;
        }

        var straight = Row(offcut.SizeX, fit.SizeX, saw.Kerf) * Row(offcut.SizeY, fit.SizeY, saw.Kerf);
        var turned = fit.MayTurn ? Row(offcut.SizeX, fit.SizeY, saw.Kerf) * Row(offcut.SizeY, fit.SizeX, saw.Kerf) : 0;
        return Math.Max(straight, turned);
    }

    private static int Row(Length room, Length size, Length kerf) =>
        (int)((room.Nanometres + kerf.Nanometres) / (size.Nanometres + kerf.Nanometres));
}
