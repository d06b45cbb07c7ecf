using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Takes out of chosen layouts what they cut beyond the demand; the metal joins an offcut.</summary>
/// <remarks>Greedy: as many surplus pieces as possible out of one copy of one layout, the one that becomes cheapest per piece taken
/// out; O(surplus · layouts) and a layout made anew for each piece of that kind on each of them. Never raises the cost: a piece taken out leaves more offcut and at most as many cuts.</remarks>
internal static class Surplus
{
    /// <summary>Of so many layouts that may come of taking one piece out each is looked at for fewer settings.</summary>
    private const int MostForSettings = 4;

    /// <summary>The plan with exactly the demand; <paramref name="demand"/> may be below the component's (residual problems).</summary>
    public static Chosen TakeOut(Component component, IEnumerable<(Column Column, int Count)> chosen, ReadOnlySpan<int> demand)
    {
        var counts = new Dictionary<Column, int>(ReferenceEqualityComparer.Instance);
        var order = new List<Column>();
        var made = new int[component.Items];
        foreach (var (column, count) in chosen)
        {
            Put(column, count);
            for (var i = 0; i < made.Length; i++)
            {
                made[i] += column.Counts[i] * count;
            }
        }

        for (var item = 0; item < made.Length; item++)
        {
            // A layout stays what it is from one step to the next: what it becomes is worked out once.
            var without = new Dictionary<Column, (int Take, Column? To)>(ReferenceEqualityComparer.Instance);
            while (made[item] > demand[item])
            {
                var surplus = made[item] - demand[item];
                var best = order.Where(column => counts[column] > 0 && column.Counts[item] > 0)
                    .Select(column => (From: column, Take: Math.Min(surplus, column.Counts[item])))
                    .Select(move => (move.From, move.Take, To: Smaller(move.From, move.Take)))
                    .OrderBy(move => ((move.To?.Cost ?? 0) - move.From.Cost) / (double)move.Take)
                    .ThenByDescending(move => move.Take)
                    .First();
                counts[best.From]--;
                if (best.To is { } smaller)
                {
                    Put(smaller, 1);
                }

                made[item] -= best.Take;
            }

            Column? Smaller(Column from, int take)
            {
                if (!without.TryGetValue(from, out var known) || known.Take != take)
                {
                    known = (take, Without(component, from, item, take));
                    without[from] = known;
                }

                return known.To;
            }
        }

        var missing = ImmutableArray.CreateBuilder<int>(made.Length);
        for (var i = 0; i < made.Length; i++)
        {
            missing.Add(demand[i] - made[i]);
        }

        return new(Merge(order.Where(column => counts[column] > 0).Select(column => (column, counts[column]))), missing.ToImmutable());

        void Put(Column column, int count)
        {
            if (!counts.TryGetValue(column, out var before))
            {
                order.Add(column);
            }

            counts[column] = before + count;
        }
    }

    /// <summary>Equal columns (same stock, pieces and cost) become one with a higher count.</summary>
    private static ImmutableArray<(Column, int)> Merge(IEnumerable<(Column Column, int Count)> entries) =>
        [.. entries.GroupBy(entry => (entry.Column.Key, entry.Column.Cost))
            .Select(group => (group.First().Column, group.Sum(entry => entry.Count)))];

    /// <summary>The column with so many pieces of an item less; null when nothing is left.</summary>
    internal static Column? Without(Component component, Column column, int item, int take)
    {
        if (column.Counts.Sum() == take)
        {
            return null;
        }

        var counts = column.Counts.SetItem(item, column.Counts[item] - take);
        if (component.Stocks[column.Stock].IsBar)
        {
            var rebuilt = LayoutBuilder.Bar(component, column.Stock, counts.AsSpan());
            return HoldsBar(component, rebuilt) ? rebuilt : column;
        }

        var id = component.Blanks[item].Part.Id;
        var layout = column.Layout;
        var candidates = Enumerable.Range(0, layout.Pieces.Length).Where(p => layout.Pieces[p].PartId == id).ToList();
        if (layout.Tree is not null && take == 1)
        {
            // Of many only the cheapest is looked at once more for fewer settings, which takes most of the time.
            var bare = candidates.Select(p => Bare(component, column, [p])).ToArray();
            return candidates.Count <= MostForSettings
                ? bare.Select(layout => Ordered(component, column.Stock, layout, counts, forSettings: true)).MinBy(one => one.Cost)
                : Ordered(component, column.Stock, bare.Select(layout => Ordered(component, column.Stock, layout, counts, forSettings: false)).MinBy(one => one.Cost)!.Layout, counts, true);
        }

        // Several at once: those that lie last in the tree are neighbours as a rule.
        return Ordered(component, column.Stock, Bare(component, column, [.. candidates.TakeLast(take)]), counts, forSettings: true);
    }

    internal static bool HoldsBar(Component component, Column bar)
    {
        var frame = component.Stocks[bar.Stock];
        var held = frame.Saw.ShortestHeld;
        return held == Length.Zero
            || bar.Layout.Pieces.Any(piece => piece.Area.SizeX >= held)
            || bar.Layout.Offcuts.Any(offcut => offcut.Area.SizeX >= held);
    }

    /// <summary>The layout in the order in which a person cuts it, with its cost.</summary>
    private static Column Ordered(Component component, int stock, Layout bare, ImmutableArray<int> counts, bool forSettings)
    {
        var frame = component.Stocks[stock];
        var facing = Money.Zero;
        for (var i = 0; i < counts.Length; i++)
        {
            facing += counts[i] == 0 ? Money.Zero : component.Fits[stock, i]!.ExtraCost * counts[i];
        }

        var layout = TreeOrder.Arrange(component.Job, frame.Stock, frame.Saw, bare, forSettings);
        layout = layout with { Cost = CostModel.Cost(component.Job, frame.Stock, frame.Saw, layout, facing) };
        var cost = layout.Cost.Total.Units;
        return new(stock, counts, cost, component.LowerCosts.Of(stock, counts.AsSpan(), cost), layout);
    }

    /// <summary>The layout without some pieces, its cost not worked out.</summary>
    private static Layout Bare(Component component, Column column, HashSet<int> without)
    {
        var frame = component.Stocks[column.Stock];
        var old = column.Layout;
        var pieces = ImmutableArray.CreateBuilder<PlacedPiece>();
        var offcuts = ImmutableArray.CreateBuilder<Offcut>();
        CutNode? tree = null;
        if (old.Tree is { } root)
        {
            tree = Renumber(TreeTidy.Without(root, without));
        }
        else
        {
            pieces.AddRange(old.Pieces.Where((_, p) => !without.Contains(p)));
            offcuts.AddRange(FreeOffcuts.Find(component.Job, frame, [.. pieces.Select(piece => piece.Area)]));
        }

        return old with { Pieces = pieces.ToImmutable(), Offcuts = offcuts.ToImmutable(), Tree = tree };

        CutNode Renumber(CutNode node)
        {
            switch (node.Kind)
            {
                case CutNodeKind.Piece:
                    pieces.Add(old.Pieces[node.Index]);
                    return node with { Index = pieces.Count - 1 };
                case CutNodeKind.Offcut:
                    offcuts.Add(CostModel.Judge(component.Job, frame.Stock, node.Area, frame.Sheet));
                    return node with { Index = offcuts.Count - 1 };
                default:
                    return node with { Children = [.. node.Children.Select(Renumber)] };
            }
        }
    }
}
