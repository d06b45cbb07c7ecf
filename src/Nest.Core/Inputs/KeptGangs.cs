using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Core.Inputs;

/// <summary>Blanks for several parts in layouts that stay: they keep the numbers that the earlier plan took, beside the part whose number is open. What they do not cut of it is
/// chosen anew.</summary>
/// <remarks>The job gets a part with its <see cref="Gang"/> for each kind of blank that stays, just before the part that is milled from it; its blanks are those that stay.
/// <see cref="GangOptions"/> counts them off what is asked. Pure. O(pieces).</remarks>
public static class KeptGangs
{
    /// <summary>The job with these blanks, and the plan with single blanks of such a part named as blanks for one (<c>p ×1</c>).</summary>
    public static (Job Job, Plan Plan) Beside(Job job, Plan plan, IReadOnlyCollection<int> numbers)
    {
        var open = job.Parts.Where(part => part is { PerBlank: not null, Gang: null }).ToImmutableArray();
        if (open.IsEmpty)
        {
            return (job, plan);
        }

        var single = open.Where(part => plan.Job.Parts.Any(old => old.Id == part.Id && old.Gang is null)).ToDictionary(part => part.Id, GangOptions.NameOfOne, StringComparer.Ordinal);
        plan = plan with
        {
            Layouts = [.. plan.Layouts.Select(layout => layout with { Pieces = [.. layout.Pieces.Select(piece => single.TryGetValue(piece.PartId, out var name) ? piece with { PartId = name } : piece)] })],
        };
        var blanks = KeptLayouts.Pieces(plan.Layouts.Where(layout => numbers.Contains(layout.Number)));
        var gangs = single.ToDictionary(pair => pair.Value, pair => GangOptions.One(job, open.First(part => part.Id == pair.Key), 1), StringComparer.Ordinal);
        foreach (var old in plan.Job.Parts.Where(old => old.Gang is not null))
        {
            if (open.FirstOrDefault(part => part.Id == old.Gang!.Members[0].Part) is { } now)
            {
                gangs.TryAdd(old.Id, now with { Id = old.Id, Gang = old.Gang! with { Members = [.. old.Gang.Members.Select(member => member with { Asked = Asked(job, member.Part) })] } });
            }
        }

        foreach (var (id, gang) in gangs.Where(pair => blanks.ContainsKey(pair.Key)))
        {
            job = GangOptions.Beside(job, gang with { Gang = gang.Gang! with { Blanks = blanks[id] } });
        }

        return (job, plan);
    }

    /// <summary>Why blanks of this kind cannot stay; null: they can, or the part is no gang blank.</summary>
    internal static string? Problem(Job job, string id)
    {
        if (job.Parts.FirstOrDefault(part => part.Id == id) is not { Gang: { } gang, PerBlank: { } rule } part)
        {
            return null;
        }

        return rule.Counts.IsEmpty || rule.Counts.Contains(gang.Parts) || (gang.Rest && gang.Parts < rule.Counts[^1])
            ? gang.Members.Length == 2 && !string.Equals(gang.Members[1].Part, rule.With, StringComparison.OrdinalIgnoreCase) ? Say($"{id} is for two parts that no longer share their blanks")
                : GangOptions.Takes(job, part, gang.Rows, gang.Columns) ? null : Say($"{id} is larger than the mill takes now")
            : Say($"'per blank' of {gang.Members[0].Part} does not allow {gang.Parts} any more");
    }

    /// <summary>Parts of which the blanks that stay already give more pieces than are asked for.</summary>
    internal static IEnumerable<string> TooMany(Job job) => job.Parts.Where(part => part is { PerBlank: not null, Gang: null } && GangOptions.Left(job, part) < 0)
        .Select(part => Say($"the layouts that are to stay give {job.DemandOf(part) - GangOptions.Left(job, part)} of {part.Id}, and {job.DemandOf(part)} are wanted: let one of them go"));

    private static int Asked(Job job, string name) => job.Parts.FirstOrDefault(part => part.Gang is null && string.Equals(part.Id, name, StringComparison.OrdinalIgnoreCase)) is { } part ? Math.Max(1, job.DemandOf(part)) : 1;

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
