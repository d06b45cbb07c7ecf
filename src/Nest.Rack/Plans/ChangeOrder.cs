using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Rack.Database;

namespace Nest.Rack.Plans;

/// <summary>A part of a job against what a plan, and the plans whose rest it does, wanted and made of it.</summary>
/// <param name="Before">Wanted when the part was last planned; null: those plans do not know it.</param>
/// <param name="Now">Wanted by the job; 0: it is no part of it any more.</param>
/// <param name="Made">Good blanks of all these plans.</param>
/// <param name="Serving">Those of them that are large enough for the part as it is now.</param>
/// <param name="Was">Its shape then, where that is known and another; null: the same.</param>
public sealed record PartAgainst(string PartId, int? Before, int Now, int Made, int Serving, PartShape? Was)
{
    public int ToMake => Math.Max(0, Now - Serving);

    /// <summary>Made, and good, but no longer wanted.</summary>
    public int TooMany => Math.Max(0, Serving - Now);

    public int NoLongerFit => Made - Serving;

    /// <summary>Whether the job is another than the plan was made for.</summary>
    public bool Changed => Before != Now || Was is not null;
}

/// <summary>What a job still needs of a plan: the same job its rest, a changed one what is to add.</summary>
/// <remarks>A blank that was made serves when the part's shape is the same; else when the changed part, with its allowances, comes out
/// of it as it lies there (no kerf, no trim). With angled ends another shape never serves. Plans entered before racks kept shapes
/// know none: their blanks all count. O(parts · layouts of the plans).</remarks>
internal static class ChangeOrder
{
    /// <summary>Every part of the job, then those that only the plan knows.</summary>
    public static ImmutableArray<PartAgainst> Of(Db db, long planId, Job job)
    {
        var line = PlanRows.Line(db, planId);
        var known = new Dictionary<string, (string Name, int Total, PartShape? Shape)>(StringComparer.OrdinalIgnoreCase);
        var made = new Dictionary<string, List<(Blueprint Blueprint, int Count, PartShape? Shape)>>(StringComparer.OrdinalIgnoreCase);

        // From the first plan to the last: later ones know better.
        foreach (var id in line)
        {
            var wanted = PlanRows.Wanted(db, id);
            foreach (var part in wanted)
            {
                var before = made.GetValueOrDefault(part.PartId)?.Sum(blanks => blanks.Count) ?? 0;
                known[part.PartId] = (part.PartId, part.Told?.Total ?? before + part.Wanted, part.Told?.Shape);
            }

            var layouts = PlanRows.Layouts(db, id).ToDictionary(layout => layout.Id, layout => layout.Blueprint);
            foreach (var (part, layout, count) in PlanRows.Made(db, id))
            {
                if (!made.TryGetValue(part, out var blanks))
                {
                    made[part] = blanks = [];
                }

                blanks.Add((layouts[layout], count, known.TryGetValue(part, out var own) ? own.Shape : null));
            }
        }

        var all = job.Parts.Select(part =>
        {
            var shape = PartShape.Of(part);
            var blanks = made.GetValueOrDefault(part.Id) ?? [];
            var was = known.TryGetValue(part.Id, out var old) ? old : default;
            return new PartAgainst(
                part.Id, was.Name is null ? null : was.Total, job.DemandOf(part), blanks.Sum(one => one.Count),
                blanks.Where(one => one.Shape is null || one.Shape == shape || Serves(job, part, one.Blueprint)).Sum(one => one.Count),
                was.Shape is null || was.Shape == shape ? null : was.Shape);
        }).ToList();
        var dropped = known.Values.Where(old => !job.Parts.Any(part => string.Equals(part.Id, old.Name, StringComparison.OrdinalIgnoreCase)))
            .Select(old =>
            {
                var count = (made.GetValueOrDefault(old.Name) ?? []).Sum(one => one.Count);
                return new PartAgainst(old.Name, old.Total, 0, count, count, null);
            });
        return [.. all, .. dropped];
    }

    /// <summary>Whether the part comes out of the blank that this layout made under its name.</summary>
    private static bool Serves(Job job, Part part, Blueprint blueprint)
    {
        var made = blueprint.Pieces.First(piece => string.Equals(piece.PartId, part.Id, StringComparison.OrdinalIgnoreCase)).Area;
        var plate = !blueprint.Stock.Form.IsBar();
        var blank = blueprint.Stock with
        {
            Id = "made", RackMark = null, CutFor = null, Available = null, KeepOuts = [], CleanEdges = new(true, true, true, true),
            Length = made.SizeX, MinLength = made.SizeX,
            Width = plate ? made.SizeY : blueprint.Stock.Width, MinWidth = plate ? made.SizeY : blueprint.Stock.MinWidth,
        };
        return part.Ends is null
            && !BlankSizer.Size(job with { Stocks = [blank], Saws = [Saw.AtSupplier(blank)] }, part.Detail is null ? part with { Forms = Forms.Any } : part).Fits.IsEmpty;
    }
}
