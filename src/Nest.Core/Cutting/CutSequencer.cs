using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>Turns layouts into steps that a person at the saw can follow, and a plan into an order of work.</summary>
/// <remarks>
/// Trims come first, left and bottom before right and top, so that everything after is measured from a clean edge; the plate lies
/// between fence and blade and the trim falls free. A bar's raw end is cut off at a mark, and its right trim stays on to the end,
/// where the cut behind the last piece takes it off. Waste is never caught between fence and blade. Then the cut tree: with few settings
/// (<see cref="SettingSearch"/>), within a setting the metal that is on the saw first, then the largest. A cut is made only when one
/// of its two sides is long enough to be held, now and for all cuts that follow. Offcuts are never measured: they are what remains.
/// Pure and deterministic.
/// </remarks>
public static class CutSequencer
{
    /// <summary>The steps for one stock piece of a layout.</summary>
    public static CutSequence Sequence(Plan plan, Layout layout)
    {
        var stock = plan.StockOf(layout);
        var saw = plan.SawOf(layout);
        var family = plan.Job.MaterialOf(stock.MaterialId).Family;
        if (saw.Kind == SawKind.Cutter)
        {
            var work = SawWork.Of(saw, stock, layout);
            return new CutSequence
            {
                Layout = layout.Number,
                SawId = saw.Id,
                Steps = [],
                Outlines = OutlineOrder.Of(layout),
                Settings = 0,
                FewestSettings = true,
                PlainSettings = 0,
                Handlings = 1,
                Turns = 0,
                Minutes = work.Minutes(saw, family),
            };
        }

        var graph = SplitGraph.Of(layout, saw, stock);
        var trims = TrimCuts.Of(layout, saw, stock, graph);
        Setting? start = trims.Count == 0 || trims[^1].Setting.Marked ? null : trims[^1].Setting;
        var fewest = true;
        IReadOnlyList<Move> moves = [];
        IReadOnlyList<Move> plain = [];
        if (graph.Splits.Count > 0)
        {
            (var settings, fewest) = SettingSearch.Find(graph, saw.ShortestHeld, start);
            moves = CutOrder.BySettings(graph, saw.ShortestHeld, settings, start);
            plain = CutOrder.RowByRow(graph, saw.ShortestHeld);
            if (Count(trims, plain) < Count(trims, moves))
            {
                // The search is a heuristic on large layouts.
                moves = plain;
            }
        }

        var steps = new StepWriter(graph, saw, trims).Write(moves);
        var section = stock.Form.IsBar()
            ? stock.Section * steps.Length
            : steps.Aggregate(Length.Zero, (sum, step) => sum + step.CutLength) * stock.Thickness;
        var count = steps.Length == 0 ? 0 : steps[^1].Setting;
        var angled = AngledCuts.Of(layout, saw, plan.Job.Unit, steps.Length, count);
        var angledSettings = angled.Count(cut => cut.NewSetting);
        var angledPieces = angled.Sum(cut => cut.Pieces);
        section += angled.Aggregate(Area.Zero, (sum, cut) => sum + (SawWork.Angled(stock, cut.Angle) * cut.Pieces));
        count += angledSettings;
        return new CutSequence
        {
            Layout = layout.Number,
            SawId = saw.Id,
            Steps = steps,
            AngledCuts = angled,
            Settings = count,

            // The search counts a setting for the last cut, which a rest too short for the vise spares: another order might spare more.
            FewestSettings = fewest && angled.IsEmpty && !steps.Any(step => step.BlankClamped),
            PlainSettings = Count(trims, plain) + angledSettings,
            Handlings = steps.Count(step => !step.StillOnSaw) + angledPieces,
            Turns = steps.Count(step => step.Turn),
            Minutes = new SawWork(steps.Length + angledPieces, section).Minutes(saw, family) + (count * saw.SettingMinutes),
        };
    }

    /// <summary>The order of work over the whole plan: by saw (in the job's order), material, thickness and stock. What comes cut to
    /// size, or goes to the rack whole, is no work.</summary>
    public static WorkOrder Order(Plan plan)
    {
        var saws = plan.Job.Saws.Select(saw => saw.Id).ToList();
        var stocks = plan.Job.Stocks.Select(stock => stock.Id).ToList();
        var groups = plan.Layouts
            .Where(layout => layout.SawId != Saw.SupplierId && !layout.Pieces.IsEmpty)
            .GroupBy(layout => (layout.SawId, layout.StockId))
            .Select(group => (group.Key, Stock: plan.StockOf(group.First()), Layouts: group.OrderBy(layout => layout.Number)))
            .OrderBy(group => saws.IndexOf(group.Key.SawId))
            .ThenBy(group => group.Stock.MaterialId, StringComparer.OrdinalIgnoreCase)
            .ThenBy(group => group.Stock.Form)
            .ThenBy(group => group.Stock.Thickness)
            .ThenBy(group => group.Stock.Width)
            .ThenBy(group => stocks.IndexOf(group.Key.StockId))
            .Select(group => new WorkGroup(group.Key.SawId, group.Stock.MaterialId, group.Stock.Thickness, group.Key.StockId,
                [.. group.Layouts.Select(layout => Item(plan, group.Stock, layout))]));
        return new([.. groups]);
    }

    private static WorkItem Item(Plan plan, Stock stock, Layout layout)
    {
        var saw = plan.SawOf(layout);
        var sequence = Sequence(plan, layout);
        var height = (int)Math.Min(layout.Count, Math.Max(1, saw.StackHeight.Nanometres / stock.Thickness.Nanometres));
        var stacks = (layout.Count + height - 1) / height;
        var cuts = sequence.Cuts;
        var setting = sequence.Settings * saw.SettingMinutes;
        var handling = cuts * saw.HandlingMinutes;
        var sawing = sequence.Minutes - setting - handling;
        return new(layout.Number, layout.Count, height, stacks, sequence, setting + (handling * stacks) + (sawing * layout.Count));
    }

    private static int Count(IReadOnlyList<TrimCut> trims, IReadOnlyList<Move> moves)
    {
        var count = 0;
        Setting? before = null;
        foreach (var setting in trims.Select(trim => trim.Setting).Concat(moves.Select(move => move.Setting)))
        {
            if (!setting.Marked && setting != before)
            {
                count++;
                before = setting;
            }
        }

        return count;
    }
}
