using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Bars;
using Nest.Solve.Plates;

namespace Nest.Solve.Choose;

/// <summary>Solves given quantities on one group of stocks with the kernel for it, and turns the answer into columns.</summary>
internal static class GroupSolver
{
    /// <summary>A kernel's answer in the component's terms.</summary>
    /// <param name="Bound">Lower bound on the cost of these quantities on this group.</param>
    internal sealed record Answer(SolveStatus Status, ImmutableArray<(Column Column, int Count)> Columns, Bound Bound);

    /// <summary>Whether every asked item comes out of some stock of the group.</summary>
    public static bool Serves(Component component, StockGroup group, int item) =>
        group.Stocks.Any(s => component.Fits[s, item] is not null);

    /// <param name="quantities">Pieces of each of the component's items; 0: not asked of this group.</param>
    /// <param name="limits">How many of each stock may be used.</param>
    public static Answer Solve(
        Component component, StockGroup group, ReadOnlySpan<int> quantities, ReadOnlySpan<int?> limits, SolveLimits effort,
        Action<ImmutableArray<(Column Column, int Count)>>? improved, CancellationToken cancel)
    {
        var items = new List<int>();
        for (var i = 0; i < quantities.Length; i++)
        {
            if (quantities[i] > 0)
            {
                items.Add(i);
            }
        }

        var stocks = new List<int>();
        foreach (var s in group.Stocks)
        {
            if (limits[s] is null or > 0 && items.Any(i => component.Fits[s, i] is not null))
            {
                stocks.Add(s);
            }
        }

        if (items.Count == 0)
        {
            return new(SolveStatus.Proven, [], Bound.None);
        }

        if (stocks.Count == 0 || items.Any(i => stocks.All(s => component.Fits[s, i] is null)))
        {
            return new(SolveStatus.Impossible, [], Bound.None);
        }

        return group.IsBar
            ? Bars(component, stocks, items, quantities, limits, effort, improved, cancel)
            : Plates(component, stocks, items, quantities, limits, effort, improved, cancel);
    }

    private static Answer Bars(
        Component component, List<int> stocks, List<int> items, ReadOnlySpan<int> quantities, ReadOnlySpan<int?> limits,
        SolveLimits effort, Action<ImmutableArray<(Column Column, int Count)>>? improved, CancellationToken cancel)
    {
        var all = new int?[limits.Length];
        limits.CopyTo(all);
        var wanted = quantities.ToArray();
        var problem = new BarProblem
        {
            Kerf = component.Units(component.Stocks[stocks[0]].Saw.Kerf),
            Stocks = [.. stocks.Select(s => BarStockOf(component, s, all[s]))],
            Items = [.. items.Select(i => new BarItem(SizeOnAny(i), wanted[i]))],
            PieceCost = PieceCosts(component, stocks, items, BarProblem.Forbidden),
            Enough = component.Enough,
        };
        var solution = BarSolver.Solve(
            problem, effort, improved is null ? null : better => improved(Columns(better.Layouts)), cancel);
        return new(solution.Status, Columns(solution.Layouts), BoundOf(component, wanted, solution.Bound, solution.BoundSource));

        long SizeOnAny(int item) => component.SizeX(stocks.First(s => component.Fits[s, item] is not null), item);

        ImmutableArray<(Column, int)> Columns(ImmutableArray<BarLayout> layouts) =>
            [.. layouts.Select(layout =>
            {
                var counts = new int[component.Items];
                for (var k = 0; k < items.Count; k++)
                {
                    counts[items[k]] = layout.Counts[k];
                }

                return (LayoutBuilder.Bar(component, stocks[layout.Stock], counts), layout.Count);
            })];
    }

    private static Bound BoundOf(Component component, int[] wanted, long bound, string source) => component.LowerCosts.Valid
        ? Bound.Of(Money.FromUnits(bound) - component.LowerCosts.Roundings(wanted), source, BoundScope.Component)
        : Bound.None;

    /// <summary>A bar as the kernel takes it: the cost model is exact on bars.</summary>
    internal static BarStock BarStockOf(Component component, int s, int? limit)
    {
        var frame = component.Stocks[s];
        var length = component.Units(frame.Sheet.SizeX);
        return new(component.Units(frame.Usable.SizeX), component.LowerCosts.Stock[s], limit)
        {
            ShortestHeld = component.Units(frame.Saw.ShortestHeld),
            MostPieces = frame.Saw.MostPieces,
            Leftover = new(
                frame.Rule is { } rule ? component.Units(rule.KeepLength) : long.MaxValue,
                frame.Worth.Keep.Units, frame.Worth.Scrap.Units, length),
        };
    }

    private static Answer Plates(
        Component component, List<int> stocks, List<int> items, ReadOnlySpan<int> quantities, ReadOnlySpan<int?> limits,
        SolveLimits effort, Action<ImmutableArray<(Column Column, int Count)>>? improved, CancellationToken cancel)
    {
        var wanted = quantities.ToArray();
        var problem = PlatesOf(component, stocks, items, wanted, limits.ToArray());
        var solution = PlateSolver.Solve(
            problem, effort, improved is null ? null : better => improved(Columns(better.Layouts)), cancel);
        return new(solution.Status, Columns(solution.Layouts), BoundOf(component, wanted, solution.Bound, solution.BoundSource));

        ImmutableArray<(Column, int)> Columns(ImmutableArray<PlateLayout> layouts)
        {
            var map = items.ToArray();
            return [.. layouts.Select(layout =>
            {
                var column = LayoutBuilder.Plate(component, stocks[layout.Stock], map, layout);
                return (BlockLayouts.Cheaper(component, column) ?? column, layout.Count);
            })];
        }
    }

    /// <summary>These pieces on these plates, which one saw cuts, as the kernel takes them.</summary>
    internal static PlateProblem PlatesOf(Component component, List<int> stocks, List<int> items, int[] quantities, int?[] limits)
    {
        var saw = component.Stocks[stocks[0]].Saw;
        return new()
        {
            Kerf = component.Units(saw.Kerf),
            Cutting = CuttingOf(component, saw),
            Stocks = [.. stocks.Select(s => PlateStockOf(component, s, limits[s]))],
            Items = [.. items.Select(i => PlateItemOf(component, stocks.First(s => component.Fits[s, i] is not null), i, quantities[i]))],
            PieceCost = PieceCosts(component, stocks, items, PlateProblem.Forbidden),
        };
    }

    internal static PlateItem PlateItemOf(Component component, int stock, int item, int quantity) =>
        new(component.SizeX(stock, item), component.SizeY(stock, item), quantity, component.Fits[stock, item]!.MayTurn);

    internal static PlateCutting CuttingOf(Component component, Saw saw) => saw.Kind == SawKind.Cutter
        ? new() { Free = true }
        : new()
        {
            Stages = saw.Stages,
            TrimmingCut = saw.TrimmingCut,
            FirstCut = saw.FirstCut,
            LargestCut = saw.LargestCut is { } cut ? component.Units(cut) : null,
            ShortestHeld = component.Units(saw.ShortestHeld),
        };

    internal static PlateStock PlateStockOf(Component component, int s, int? limit)
    {
        var frame = component.Stocks[s];
        return new(
            component.Units(frame.Usable.SizeX), component.Units(frame.Usable.SizeY), component.LowerCosts.Stock[s], limit)
        {
            // A cutter keeps its gap to damage in the border too.
            KeepOuts = [.. frame.Stock.KeepOuts.Select(keepOut => frame.IsFree ? Shift(keepOut) : Clip(keepOut)).Where(rect => rect.SizeX > 0 && rect.SizeY > 0)],
            KeepLong = frame.Rule is { } rule ? component.Units(rule.KeepLength) : 0,
            KeepShort = frame.Rule is { } same ? component.Units(same.KeepWidth) : 0,
        };

        PlateRect Shift(Core.Geometry.Rect keepOut) => new(
            component.Units(keepOut.X - frame.Usable.X), component.Units(keepOut.Y - frame.Usable.Y), component.Units(keepOut.SizeX), component.Units(keepOut.SizeY));

        PlateRect Clip(Core.Geometry.Rect keepOut)
        {
            var x = Length.Max(keepOut.X, frame.Usable.X);
            var y = Length.Max(keepOut.Y, frame.Usable.Y);
            return new(
                component.Units(x - frame.Usable.X), component.Units(y - frame.Usable.Y),
                component.Units(Length.Max(Length.Zero, Length.Min(keepOut.Right, frame.Usable.Right) - x)),
                component.Units(Length.Max(Length.Zero, Length.Min(keepOut.Top, frame.Usable.Top) - y)));
        }
    }

    private static long[,] PieceCosts(Component component, List<int> stocks, List<int> items, long forbidden)
    {
        var costs = new long[stocks.Count, items.Count];
        for (var s = 0; s < stocks.Count; s++)
        {
            for (var i = 0; i < items.Count; i++)
            {
                costs[s, i] = component.Fits[stocks[s], items[i]] is null
                    ? forbidden
                    : component.LowerCosts.Piece[stocks[s], items[i]];
            }
        }

        return costs;
    }
}
