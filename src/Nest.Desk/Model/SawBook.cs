using System.Runtime.CompilerServices;
using Nest.Core.Plans;
using Nest.Output.Tablet;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Desk.Model;

/// <summary>A tick as a device tells it.</summary>
/// <param name="Id">128 bits in hex, made by the device: a tick that is told twice counts once.</param>
/// <param name="Add">How many more were done; below zero: fewer.</param>
internal sealed record Tick(string Id, string Step, int Add);

/// <summary>What a device is told.</summary>
/// <param name="Counts">All steps that were counted.</param>
/// <param name="Notes">By step: the marks that the rack gave to its offcut.</param>
/// <param name="Messages">What the person should know of the ticks just told.</param>
internal sealed record TickAnswer(IReadOnlyDictionary<string, int> Counts, IReadOnlyDictionary<string, string> Notes, IReadOnlyList<string> Messages);

/// <summary>Books what devices tell from the saw: each tick once, however often it comes. Whole stock pieces of a plan that is on the rack are booked there,
/// in one transaction with the tick's name; all else is kept in the plan's <see cref="TickFile"/>.</summary>
internal sealed class SawBook(Shop shop, Plans plans, TimeProvider time)
{
    /// <summary>Ticks that one request may bring.</summary>
    public const int MostTicks = 200;

    private readonly Lock _gate = new();
    private readonly Dictionary<string, TickFile> _files = new(StringComparer.Ordinal);
    private readonly ConditionalWeakTable<Plan, IReadOnlyDictionary<string, TabletCount>> _steps = [];

    /// <summary>The signed plan of a job, when it has this mark; null: another plan is signed, or none.</summary>
    public Plan? Signed(string job, string mark) =>
        shop.Job(job) is { } folder && plans.Saved(folder)?.Plan is { } plan && Fingerprint.Of(plan) == mark ? plan : null;

    /// <summary>The plan on the shop's rack that is cut; null: it is not there.</summary>
    public PlanRecord? OnRack(Plan plan)
    {
        if (!File.Exists(shop.RackFile))
        {
            return null;
        }

        using var rack = RackStore.Open(shop.RackFile, new() { Clock = time });
        return rack.Find(plan) is { State: not PlanState.Planned } record ? record : null;
    }

    /// <summary>Takes ticks and tells how far the plan is.</summary>
    /// <exception cref="RackException">The rack is held by another program, or cannot be written: the ticks that are not in the answer are to be told again.</exception>
    public TickAnswer Take(Plan plan, IReadOnlyList<Tick> ticks, string device)
    {
        var steps = _steps.GetValue(plan, one => TabletServed.Counted(one, new() { Work = plans.WorkOf(one) }));
        lock (_gate)
        {
            var file = FileOf(Fingerprint.Of(plan));
            var record = OnRack(plan);
            var messages = new List<string>();
            foreach (var tick in ticks)
            {
                if (!IsName(tick.Id) || file.Knows(tick.Id) || !steps.TryGetValue(tick.Step ?? "", out var step))
                {
                    continue;
                }

                if (step.Finishes > 0 && record is not null)
                {
                    record = Book(plan, record, step.Finishes, tick, file, messages);
                }
                else
                {
                    // Two devices may have counted the same last cut: more than there are cannot be done.
                    var now = file.Count(tick.Step!);
                    file.Add(tick.Id, tick.Step!, (int)Math.Clamp((long)now + tick.Add, 0, step.Most) - now, device, time.GetUtcNow());
                }
            }

            file.Keep();
            return new(Counts(file, steps, record), file.Notes, messages);
        }
    }

    private PlanRecord Book(Plan plan, PlanRecord record, int layout, Tick tick, TickFile file, List<string> messages)
    {
        if (tick.Add <= 0)
        {
            messages.Add($"Layout {layout} is booked on the rack as {record.Number}: take that back at the desk (Rack, History).");
            return record;
        }

        using var rack = RackStore.Open(shop.RackFile, new() { Clock = time });
        var open = record.Layouts.FirstOrDefault(one => one.Number == layout)?.Open ?? 0;
        try
        {
            if (rack.ConfirmCut(new() { PlanId = record.Id, Layout = layout, Count = Math.Max(1, Math.Min(tick.Add, open)), Note = "counted at the saw" }, tick.Id) is { } booked)
            {
                messages.Add($"Layout {layout} is booked on the rack.");
                Told(plan, layout, booked, file, messages);
            }
        }
        catch (RackException refused) when (refused.Fault == RackFault.Refused)
        {
            messages.Add($"Layout {layout} is not booked: {RackRoom.Words(refused)}");
        }

        return rack.Plan(record.Id);
    }

    private void Told(Plan plan, int number, CutResult booked, TickFile file, List<string> messages)
    {
        var kept = plan.Layouts.First(layout => layout.Number == number).Offcuts.Count(offcut => offcut.Keep);
        for (var at = 0; at < booked.Leftovers.Length && kept > 0; at++)
        {
            file.AddNote(FormattableString.Invariant($"o{number}-{(at % kept) + 1}"), booked.Leftovers[at].Mark, time.GetUtcNow());
        }

        if (!booked.Leftovers.IsEmpty)
        {
            messages.Add($"Write on what is left: {string.Join(", ", booked.Leftovers.Select(piece => piece.Mark))}.");
        }
    }

    private static Dictionary<string, int> Counts(TickFile file, IReadOnlyDictionary<string, TabletCount> steps, PlanRecord? record)
    {
        var counts = new Dictionary<string, int>(file.Counts, StringComparer.Ordinal);
        foreach (var (id, step) in steps.Where(step => step.Value.Finishes > 0 && record is not null))
        {
            // The rack's word counts, wherever a cut was booked or taken back.
            counts[id] = record!.Layouts.FirstOrDefault(layout => layout.Number == step.Finishes) is { } layout ? Math.Max(0, layout.Count - layout.Open) : 0;
        }

        return counts;
    }

    private TickFile FileOf(string mark)
    {
        if (!_files.TryGetValue(mark, out var file))
        {
            _files[mark] = file = new(Path.Combine(Shop.DataFolder(shop.Folder), "ticks", mark + ".jsonl"));
        }

        return file;
    }

    private static bool IsName(string? id) => id is { Length: 32 } && id.All(char.IsAsciiHexDigitLower);
}
