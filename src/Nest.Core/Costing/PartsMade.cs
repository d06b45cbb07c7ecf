using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Core.Costing;

/// <summary>A part as the list names it, whatever blanks it comes from.</summary>
/// <param name="Part">With the quantity of the list; not for several in a blank.</param>
/// <param name="Made">Pieces that are made, with spares.</param>
/// <param name="Given">Pieces that the customer gets.</param>
/// <param name="Blank">What its blanks cost, of blanks that two parts share half and half its half.</param>
/// <param name="Shares">The same for two parts that come from the same blanks; null: its blanks are its own.</param>
public sealed record PartsMade(Part Part, int Made, int Given, decimal Blank, string? Shares)
{
    /// <summary>The parts of a plan in the order of its job.</summary>
    /// <remarks>Where blanks are for several parts the plan has a row for each kind of blank (whole ones, the rest); here a part is one row again. How many pieces of the second hand of a
    /// pair are spares is not in a plan: as many as of the first where as many are made, else none. O(parts).</remarks>
    public static ImmutableArray<PartsMade> Of(Plan plan)
    {
        var job = plan.Job;
        var all = ImmutableArray.CreateBuilder<PartsMade>();
        var at = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var cost in plan.PartCosts)
        {
            var part = job.Parts.First(part => part.Id == cost.PartId);
            if (part.Gang is not { } gang)
            {
                all.Add(new(part, cost.Pieces, part.Quantity * job.Batch, cost.Total.Amount, null));
                continue;
            }

            foreach (var member in gang.Members)
            {
                var (made, share) = (cost.Pieces * member.Count, cost.Total.Amount * member.Count / gang.Parts);
                if (at.TryGetValue(member.Part, out var known))
                {
                    all[known] = all[known] with { Made = all[known].Made + made, Blank = all[known].Blank + share };
                    continue;
                }

                // A row of its own tells the quantity of a second hand; of one without, what is made tells it.
                var own = job.Parts.FirstOrDefault(one => one.Gang is { } other && other.Members[0].Part == member.Part) ?? (member.Asked == gang.Members[0].Asked ? part : null);
                var given = own is null ? member.Asked : own.Quantity * job.Batch;
                at[member.Part] = all.Count;
                all.Add(new(
                    (own ?? part) with { Id = member.Part, Gang = null, Quantity = own?.Quantity ?? given / job.Batch }, made, given, share,
                    string.Join('|', new[] { gang.Members[0].Part, part.PerBlank?.With ?? "" }.Order(StringComparer.Ordinal))));
            }
        }

        return all.ToImmutable();
    }
}
