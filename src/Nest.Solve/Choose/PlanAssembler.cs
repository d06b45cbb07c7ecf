using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Puts the components' answers together into one plan, in an order that does not depend on how they were found.</summary>
internal static class PlanAssembler
{
    /// <param name="components">Of the merged job.</param>
    /// <param name="jointBound">Of the whole job without settings; null: the sum of the components' counts.</param>
    /// <param name="withSettings">Of the whole job with settings less what is carried over; may be none.</param>
    /// <param name="given">The job that the plan is for; where layouts stay, <paramref name="twins"/> is of the rest.</param>
    public static Plan Assemble(
        Job given, StockTwins twins, ImmutableArray<Component> components, (Chosen? Best, Bound Bound)[] answers,
        SolveLimits limits, ImmutableArray<(StockFrame Frame, int Count)> extras, Bound? jointBound, Bound withSettings)
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
            layouts.AddRange(FewStops.Of(components[c], best).Columns);
            for (var i = 0; i < best.Missing.Length; i++)
            {
                if (best.Missing[i] > 0)
                {
                    complete = false;
                    unplaced.Add(new(components[c].Blanks[i].Part.Id, best.Missing[i], WhyMissing(components[c].Job, components[c].Blanks[i], best.Missing[i], answers[c].Best is not null)));
                }
            }
        }

        // As the order of work: the layouts are numbered as they are cut, and what the supplier cuts comes last.
        var (sorted, _) = StopOrder.Of(job, twins.HandOut(layouts).Concat(job.Kept.Select(Kept)));
        var numbered = sorted.Select(entry => entry.Layout with { Count = entry.Count })
            .Concat(extras.Select(extra => Whole(job, extra.Frame, extra.Count)))
            .Select((layout, at) => layout with { Number = at + 1 }).ToImmutableArray();
        var orders = Purchasing.Orders(job, numbered);
        var cost = CostSheet.Total(job, numbered);

        var keptCost = RestOfJob.Cost(job);

        // With pieces left out a bound is for another problem: nothing is claimed. Settings that no plan avoids come on top of it.
        var bound = complete
            ? Bound.Higher(twins.Own(jointBound ?? Bound.Sum(answers.Select(answer => answer.Bound))).Plus(SettingBound.Of(job, blanks), SettingBound.Name), twins.Own(withSettings)).Plus(keptCost, KeptName)
            : Bound.None;

        // One component's excess would hide in another's gap: each is looked at by itself.
        var contradicted = complete && answers.FirstOrDefault(
            answer => answer.Best is { } own && Contradictions.Found(answer.Bound, Money.FromUnits(own.Cost))) is { Best: not null } wrong ? wrong.Bound : Bound.None;

        // The cost is a sum of cents in the end: a plan within a cent of its bound cannot be beaten by a cent.
        var proven = !contradicted.IsKnown && !Contradictions.Found(bound, cost) && bound.Proves(cost);
        return new()
        {
            // With all of its stock, as it was given.
            Job = given,
            Status = sorted.Count == 0 && unplaced.Count > 0 ? SolveStatus.NotFound : proven ? SolveStatus.Proven : SolveStatus.BestFound,
            Layouts = numbered,
            Orders = orders,
            Unplaced = unplaced.ToImmutable(),
            TotalCost = cost,
            Bound = bound.ForJob(),
            Seconds = limits.Seconds,
            Seed = limits.Seed,
        };
    }

    /// <summary>What layouts that stay add to the source of a bound.</summary>
    public const string KeptName = "layouts that stay";

    /// <summary>Why pieces of a blank are left out. Only where everything that serves it is limited can there be too little of it; else the time was over, which says nothing of what can be cut.</summary>
    private static string WhyMissing(Job job, Blank blank, int missing, bool planned)
    {
        var limited = blank.Fits.Select(fit => fit.StockId).ToHashSet(StringComparer.Ordinal) is var serve && job.Stocks.Where(stock => serve.Contains(stock.Id)).All(stock => stock.Available is not null || stock.IsLeftover);
        return planned && limited
            ? string.Create(CultureInfo.InvariantCulture, $"There is not enough stock: no way was found to cut more than {blank.Demand - missing} of {blank.Demand} from the limited pieces that serve it.")
            : string.Create(CultureInfo.InvariantCulture, $"The search was ended when {blank.Demand - missing} of {blank.Demand} had a place: give it more time. If it stays so, a rule of the job is in the way.");
    }

    private static (Column Column, int Count) Kept(Layout layout) =>
        (new(-1, [], layout.Cost.Total.Units, layout.Cost.Total.Units, layout with { Number = 0, Count = 1 }), layout.Count);

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
