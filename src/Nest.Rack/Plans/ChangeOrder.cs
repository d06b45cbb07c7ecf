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
        var made = new Dictionary<string, List<MadeBlanks>>(StringComparer.OrdinalIgnoreCase);
        job = StoredGang.Named(job);

        // From the first plan to the last: later ones know better.
        foreach (var id in line)
        {
            var wanted = PlanRows.Wanted(db, id);
            foreach (var part in wanted)
            {
                foreach (var (name, _, asked) in StoredGang.MembersOf(part.PartId, part.Told?.Gang, part.Told?.Total ?? part.Wanted))
                {
                    var before = part.Told is null ? made.GetValueOrDefault(name)?.Sum(blanks => blanks.Count) ?? 0 : 0;
                    known[name] = (name, before + asked, part.Told?.Shape);
                }
            }

            var told = wanted.ToDictionary(part => part.PartId, part => part.Told, StringComparer.OrdinalIgnoreCase);
            var layouts = PlanRows.Layouts(db, id).ToDictionary(layout => layout.Id, layout => layout.Blueprint);
            foreach (var (blank, layout, count) in PlanRows.Made(db, id))
            {
                var own = told.GetValueOrDefault(blank);
                foreach (var (name, each, _) in StoredGang.MembersOf(blank, own?.Gang, 0))
                {
                    if (!made.TryGetValue(name, out var blanks))
                    {
                        made[name] = blanks = [];
                    }

                    blanks.Add(new(layouts[layout], blank, count * each, own?.Shape, own?.Gang));
                }
            }
        }

        var all = job.Parts.Select(part =>
        {
            var shape = PartShape.Of(part);
            var blanks = made.GetValueOrDefault(part.Id) ?? [];
            var was = known.TryGetValue(part.Id, out var old) ? old : default;
            return new PartAgainst(
                part.Id, was.Name is null ? null : was.Total, job.DemandOf(part), blanks.Sum(one => one.Count),
                blanks.Where(one => one.Shape is null || one.Shape == shape || Serves(job, part, one)).Sum(one => one.Count),
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

    /// <summary>Good blanks that a layout made.</summary>
    /// <param name="Blank">What they are called in that plan.</param>
    /// <param name="Count">Parts, not blanks.</param>
    /// <param name="Shape">Of one part; null: not known.</param>
    /// <param name="Gang">The parts in each blank; null: one.</param>
    private sealed record MadeBlanks(Blueprint Blueprint, string Blank, int Count, PartShape? Shape, StoredGang? Gang);

    /// <summary>Whether the part comes out of the blank that this layout made under its name, so many as were to come out of it.</summary>
    private static bool Serves(Job job, Part part, MadeBlanks one)
    {
        var blueprint = one.Blueprint;
        var made = blueprint.Pieces.First(piece => string.Equals(piece.PartId, one.Blank, StringComparison.OrdinalIgnoreCase)).Area;
        var plate = !blueprint.Stock.Form.IsBar();
        var blank = blueprint.Stock with
        {
            Id = "made",
            RackMark = null,
            CutFor = null,
            Available = null,
            KeepOuts = [],
            CleanEdges = new(true, true, true, true),
            Length = made.SizeX,
            MinLength = made.SizeX,
            Width = plate ? made.SizeY : blueprint.Stock.Width,
            MinWidth = plate ? made.SizeY : blueprint.Stock.MinWidth,
        };
        var wanted = one.Gang?.From(part) ?? part;
        return part.Ends is null
            && !BlankSizer.Size(job with { Stocks = [blank], Saws = [Saw.AtSupplier(blank)] }, part.Detail is null ? wanted with { Forms = Forms.Any } : wanted).Fits.IsEmpty;
    }
}
