using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Costing;

/// <summary>A plan's layouts as they are without the free spares that were laid into their scrap.</summary>
/// <remarks>
/// The plan's cost is that of these layouts, and so the lower bound stays what it is: they are a plan for the pieces that are needed, which is what
/// the bound speaks of, and nothing of it is adjusted to spares.
/// <list type="bullet">
/// <item>Bars: the blanks that stay move up to the clean end in their order; what is left lies behind them.</item>
/// <item>Plates: a part of the tree in which nothing but spares and scrap lies is one offcut again.</item>
/// <item>Cutters: the spares are taken out; kept offcuts stay where they are.</item>
/// <item>A layout that then is like the one before it, of which it was split off for its spares, is counted with it again.</item>
/// </list>
/// O(pieces). The checker does the same by itself.
/// </remarks>
public static class SparesOut
{
    /// <summary>The layouts without their spares, costed; the same array where there are none.</summary>
    public static ImmutableArray<Layout> Of(Job job, ImmutableArray<Layout> layouts)
    {
        if (!layouts.Any(HasSpares))
        {
            return layouts;
        }

        var facing = new Dictionary<string, ImmutableArray<BlankFit>>(StringComparer.Ordinal);
        var result = new List<(Layout Layout, bool Changed)>();
        foreach (var layout in layouts)
        {
            var changed = HasSpares(layout);
            var one = changed ? Without(job, layout, facing) : layout;
            if (result.Count > 0 && result[^1] is var (before, cut) && (changed || cut) && Alike(before, one))
            {
                result[^1] = (before with { Count = before.Count + one.Count }, true);
            }
            else
            {
                result.Add((one, changed));
            }
        }

        return [.. result.Select(entry => entry.Layout)];
    }

    /// <summary>The plan with its layouts without spares: for what is reckoned of the pieces that are needed.</summary>
    public static Plan Of(Plan plan) => plan with { Layouts = Of(plan.Job, plan.Layouts), SpareCost = Money.Zero };

    /// <summary>One layout without its spares; the same where it has none.</summary>
    public static Layout Bare(Job job, Layout layout) => HasSpares(layout) ? Without(job, layout, []) : layout;

    public static bool HasSpares(Layout layout) => layout.Pieces.Any(piece => piece.Spare);

    /// <summary>Spares of each part that the layouts hold; parts without any are not in it.</summary>
    public static Dictionary<string, int> Count(ImmutableArray<Layout> layouts)
    {
        var counts = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var layout in layouts)
        {
            foreach (var piece in layout.Pieces.Where(piece => piece.Spare))
            {
                counts[piece.PartId] = counts.GetValueOrDefault(piece.PartId) + layout.Count;
            }
        }

        return counts;
    }

    private static Layout Without(Job job, Layout layout, Dictionary<string, ImmutableArray<BlankFit>> known)
    {
        var stock = job.Stocks.First(stock => stock.Id == layout.StockId);
        var saw = job.Saws.FirstOrDefault(saw => saw.Id == layout.SawId) ?? Saw.AtSupplier(stock);
        var facing = layout.Cost.Facing;
        foreach (var piece in layout.Pieces.Where(piece => piece.Spare))
        {
            if (!known.TryGetValue(piece.PartId, out var fits))
            {
                known[piece.PartId] = fits = BlankSizer.Size(job, job.Parts.First(part => part.Id == piece.PartId)).Fits;
            }

            facing -= fits.FirstOrDefault(fit => fit.StockId == stock.Id)?.ExtraCost ?? Money.Zero;
        }

        var one = layout.Tree is null ? layout with { Pieces = [.. layout.Pieces.Where(piece => !piece.Spare)] }
            : stock.Form.IsBar() ? Bar(job, stock, saw, layout)
            : Plate(job, stock, layout, layout.Tree);
        return one with { Cost = CostModel.Cost(job, stock, saw, one, facing) };
    }

    private static Layout Bar(Job job, Stock stock, Saw saw, Layout layout)
    {
        var fromRight = TrimmedEdges.FromRight(stock, layout.Trims);
        var stay = layout.Pieces.Where(piece => !piece.Spare).ToArray();
        var order = Enumerable.Range(0, stay.Length).OrderBy(at => stay[at].Area.X).ToArray();
        return BarRow.Lay(job, stock, saw, layout, stay, fromRight ? [.. order.Reverse()] : order);
    }

    private static Layout Plate(Job job, Stock stock, Layout layout, CutNode root)
    {
        var pieces = ImmutableArray.CreateBuilder<PlacedPiece>();
        var number = new int[layout.Pieces.Length];
        for (var at = 0; at < number.Length; at++)
        {
            number[at] = pieces.Count;
            if (!layout.Pieces[at].Spare)
            {
                pieces.Add(layout.Pieces[at]);
            }
        }

        var offcuts = ImmutableArray.CreateBuilder<Offcut>();
        var tree = Visit(root);
        return layout with { Pieces = pieces.ToImmutable(), Offcuts = offcuts.ToImmutable(), Tree = tree };

        CutNode Visit(CutNode node)
        {
            if (node.Kind == CutNodeKind.Offcut || SparesAlone(layout, node))
            {
                offcuts.Add(node.Kind == CutNodeKind.Offcut ? layout.Offcuts[node.Index] : CostModel.Judge(job, stock, node.Area, layout.Sheet));
                return new() { Kind = CutNodeKind.Offcut, Area = node.Area, Index = offcuts.Count - 1 };
            }

            return node.Kind == CutNodeKind.Piece ? node with { Index = number[node.Index] } : node with { Children = [.. node.Children.Select(Visit)] };
        }
    }

    /// <summary>Whether nothing lies there but spares, one at least, and scrap: no other blank, and no offcut that is kept.</summary>
    private static bool SparesAlone(Layout layout, CutNode node)
    {
        var (spares, others) = (0, 0);
        Count(node);
        return spares > 0 && others == 0;

        void Count(CutNode one)
        {
            foreach (var child in one.Children)
            {
                Count(child);
            }

            if (one.Kind == CutNodeKind.Offcut && layout.Offcuts[one.Index].Keep)
            {
                others++;
            }
            else if (one.Kind == CutNodeKind.Piece)
            {
                _ = layout.Pieces[one.Index].Spare ? spares++ : others++;
            }
        }
    }

    private static bool Alike(Layout a, Layout b) =>
        a.StockId == b.StockId && a.SawId == b.SawId && a.Kept == b.Kept && a.Trims == b.Trims && a.Cost == b.Cost && a.Pieces.SequenceEqual(b.Pieces) && Alike(a, a.Tree, b, b.Tree);

    private static bool Alike(Layout a, CutNode? one, Layout b, CutNode? other) => (one, other) switch
    {
        (null, null) => a.Offcuts.SequenceEqual(b.Offcuts),
        ({ } first, { } second) => first.Kind == second.Kind && first.Area == second.Area && first.Children.Length == second.Children.Length
            && (first.Kind != CutNodeKind.Offcut || a.Offcuts[first.Index] == b.Offcuts[second.Index])
            && (first.Kind != CutNodeKind.Split || first.Direction == second.Direction)
            && first.Children.Zip(second.Children).All(pair => Alike(a, pair.First, b, pair.Second)),
        _ => false,
    };
}
