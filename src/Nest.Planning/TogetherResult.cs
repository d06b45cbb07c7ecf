using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Planning;

/// <summary>Several jobs planned as one, against each planned by itself.</summary>
/// <param name="Whole">The plan of all jobs as one.</param>
/// <param name="Apart">Each job by itself, from the same lists and the whole rack.</param>
/// <param name="Second">The jobs after the first where a leftover was taken by an earlier one too: the plans that can be carried out beside those before them, in the order of the
/// jobs; where nothing was taken twice, those of <paramref name="Apart"/>.</param>
/// <param name="Before">All jobs but the last as one; of two jobs the first by itself.</param>
/// <param name="Later">The last job, cut later from what <paramref name="Before"/> leaves on the rack; null: it was not planned.</param>
public sealed record TogetherResult(Plan Whole, ImmutableArray<Plan> Apart, ImmutableArray<Plan> Second, Plan Before, Plan? Later)
{
    /// <summary>Whether all of them cut all parts; else amounts cannot be compared.</summary>
    public bool IsComparable => Whole.Unplaced.IsEmpty && Second.All(plan => plan.Unplaced.IsEmpty) && Apart.All(plan => plan.Unplaced.IsEmpty);

    /// <summary>What the jobs cost when each is bought and cut by itself.</summary>
    public Money CostApart => Second.Aggregate(Money.Zero, (sum, plan) => sum + plan.TotalCost);

    /// <summary>The plan as one against the plans apart; below zero: it costs more.</summary>
    public Money Saves => CostApart - Whole.TotalCost;

    /// <summary>What of <see cref="Saves"/> remains however well each job were planned by itself; null: nothing is proven.</summary>
    /// <remarks>Each bound of <see cref="Apart"/> holds with the whole rack, so the sum of bounds holds for every way to share the rack out.</remarks>
    public Money? ProvenSaving => Sure(Apart);

    /// <summary>What waiting for the last job is worth: cutting the others now, and it later from what they leave, against all as one. Null: not planned.</summary>
    public Money? WaitingIsWorth => Later is { } later && later.Unplaced.IsEmpty && Before.Unplaced.IsEmpty ? Before.TotalCost + later.TotalCost - Whole.TotalCost : null;

    /// <summary>What of it remains however well the last job is planned after this plan of the others; null: nothing is proven.</summary>
    public Money? ProvenWaiting => Later is { IsContradicted: false, Bound.Value: { } bound } && WaitingIsWorth is not null && Before.TotalCost + bound - Whole.TotalCost is var sure && sure > Money.Zero
        ? sure : null;

    private Money? Sure(ImmutableArray<Plan> plans)
    {
        if (!IsComparable || plans.Any(plan => plan.IsContradicted || !plan.Bound.IsKnown))
        {
            return null;
        }

        var least = plans.Aggregate(Money.Zero, (sum, plan) => sum + plan.Bound.Value!.Value);
        return least > Whole.TotalCost ? least - Whole.TotalCost : null;
    }

    /// <summary>What each job bears of the plan of all: the sum of its parts.</summary>
    public static ImmutableArray<(SharedJob Job, int Pieces, Money Total)> Shares(Plan plan) =>
    [
        .. plan.Job.Together.Select(job =>
        {
            var own = plan.PartCosts.Where(cost => job.Owns(cost.PartId)).ToList();
            return (job, own.Sum(cost => cost.Pieces), own.Aggregate(Money.Zero, (sum, cost) => sum + cost.Total));
        }),
    ];
}
