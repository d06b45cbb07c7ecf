using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Costing;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Plates;
using Nest.Solve.Plates.ThroughCut;

namespace Nest.Solve.Choose;

/// <summary>Makes the plates of a plan that one saw cuts cheaper by what they truly cost: fewer and shorter cuts, larger offcuts, other plates (<see cref="CostAnnealing"/>).</summary>
/// <remarks>Layouts that it cannot take up stay as they are: bars, free layouts, damaged plates, blanks bought cut to size.</remarks>
internal sealed class PlateAnnealing
{
    /// <summary>Plans of more pieces are left alone: a step looks at every plate, and each better plan is copied whole.</summary>
    private const int MostPieces = Lots.MostPieces;

    /// <summary>Of the effort where there are few plates, for short searches from choices of empty ones (<see cref="FewPlates"/>): ten made jobs of 20 to 44 pieces, 10 s: 1.2 % dearer without, 0.6 with 0.3 and three choices.</summary>
    private const double ChoicesShare = 0.4;

    /// <inheritdoc cref="ChoicesShare"/>
    private const int MostChoices = 4;

    private readonly Component _component;
    private readonly bool _withSettings;
    private readonly List<(Column Column, int Count)> _others = [];
    private readonly List<int> _stocks;
    private readonly List<int> _items;
    private readonly ThroughModel _model;
    private readonly SheetCosts _costs;
    private readonly List<CutSheet> _sheets = [];

    private PlateAnnealing(Component component, StockGroup group, Chosen plan, int?[] limits, bool withSettings)
    {
        (_component, _withSettings) = (component, withSettings);
        var left = (int?[])limits.Clone();
        var demand = new int[component.Items];
        foreach (var (column, count) in plan.Columns)
        {
            if (!group.Stocks.Contains(column.Stock) || IsLeftAlone(component.Stocks[column.Stock]))
            {
                _others.Add((column, count));
                left[column.Stock] -= count;
                continue;
            }

            for (var i = 0; i < demand.Length; i++)
            {
                demand[i] += count * column.Counts[i];
            }
        }

        _items = [.. Enumerable.Range(0, component.Items).Where(i => demand[i] > 0)];
        _stocks = [.. group.Stocks.Where(s => left[s] is null or > 0 && !IsLeftAlone(component.Stocks[s]) && _items.Exists(i => component.Fits[s, i] is not null))];
        _model = new(GroupSolver.PlatesOf(component, _stocks, _items, demand, left));
        _costs = new(_model, [.. _stocks.Select(Rates)], PieceCosts());
        var sheets = new SheetReader(_model, component.Unit, _stocks, [.. _items.Select(i => component.Blanks[i].Part.Id)]);
        foreach (var (column, count) in plan.Columns.Except(_others))
        {
            var sheet = sheets.Read(column);
            for (var n = 0; n < count && sheet is not null; n++)
            {
                _sheets.Add(sheet.Clone());
            }
        }

        var read = new int[_items.Count];
        _sheets.ForEach(sheet => sheet.AddCounts(read));
        IsWhole = read.AsSpan().SequenceEqual(_model.Demand);
    }

    /// <summary>Whether each plate could be taken up.</summary>
    private bool IsWhole { get; }

    /// <param name="limits">Most of each stock; null: any number.</param>
    /// <param name="stepsByPiece">Most steps for each piece: with few pieces there is soon nothing more to find, and others may need the time.</param>
    /// <param name="withSettings">Whether settings of fence and stop count, once for all plates cut alike.</param>
    /// <param name="anew">Whether it begins from empty plates alone where these are few: from a good plan it seldom comes to one that is made quite another way.</param>
    /// <returns>A whole plan of the component that may be cheaper; empty where there is nothing to search.</returns>
    public static ImmutableArray<(Column Column, int Count)> Run(
        Component component, StockGroup group, Chosen plan, int?[] limits, SolveLimits effort, double stepsByPiece, CancellationToken cancel, bool withSettings = false, bool anew = false)
    {
        if (group.IsBar || plan.MissingCount > 0 || plan.Columns.Sum(one => (long)one.Count * one.Column.Counts.Sum()) > MostPieces || !plan.Columns.Any(one => group.Stocks.Contains(one.Column.Stock) && !IsLeftAlone(component.Stocks[one.Column.Stock])))
        {
            return [];
        }

        var own = new PlateAnnealing(component, group, plan, limits, withSettings);
        return own.IsWhole ? own.Search(effort, stepsByPiece, anew, cancel) : [];
    }

    /// <summary>What the search takes a layout, and its settings, to cost, in money units; null where it leaves it alone.</summary>
    internal static (double Layout, double Settings)? CostOf(Component component, Column column)
    {
        var group = component.Groups.First(one => one.Stocks.Contains(column.Stock));
        var own = group.IsBar || IsLeftAlone(component.Stocks[column.Stock]) ? null : new PlateAnnealing(component, group, new([(column, 1)], []), [.. component.Stocks.Select(_ => (int?)null)], withSettings: true);
        return own is { IsWhole: true } ? (own._costs.Of(own._sheets[0]), own._costs.Settings(own._sheets[0])) : null;
    }

    private ImmutableArray<(Column Column, int Count)> Search(SolveLimits effort, double stepsByPiece, bool anew, CancellationToken cancel)
    {
        var threads = Math.Max(1, effort.Threads);
        var (start, share) = (_sheets, 1.0);
        if (_sheets.Count <= Ruin.FewSheets && FewPlates.Of(_model, _costs, MostChoices) is { Count: > 0 } choices)
        {
            share = 1 - ChoicesShare;
            List<CutSheet>[] starts = [.. anew ? [] : new[] { _sheets }, .. choices.Select(plates => Fleets.Empty(_model, plates).ToList())];
            start = Best(starts, ChoicesShare * Math.Min(threads, starts.Length) / starts.Length) is { Count: > 0 } some ? some : _sheets;
        }

        var best = Best([.. Enumerable.Repeat(start, threads)], share);
        var map = _items.ToArray();
        return
        [
            .. _others,
            .. best.GroupBy(sheet => (sheet.Stock, sheet.Key)).Select(group =>
            {
                var count = group.Count();
                var column = LayoutBuilder.Plate(_component, _stocks[group.Key.Stock], map, Plates.ThroughCut.LayoutBuilder.Build(_model, group.MinBy(sheet => (count * _costs.Of(sheet)) + _costs.Settings(sheet))!, 1));
                return (BlockLayouts.Cheaper(_component, column) is { } blocks && Cost(blocks) < Cost(column) ? blocks : column, count);

                long Cost(Column one) => (count * one.Cost) + (_withSettings ? one.SetUp(_component) : 0);
            }),
        ];

        // The cheapest of searches from these plans, each for a share of the effort.
        List<CutSheet> Best(List<CutSheet>[] starts, double each)
        {
            var searches = starts.Select((_, n) => new CostAnnealing(_model, _costs, effort.Seed + (104_729 * n))).ToArray();
            Parallel.For(0, searches.Length, new() { MaxDegreeOfParallelism = threads }, n =>
            {
                var (clock, search) = (Stopwatch.StartNew(), searches[n]);
                search.Start(starts[n]);
                search.Run(
                    () => cancel.IsCancellationRequested ? 1 : Math.Max(clock.Elapsed.TotalSeconds / effort.Seconds, effort.Work is { } work ? (double)search.Work / work : 0) / each,
                    each * stepsByPiece * _model.Demand.Sum());
            });
            return searches.MinBy(search => search.BestCost)!.Best;
        }
    }

    private static bool IsLeftAlone(StockFrame frame) => frame.IsBar || frame.IsFree || frame.Stock.CutFor is not null || !frame.Stock.KeepOuts.IsEmpty;

    private PlateRates Rates(int s)
    {
        var frame = _component.Stocks[s];
        var (perNanometre, perCut) = frame.SawRate;
        var sheet = (double)frame.Sheet.SizeX.Nanometres / _component.Unit * frame.Sheet.SizeY.Nanometres / _component.Unit;
        var rule = frame.Rule;

        // Raw edges at the left and the bottom are cut off in every layout, those at the right and the top seldom.
        var (left, bottom) = (frame.Trims.Left > Length.Zero, frame.Trims.Bottom > Length.Zero);
        var trims = (perNanometre * ((left ? frame.Sheet.SizeY.Nanometres : 0) + (bottom ? frame.Usable.SizeX.Nanometres : 0))) + (perCut * ((left ? 1 : 0) + (bottom ? 1 : 0)));
        return new(
            frame.Stock.PiecePrice.Units + frame.Loading.Units - frame.TrimCredit() + (double)trims, (double)perCut, (double)perNanometre * _component.Unit,
            frame.Worth.Keep.Units / sheet, frame.Worth.Scrap.Units / sheet,
            rule is null ? long.MaxValue : _component.Units(rule.KeepLength), rule is null ? long.MaxValue : _component.Units(rule.KeepWidth),
            _withSettings ? SettingCosts.One(frame.Saw).Units : 0, (left ? 1 : 0) + (bottom ? 1 : 0));
    }

    private double[,] PieceCosts()
    {
        var costs = new double[_stocks.Count, _items.Count];
        for (var s = 0; s < _stocks.Count; s++)
        {
            for (var i = 0; i < _items.Count; i++)
            {
                costs[s, i] = _component.Fits[_stocks[s], _items[i]]?.ExtraCost.Units ?? 0;
            }
        }

        return costs;
    }
}
