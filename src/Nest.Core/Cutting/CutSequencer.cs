using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Cutting;

/// <summary>Turns layouts into steps that a person at the saw can follow, and a plan into an order of work.</summary>
/// <remarks>
/// A plate: raw edges first, as far as they are cut off (<see cref="TrimCuts"/>), then the tree level by level (<see cref="LevelOrder"/>).
/// A bar: blank after blank from its clean end (<see cref="BarOrder"/>). Offcuts are never measured: they are what remains, and take all
/// errors. The cuts and settings are exactly those that are paid for (<see cref="SawWork"/>, <see cref="LayoutSettings"/>). Nothing is
/// searched, so a large plan takes no longer than its cuts are many. Pure and deterministic.
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
                Handlings = 1,
                Turns = 0,
                Minutes = work.Minutes(saw, family),
            };
        }

        var trimmed = TrimmedEdges.Of(saw, stock, layout);
        ImmutableArray<CutStep> steps;
        if (stock.Form.IsBar())
        {
            steps = StepWriter.Bar(saw, TrimmedEdges.FromRight(stock, layout.Trims), BarOrder.Of(layout, saw, stock));
        }
        else
        {
            var graph = SplitGraph.Of(layout, trimmed);
            steps = StepWriter.Plate(saw, graph, TrimCuts.Of(layout, saw, trimmed), LevelOrder.Of(graph, saw.ShortestHeld));
        }

        var section = stock.Form.IsBar()
            ? stock.Section * steps.Length
            : steps.Aggregate(Length.Zero, (sum, step) => sum + step.CutLength) * stock.Thickness;
        var angled = AngledCuts.Of(layout, saw, plan.Job.Unit, steps.Length, steps.Length == 0 ? 0 : steps[^1].Setting);
        var count = steps.Count(step => step.NewSetting || step.Marked) + angled.Count(cut => cut.NewSetting);
        var angledPieces = angled.Sum(cut => cut.Pieces);
        section += angled.Aggregate(Area.Zero, (sum, cut) => sum + (SawWork.Angled(stock, cut.Angle) * cut.Pieces));
        return new CutSequence
        {
            Layout = layout.Number,
            SawId = saw.Id,
            Steps = steps,
            AngledCuts = angled,
            Settings = count,
            Handlings = steps.Count(step => !step.StillOnSaw) + angledPieces,
            Turns = steps.Count(step => step.Turn),
            Minutes = new SawWork(steps.Length + angledPieces, section).Minutes(saw, family) + (count * saw.SettingMinutes) + saw.LoadMinutes,
        };
    }

    /// <summary>The order of work over the whole plan: that of the layouts' numbers. What comes cut to size, or goes to the rack whole, is
    /// no work.</summary>
    public static WorkOrder Order(Plan plan)
    {
        var settings = SettingCosts.Of(plan.Job, plan.Layouts);
        var groups = ImmutableArray.CreateBuilder<WorkGroup>();
        var groupOn = new Dictionary<string, MaterialGroup>(StringComparer.Ordinal);
        foreach (var line in settings.Lines.OrderBy(line => plan.Layouts[line.Layout].Number))
        {
            var layout = plan.Layouts[line.Layout];
            if (layout.SawId == Saw.SupplierId || layout.Pieces.IsEmpty)
            {
                continue;
            }

            var stock = plan.StockOf(layout);
            var group = MaterialOrder.Of(plan.Job.MaterialOf(stock.MaterialId));
            var item = Item(plan, stock, layout, line) with
            {
                ChangesMaterial = groupOn.TryGetValue(layout.SawId, out var earlier) && earlier != group,
            };
            groupOn[layout.SawId] = group;
            if (groups.Count > 0 && groups[^1] is var before && (before.SawId, before.StockId) == (layout.SawId, layout.StockId))
            {
                groups[^1] = before with { Items = before.Items.Add(item) };
            }
            else
            {
                groups.Add(new(layout.SawId, stock.MaterialId, stock.Thickness, layout.StockId, [item]));
            }
        }

        return new(groups.ToImmutable());
    }

    private static WorkItem Item(Plan plan, Stock stock, Layout layout, SettingLine line)
    {
        var saw = plan.SawOf(layout);
        var sequence = Sequence(plan, layout);
        var height = (int)Math.Min(layout.Count, Math.Max(1, saw.StackHeight.Nanometres / stock.Thickness.Nanometres));
        var setting = sequence.Settings * saw.SettingMinutes;
        return new(layout.Number, layout.Count, height, (layout.Count + height - 1) / height, sequence,
            line.StillFrom, setting + ((sequence.Minutes - setting) * layout.Count) - (line.StillFrom is null ? 0m : saw.SettingMinutes));
    }
}
