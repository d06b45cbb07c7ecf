using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Core.Costing;

/// <summary>Price of one part for a customer.</summary>
/// <param name="Pieces">Pieces that the customer gets: quantity × sets, without spares.</param>
/// <param name="Each">Per piece, in whole cents of the job's currency.</param>
public sealed record QuoteLine(Part Part, int Pieces, decimal Each)
{
    public decimal Total => Each * Pieces;
}

/// <summary>A plan's cost as prices for a customer, before tax.</summary>
/// <remarks>Rule: the set-up is charged once and shared by the parts' costs (all of them zero: by parts equally); the margin goes on top;
/// spares are paid for by the pieces that the customer gets; each price for a piece is rounded up to the cent, so that the quote never
/// asks less than the margin; totals are sums of rounded prices. Exact decimals. O(parts).</remarks>
public sealed record Quote(ImmutableArray<QuoteLine> Lines)
{
    public decimal Total => Lines.Sum(line => line.Total);

    /// <param name="plan">With part costs, every part cut.</param>
    /// <param name="margin">In percent on top of cost and set-up.</param>
    /// <param name="setUp">In the job's currency.</param>
    public static Quote Of(Plan plan, decimal margin, decimal setUp)
    {
        var cost = plan.PartCosts.Sum(part => part.Total.Amount);
        var lines = ImmutableArray.CreateBuilder<QuoteLine>();
        foreach (var own in plan.PartCosts)
        {
            var part = plan.Job.Parts.First(part => part.Id == own.PartId);
            var pieces = part.Quantity * plan.Job.Batch;
            var share = cost > 0m ? setUp * own.Total.Amount / cost : setUp / plan.PartCosts.Length;
            lines.Add(new(part, pieces, decimal.Ceiling((own.Total.Amount + share) * (100m + margin) / pieces) / 100m));
        }

        return new(lines.ToImmutable());
    }
}
