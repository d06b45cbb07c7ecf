using System.Globalization;
using System.Text;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Database;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.RackStress;

/// <summary>A process that adds, reserves, receives, cuts, miscuts, cancels, moves, scraps and undoes at random, and says so after each change.</summary>
/// <remarks>A line on its output is written only after the store has returned: what was said must be on the rack afterwards.
/// Lines: <c>change id</c>, then what the change promises.</remarks>
internal static class Worker
{
    /// <param name="dawdle">Longest pause inside a transaction before it is committed, in milliseconds; makes kills fall there.</param>
    /// <returns>0 done; 3 when the rack was in use for longer than the wait.</returns>
    public static int Run(string path, int seed, int operations, int dawdle, TimeSpan wait, Stream output)
    {
        var random = new Random(seed);
        var options = new RackOptions
        {
            Who = string.Create(CultureInfo.InvariantCulture, $"worker {seed}"),
            Wait = wait,

            // A transaction that dawdles has then half of its pages in the file: only the journal can take them out again.
            CachePages = dawdle == 0 ? null : 2,
            BeforeCommit = dawdle == 0 ? null : () => Thread.Sleep(random.Next(dawdle + 1)),
        };
        using var store = RackStore.Open(path, options);
        store.Learn([SamplePlans.Aluminium, SamplePlans.Steel]);
        Say("ready");
        for (var i = 0; i < operations; i++)
        {
            try
            {
                Say(Step(store, random, seed));
            }
            catch (RackException fault) when (fault.Fault == RackFault.Refused)
            {
                // Another process was faster, or there is nothing to do: a clear refusal is an answer.
                Say("refused");
            }
            catch (RackException fault) when (fault.Fault == RackFault.InUse)
            {
                Say("inuse");
                return 3;
            }
        }

        return 0;

        void Say(string line)
        {
            output.Write(Encoding.UTF8.GetBytes(line + "\n"));
            output.Flush();
        }
    }

    private static string Step(RackStore store, Random random, int seed)
    {
        switch (random.Next(11))
        {
            case 0 or 1 or 2:
                var added = store.Add(new RackPiece
                {
                    Form = Form.Plate,
                    MaterialId = SamplePlans.Aluminium.Id,
                    Length = SamplePlans.Mm(300 + random.Next(400)),
                    Width = SamplePlans.Mm(200 + random.Next(200)),
                    Thickness = SamplePlans.Mm(10),
                    Value = Money.FromAmount(10),
                    Heat = string.Create(CultureInfo.InvariantCulture, $"H{seed}"),
                });
                return $"added {added.Mark}";
            case 3 or 4:
                var free = store.List(new() { States = [PieceState.OnRack], Holds = [SamplePlans.Mm(260), SamplePlans.Mm(100)] });
                if (free.Length == 0)
                {
                    return "nothing";
                }

                var piece = free[random.Next(free.Length)];
                return $"reserved {PlanNumber.Format(store.Reserve(PlanOn(piece), again: true))} {piece.Mark}";
            case 5 or 6:
                var open = store.Plans().Where(plan => plan.State is PlanState.Reserved or PlanState.Cutting).ToList();
                if (open.Count == 0)
                {
                    return "nothing";
                }

                var chosen = open[random.Next(open.Count)];
                var layouts = store.Plan(chosen.Id).Layouts.Where(layout => layout.Open > 0).ToList();
                if (layouts.Count == 0)
                {
                    return "nothing";
                }

                var layout = layouts[random.Next(layouts.Count)];
                var cut = random.Next(5) == 0
                    ? store.Miscut(new MiscutEntry { PlanId = chosen.Id, Layout = layout.Number, Note = "slipped" })
                    : store.ConfirmCut(chosen.Id, layout.Number);
                return $"cut {string.Join(' ', cut.Consumed)} left {string.Join(' ', cut.Leftovers.Select(left => left.Mark))}";
            case 10:
                var waiting = store.Plans().Where(plan => plan.State is PlanState.Reserved or PlanState.Cutting)
                    .Select(plan => store.Plan(plan.Id)).FirstOrDefault(plan => plan.Purchases.Any(purchase => purchase.ToCome > 0));
                if (waiting is null)
                {
                    return "nothing";
                }

                var received = store.Receive(new ReceiveEntry { PlanId = waiting.Id, Count = 1, Heat = string.Create(CultureInfo.InvariantCulture, $"H{seed}") });
                return $"received {string.Join(' ', received.Pieces.Select(one => one.Piece.Mark))}";
            case 7:
                var any = store.List(new());
                if (any.Length == 0)
                {
                    return "nothing";
                }

                var moved = any[random.Next(any.Length)].Mark;
                var place = string.Create(CultureInfo.InvariantCulture, $"S{random.Next(20)}");
                store.Move([moved], place);
                return $"moved {moved}";
            case 8:
                var plans = store.Plans().Where(plan => plan.State == PlanState.Reserved).ToList();
                if (plans.Count == 0)
                {
                    return "nothing";
                }

                var cancelled = plans[random.Next(plans.Count)].Id;
                store.Cancel(cancelled);
                return $"cancelled {PlanNumber.Format(cancelled)}";
            default:
                var newest = store.History(5).FirstOrDefault(change => change.UndoneBy is null && change.Undoes is null && change.Kind != "materials");
                return newest is null ? "nothing" : string.Create(CultureInfo.InvariantCulture, $"undid {store.Undo(newest.Id).Id}");
        }
    }

    private static Core.Plans.Plan PlanOn(RackPiece piece)
    {
        var part = SamplePlans.Part("bracket", "6061-T651", 120, 80, 10, 6);
        var leftover = piece.ToStock(piece.Value);
        var plate = SamplePlans.Plate("plate", 600, 300, 10, 40);
        var job = SamplePlans.Job("random", [part], [leftover, plate]);
        return SamplePlans.Plan(job, SamplePlans.Grid(job, leftover, 1, 1, part, 2, 1), SamplePlans.Grid(job, plate, 2, 2, part, 2, 2));
    }
}
