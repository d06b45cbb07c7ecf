using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Puts the components' answers together into one plan, in an order that does not depend on how they were found.</summary>
internal static class PlanAssembler
{
    /// <param name="components">Of the merged job.</param>
    /// <param name="jointBound">Of the whole job; null: the sum of the components' counts.</param>
    public static Plan Assemble(
        StockTwins twins, ImmutableArray<Component> components, (Chosen? Best, Bound Bound)[] answers,
        SolveLimits limits, ImmutableArray<(StockFrame Frame, int Count)> extras, Bound? jointBound)
    {
        var (job, blanks) = (twins.Job, twins.Blanks);
        var unplaced = ImmutableArray.CreateBuilder<Unplaced>();
        var served = components.SelectMany(component => component.BlankIndices).ToHashSet();
        for (var i = 0; i < blanks.Length; i++)
        {
            if (!served.Contains(i) && blanks[i].Demand > 0)
            {
                var reason = blanks[i].Reason.Length > 0 ? blanks[i].Reason : "No stock in the job serves this part.";
                unplaced.Add(new(blanks[i].Part.Id, blanks[i].Demand, reason));
            }
        }

        var layouts = new List<(Column Column, int Count)>();
        var complete = true;
        for (var c = 0; c < components.Length; c++)
        {
            var best = answers[c].Best ?? new([], components[c].Demand);
            layouts.AddRange(best.Columns);
            for (var i = 0; i < best.Missing.Length; i++)
            {
                if (best.Missing[i] > 0)
                {
                    complete = false;
                    unplaced.Add(new(
                        components[c].Blanks[i].Part.Id, best.Missing[i],
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"There is not enough stock: no way was found to cut more than {components[c].Blanks[i].Demand - best.Missing[i]} of {components[c].Blanks[i].Demand} from the limited pieces that serve it.")));
                }
            }
        }

        var order = job.Stocks.Select((stock, at) => (stock.Id, at)).ToDictionary(p => p.Id, p => p.at, StringComparer.Ordinal);
        var saws = job.Saws.Select((saw, at) => (saw.Id, at)).ToDictionary(p => p.Id, p => p.at, StringComparer.Ordinal);

        // As the order of work: the layouts are numbered as they are cut, and what the supplier cuts comes last.
        var sorted = twins.HandOut(layouts)
            .OrderBy(entry => saws.GetValueOrDefault(entry.Column.Layout.SawId, int.MaxValue))
            .ThenBy(entry => StockOf(entry.Column).MaterialId, StringComparer.OrdinalIgnoreCase)
            .ThenBy(entry => StockOf(entry.Column).Form)
            .ThenBy(entry => StockOf(entry.Column).Thickness)
            .ThenBy(entry => StockOf(entry.Column).Width)
            .ThenBy(entry => order[entry.Column.Layout.StockId])
            .ThenByDescending(entry => entry.Count)
            .ThenByDescending(entry => entry.Column.Layout.Pieces.Length)
            .ThenBy(entry => entry.Column.Key, StringComparer.Ordinal)
            .ToList();
        var numbered = sorted.Select(entry => entry.Column.Layout with { Count = entry.Count })
            .Concat(extras.Select(extra => Whole(job, extra.Frame, extra.Count)))
            .Select((layout, at) => layout with { Number = at + 1 }).ToImmutableArray();
        var orders = Purchasing.Orders(job, numbered);
        var cost = numbered.Aggregate(Purchasing.Terms(orders), (sum, layout) => sum + (layout.Cost.Total * layout.Count));

        // With pieces left out a bound is for another problem: nothing is claimed.
        var bound = twins.Own(complete ? jointBound ?? Bound.Sum(answers.Select(answer => answer.Bound)) : Bound.None);

        // One component's excess would hide in another's gap: each is looked at by itself.
        var contradicted = complete && answers.FirstOrDefault(
            answer => answer.Best is { } own && Contradictions.Found(answer.Bound, Money.FromUnits(own.Cost))) is { Best: not null } wrong ? wrong.Bound : Bound.None;

        // The cost is a sum of cents in the end: a plan within a cent of its bound cannot be beaten by a cent.
        var proven = !contradicted.IsKnown && !Contradictions.Found(bound, cost) && bound.Proves(cost);
        return new()
        {
            Job = job,
            Status = sorted.Count == 0 && unplaced.Count > 0 ? SolveStatus.NotFound : proven ? SolveStatus.Proven : SolveStatus.BestFound,
            Layouts = numbered,
            Orders = orders,
            Unplaced = unplaced.ToImmutable(),
            TotalCost = cost,
            Bound = bound.ForJob(),
            Seconds = limits.Seconds,
            Seed = limits.Seed,
        };

        Stock StockOf(Column column) => job.Stocks[order[column.Layout.StockId]];
    }

    /// <summary>A piece bought whole for the rack, because the price break or minimum it reaches is worth more.</summary>
    private static Layout Whole(Job job, StockFrame frame, int count)
    {
        var offcut = OrderTerms.Whole(job, frame);
        return new()
        {
            Number = 0, StockId = frame.Stock.Id, SawId = frame.Saw.Id, Count = count, Sheet = frame.Sheet, Trims = default,
            Pieces = [], Offcuts = [offcut],
            Tree = new() { Kind = CutNodeKind.Offcut, Area = frame.Sheet, Index = 0 },
            Cost = new(frame.Stock.PiecePrice, Money.Zero, Money.Zero, offcut.Value, Money.Zero),
        };
    }
}
