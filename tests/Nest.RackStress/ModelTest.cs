using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Database;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.RackStress;

/// <summary>Random operations on the rack and on a plain dictionary; after each both must say the same.</summary>
/// <remarks>The dictionary knows of a piece its state, place, length and plan. An undo puts back the dictionary as it was before the change;
/// only the newest change is undone, as often as wanted, and brought back right after, so that the model needs no rules of its own for
/// conflicts. What is gone (cut, scrapped, lost) and plans that are over are kept apart, and all are persistent dictionaries: a long run
/// keeps tens of thousands of earlier states.</remarks>
internal sealed class ModelTest : IDisposable
{
    // Leftovers and deliveries come in faster than one by one goes: without these limits the rack and with it each comparison would grow.
    private const int Most = 100;
    private const int MostOpen = 40;

    private readonly record struct Known(PieceState State, string Place, long Length, long? Plan);

    private readonly record struct KnownPlan(PlanState State, string Mark, bool LeftoverOpen, int PlatesOpen, int PartsMissing, int Came, ImmutableList<string> Kept);

    /// <param name="Here">On the rack, by mark.</param>
    /// <param name="Open">Plans that can still be cut.</param>
    private sealed record Snapshot(
        ImmutableSortedDictionary<string, Known> Here,
        ImmutableDictionary<string, Known> Gone,
        ImmutableSortedDictionary<long, KnownPlan> Open,
        ImmutableDictionary<long, KnownPlan> Over)
    {
        public static Snapshot Empty { get; } = new(
            ImmutableSortedDictionary.Create<string, Known>(StringComparer.Ordinal),
            ImmutableDictionary.Create<string, Known>(StringComparer.Ordinal), ImmutableSortedDictionary<long, KnownPlan>.Empty, ImmutableDictionary<long, KnownPlan>.Empty);

        public Snapshot With(string mark, Known piece) => piece.State is PieceState.OnRack or PieceState.Reserved
            ? this with { Here = Here.SetItem(mark, piece), Gone = Gone.Remove(mark) }
            : this with { Here = Here.Remove(mark), Gone = Gone.SetItem(mark, piece) };

        public Snapshot With(long id, KnownPlan plan) => plan.State is PlanState.Reserved or PlanState.Cutting
            ? this with { Open = Open.SetItem(id, plan), Over = Over.Remove(id) }
            : this with { Open = Open.Remove(id), Over = Over.SetItem(id, plan) };
    }

    private readonly RackStore store;
    private readonly Random random;
    private readonly Stack<(long Change, Snapshot Before)> undoable = new();
    private (long Undo, long Change, Snapshot Before, Snapshot After)? undone;
    private Snapshot model = Snapshot.Empty;

    public ModelTest(string path, int seed)
    {
        random = new(seed);
        store = RackStore.Open(path, new RackOptions { Durable = false });
        store.Learn([SamplePlans.Aluminium, SamplePlans.Steel]);
    }

    /// <summary>Operations by name, as they were done.</summary>
    public SortedDictionary<string, int> Done { get; } = new(StringComparer.Ordinal);

    /// <returns>What differs; null when nothing does.</returns>
    public string? Run(int operations, Action<string>? progress = null)
    {
        for (var i = 1; i <= operations; i++)
        {
            var name = Step();
            Done[name] = Done.GetValueOrDefault(name) + 1;
            var deep = i % 1000 == 0 || i == operations;
            if (Difference(deep) is { } difference)
            {
                return string.Create(CultureInfo.InvariantCulture, $"after operation {i} ({name}): {difference}");
            }

            if (i % 10_000 == 0)
            {
                progress?.Invoke(string.Create(CultureInfo.InvariantCulture, $"{i} operations, {model.Here.Count + model.Gone.Count} pieces"));
            }
        }

        return null;
    }

    public void Dispose() => store.Dispose();

    private string Step()
    {
        var here = model.Here.Keys.ToList();
        var free = here.Where(mark => model.Here[mark].State == PieceState.OnRack).ToList();
        var open = model.Open.Keys.ToList();
        switch (random.Next(15))
        {
            case 0 or 1 when here.Count < 3 * Most:
                return Changing("add", () =>
                {
                    var added = store.Add(new RackPiece
                    {
                        Form = Form.Plate, MaterialId = SamplePlans.Aluminium.Id, Length = SamplePlans.Mm(300 + random.Next(300)),
                        Width = SamplePlans.Mm(200 + random.Next(100)), Thickness = SamplePlans.Mm(10),
                    });
                    model = model.With(added.Mark, new Known(PieceState.OnRack, "", added.Length.Nanometres, null));
                });
            case 2 when here.Count > 0:
                return Changing("move", () =>
                {
                    var mark = Any(here);
                    var place = string.Create(CultureInfo.InvariantCulture, $"S{random.Next(9)}");
                    store.Move([mark], place);
                    model = model.With(mark, model.Here[mark] with { Place = place });
                });
            case 3 when free.Count > 0:
                return Changing("adjust", () =>
                {
                    var mark = Any(free);
                    var length = SamplePlans.Mm(300 + random.Next(300));
                    if (length.Nanometres != model.Here[mark].Length)
                    {
                        store.Adjust(mark, new() { Length = length });
                        model = model.With(mark, model.Here[mark] with { Length = length.Nanometres });
                    }
                });
            case 4 when here.Count > Most / 2:
                var unwanted = Any(here);
                if (model.Here[unwanted].State == PieceState.Reserved)
                {
                    return Refused("scrap reserved", () => store.Scrap([unwanted], ""));
                }

                return Changing("scrap", () =>
                {
                    string[] thinned = [unwanted, .. free.Where(mark => mark != unwanted).Skip(Most / 2).Where(_ => random.Next(2) == 0)];
                    store.Scrap(thinned, "");
                    foreach (var mark in thinned)
                    {
                        model = model.With(mark, model.Here[mark] with { State = PieceState.Scrapped });
                    }
                });
            case 5 or 6 when here.Count > 0 && open.Count < MostOpen:
                var wanted = Any(here);
                var plan = PlanOn(store.Show(wanted));
                if (model.Here[wanted].State == PieceState.Reserved)
                {
                    return Refused("reserve reserved", () => store.Reserve(plan, again: true));
                }

                return Changing("reserve", () =>
                {
                    var id = store.Reserve(plan, again: true);
                    model = model.With(wanted, model.Here[wanted] with { State = PieceState.Reserved, Plan = id })
                        .With(id, new KnownPlan(PlanState.Reserved, wanted, true, 2, 10, 0, []));
                });
            case 7 or 8 when open.Count > 0:
                return Cut(Any(open));
            case 5 or 6 or 9 when open.Count > 0:
                return Changing("cancel", () =>
                {
                    var id = Any(open);
                    store.Cancel(id);
                    var known = model.Open[id];
                    if (known.LeftoverOpen)
                    {
                        model = model.With(known.Mark, model.Here[known.Mark] with { State = PieceState.OnRack, Plan = null });
                    }

                    Free(known.Kept);
                    model = model.With(id, known with { State = PlanState.Cancelled, Kept = [] });
                });
            case 12 when open.Count > 0:
                return Receive(Any(open));
            case 10 or 11 when undoable.Count > 0:
                var (change, before) = undoable.Pop();
                var after = model;
                store.Undo(change);
                model = before;
                undone = (Newest(), change, before, after);
                return "undo";
            case 13 when undone is { } last:
                store.Undo(last.Undo);
                undoable.Push((last.Change, last.Before));
                (model, undone) = (last.After, null);
                return "undo of an undo";
            case 14 when here.Count > 0:
                return Count(model.Here[Any(here)].Place);
            default:
                return "nothing";
        }
    }

    /// <summary>The plan buys two plates; what comes is kept for it as far as it still cuts them.</summary>
    private string Receive(long id)
    {
        var plan = model.Open[id];
        if (plan.Came >= 2)
        {
            return Refused("receive too many", () => store.Receive(new ReceiveEntry { PlanId = id }));
        }

        int? count = random.Next(2) == 0 ? 1 : null;
        return Changing("receive", () =>
        {
            var kept = plan.Kept;
            foreach (var one in store.Receive(new ReceiveEntry { PlanId = id, Count = count, Place = "bay" }).Pieces)
            {
                var keep = kept.Count < plan.PlatesOpen;
                kept = keep ? kept.Add(one.Piece.Mark) : kept;
                model = model.With(one.Piece.Mark, new Known(keep ? PieceState.Reserved : PieceState.OnRack, "bay", SamplePlans.Mm(600).Nanometres, keep ? id : null));
            }

            model = model.With(id, plan with { Came = plan.Came + (count ?? (2 - plan.Came)), Kept = kept });
        });
    }

    /// <summary>Counts a place and what begins like it: one free piece may be missing, one may stand elsewhere, one that was lost or thrown away may
    /// be there again.</summary>
    private string Count(string place)
    {
        long id = 0;
        var there = model.Here.Where(pair => pair.Value.Place.StartsWith(place, StringComparison.OrdinalIgnoreCase)).ToList();
        var missing = random.Next(2) == 0 ? null : there.Where(pair => pair.Value.State == PieceState.OnRack).Select(pair => pair.Key).FirstOrDefault();
        var found = there.Where(pair => pair.Key != missing).Select(pair => (Mark: pair.Key, Place: random.Next(5) == 0 ? "S10" : "")).ToList();
        if (random.Next(4) == 0 && model.Gone.FirstOrDefault(pair => pair.Value.State is PieceState.Lost or PieceState.Scrapped).Key is { } again)
        {
            found.Add((again, "S11"));
        }

        Changing("count", () => id = store.StartCount(place));
        Changing("count", () => store.EnterFound(id, found));
        return Changing("count", () =>
        {
            store.ApplyCount(id, allMissing: true);
            foreach (var (mark, at) in found)
            {
                var known = model.Here.TryGetValue(mark, out var here) ? here : model.Gone[mark] with { State = PieceState.OnRack };
                model = model.With(mark, known with { Place = at.Length == 0 ? known.Place : at });
            }

            if (missing is not null)
            {
                model = model.With(missing, model.Here[missing] with { State = PieceState.Lost });
            }
        });
    }

    private void Free(IEnumerable<string> marks)
    {
        foreach (var mark in marks)
        {
            model = model.With(mark, model.Here[mark] with { State = PieceState.OnRack, Plan = null });
        }
    }

    private string Cut(long id)
    {
        var plan = model.Open[id];
        var leftover = plan.LeftoverOpen && (plan.PlatesOpen == 0 || random.Next(2) == 0);
        var layout = leftover ? 1 : 2;
        if (!leftover && plan.PlatesOpen == 0)
        {
            return Refused("cut too many", () => store.ConfirmCut(id, layout));
        }

        var miscut = random.Next(4) == 0;
        return Changing(miscut ? "miscut" : "cut", () =>
        {
            var result = miscut ? store.Miscut(new MiscutEntry { PlanId = id, Layout = layout, Note = "slipped" }) : store.ConfirmCut(id, layout);
            if (!leftover && plan.Kept is [var oldest, ..] && result.Consumed[0] != oldest)
            {
                throw new InvalidOperationException($"{result.Consumed[0]} was cut, though {oldest} came for the plan.");
            }

            foreach (var mark in result.Consumed)
            {
                var length = model.Here.TryGetValue(mark, out var known) ? known.Length : SamplePlans.Mm(600).Nanometres;
                model = model.With(mark, new Known(PieceState.Cut, known.Place ?? "", length, null));
            }

            foreach (var left in result.Leftovers)
            {
                if (model.Here.ContainsKey(left.Mark) || model.Gone.ContainsKey(left.Mark))
                {
                    throw new InvalidOperationException($"The mark {left.Mark} was given twice.");
                }

                model = model.With(left.Mark, new Known(PieceState.OnRack, left.Place, left.Length.Nanometres, null));
            }

            var missing = plan.PartsMissing - (miscut ? 0 : leftover ? 2 : 4);
            var (leftoverOpen, plates) = leftover ? (false, plan.PlatesOpen) : (plan.LeftoverOpen, plan.PlatesOpen - (miscut ? 0 : 1));
            var state = leftoverOpen || plates > 0 ? PlanState.Cutting : missing > 0 ? PlanState.Incomplete : PlanState.Finished;
            model = model.With(id, plan with
            {
                LeftoverOpen = leftoverOpen,
                PlatesOpen = plates,
                PartsMissing = missing,
                State = state,
                Came = plan.Came + (leftover || plan.Kept.Count > 0 ? 0 : 1),
                Kept = leftover || plan.Kept.IsEmpty ? plan.Kept : plan.Kept.RemoveAt(0),
            });
        });
    }

    private string Changing(string name, Action change)
    {
        var before = model;
        var last = Newest();
        change();
        var now = Newest();
        if (now != last)
        {
            undoable.Push((now, before));
            undone = null;
        }

        return name;
    }

    private static string Refused(string name, Action change)
    {
        try
        {
            change();
        }
        catch (RackException fault) when (fault.Fault == RackFault.Refused)
        {
            return name + " refused";
        }

        throw new InvalidOperationException($"The rack should have refused: {name}.");
    }

    private long Newest() => store.History(1) is [var newest, ..] ? newest.Id : 0;

    private string? Difference(bool deep)
    {
        // What undo must never give again is left out of the comparison: marks of entries that were taken back.
        var listed = store.List(new() { States = deep ? [.. Enum.GetValues<PieceState>()] : [PieceState.OnRack, PieceState.Reserved] });
        var expected = model.Here.Count + (deep ? model.Gone.Count : 0);
        if (listed.Length != expected)
        {
            return string.Create(CultureInfo.InvariantCulture, $"the rack lists {listed.Length} pieces, the model {expected}");
        }

        foreach (var piece in listed)
        {
            var found = new Known(piece.State, piece.Place, piece.Length.Nanometres, piece.ReservedFor);
            if (!(model.Here.TryGetValue(piece.Mark, out var known) || model.Gone.TryGetValue(piece.Mark, out known)) || known != found)
            {
                return $"{piece.Mark} is {found}, the model has {known}";
            }
        }

        if (!deep)
        {
            return null;
        }

        var states = store.Plans().ToDictionary(plan => plan.Id, plan => plan.State);
        return states.Count != model.Open.Count + model.Over.Count
            || model.Open.Concat(model.Over).Any(plan => states.GetValueOrDefault(plan.Key) != plan.Value.State)
            ? "the plans differ"
            : store.Check().FirstOrDefault();
    }

    private T Any<T>(List<T> list) => list[random.Next(list.Count)];

    private static Core.Plans.Plan PlanOn(RackPiece piece)
    {
        var part = SamplePlans.Part("bracket", "6061-T651", 120, 80, 10, 10);
        var leftover = piece.ToStock(piece.Value);
        var plate = SamplePlans.Plate("plate", 600, 300, 10, 40);
        var job = SamplePlans.Job("random", [part], [leftover, plate]);
        return SamplePlans.Plan(job, SamplePlans.Grid(job, leftover, 1, 1, part, FitsTwo(piece), 2 / FitsTwo(piece)), SamplePlans.Grid(job, plate, 2, 2, part, 2, 2));
    }

    private static int FitsTwo(RackPiece piece) => piece.Length >= SamplePlans.Mm(260) ? 2 : 1;
}
