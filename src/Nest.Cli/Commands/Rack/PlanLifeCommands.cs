using System.CommandLine;
using System.Globalization;
using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary>A plan's life on the rack: <c>nest reserve</c>, <c>ordered</c>, <c>receive</c>, <c>cut</c>, <c>miscut</c>, <c>replan</c>, <c>cancel</c>, <c>plans</c>.</summary>
internal static class PlanLifeCommands
{
    public static void Reserve(Command command, RackAccess access)
    {
        var file = new Argument<string>("plan") { Description = PlanPlace.Described };
        var again = new Option<bool>("--again") { Description = "The same plan once more, for another batch." };
        command.With(file, again);
        command.SetAction(parsed => ReadPlan(access, parsed.GetRequiredValue(file), plan => access.Run(parsed, !plan.Layouts.Any(layout => plan.StockOf(layout).IsLeftover), store =>
        {
            var id = store.Reserve(plan, parsed.GetValue(again));
            Taken(access, store, store.Plan(id));
            PlanPlace.MarkUsed(access.World, parsed.GetRequiredValue(file), $"reserved as {PlanNumber.Format(id)} on {store.Path}");
            return ExitCode.Done;
        })));
    }

    public static void Cut(Command command, RackAccess access)
    {
        var plan = PlanArgument();
        var layout = new Argument<int>("layout") { Description = "Number of the layout." };
        var count = new Option<int>("--count", "-n") { Description = "Stock pieces cut just now.", DefaultValueFactory = _ => 1, HelpName = "N" };
        var from = new Option<string[]>("--from") { Description = "Marks of the pieces taken, where whole stock stood on the rack.", HelpName = "MARK", AllowMultipleArgumentsPerToken = true };
        var spoiled = new Option<string[]>("--spoiled") { Description = "Blanks that were spoiled: 2:bracket.", HelpName = "N:PART" };
        var left = new Option<string[]>("--left") { Description = "Leftovers other than planned, of one stock piece: 300x200 (bar: 800).", HelpName = "SIZE" };
        var nothingLeft = new Option<bool>("--nothing-left") { Description = "No leftover came out, other than planned." };
        var fields = new CutFields();
        command.With(plan, layout, count, from, spoiled, left, nothingLeft);
        fields.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var lefts = fields.Leftovers(parsed, parsed.GetValue(left) ?? [], access.UnitOf(parsed));
            if (!lefts.IsEmpty && parsed.GetValue(nothingLeft))
            {
                return access.Refuse("--left and --nothing-left contradict each other", "say one of them");
            }

            var result = store.ConfirmCut(new CutEntry
            {
                PlanId = FilterOptions.PlanId(parsed.GetRequiredValue(plan)),
                Layout = parsed.GetValue(layout),
                Count = parsed.GetValue(count),
                From = [.. parsed.GetValue(from) ?? []],
                Spoiled = CutFields.Parts(parsed.GetValue(spoiled) ?? []),
                Leftovers = lefts.IsEmpty && !parsed.GetValue(nothingLeft) ? null : lefts,
                Heat = parsed.GetValue(fields.Heat) ?? "",
                Certificate = parsed.GetValue(fields.Certificate) ?? "",
                Place = parsed.GetValue(fields.Place),
                Batch = parsed.GetValue(fields.Batch) ?? "",
                Note = parsed.GetValue(fields.Note) ?? "",
            });
            return Report(access, parsed, store, result, FilterOptions.PlanId(parsed.GetRequiredValue(plan)), miscut: false, again: false);
        }));
    }

    public static void Miscut(Command command, RackAccess access)
    {
        var plan = PlanArgument();
        var layout = new Argument<int>("layout") { Description = "Number of the layout." };
        var what = new Argument<string>("what") { Description = "What happened." };
        var from = new Option<string?>("--from") { Description = "Mark of the piece taken, where whole stock stood on the rack.", HelpName = "MARK" };
        var made = new Option<string[]>("--made") { Description = "Good blanks all the same: 2:bracket.", HelpName = "N:PART" };
        var left = new Option<string[]>("--left") { Description = "Leftovers that go back to the rack: 300x200 (bar: 800).", HelpName = "SIZE" };
        var fields = new CutFields();
        command.With(plan, layout, what, from, made, left);
        fields.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var id = FilterOptions.PlanId(parsed.GetRequiredValue(plan));
            var number = parsed.GetValue(layout);
            var result = store.Miscut(new MiscutEntry
            {
                PlanId = id,
                Layout = number,
                Note = parsed.GetRequiredValue(what),
                From = parsed.GetValue(from),
                Made = CutFields.Parts(parsed.GetValue(made) ?? []),
                Leftovers = fields.Leftovers(parsed, parsed.GetValue(left) ?? [], access.UnitOf(parsed)),
                Heat = parsed.GetValue(fields.Heat) ?? "",
                Certificate = parsed.GetValue(fields.Certificate) ?? "",
                Place = parsed.GetValue(fields.Place),
                Batch = parsed.GetValue(fields.Batch) ?? "",
            });
            return Report(access, parsed, store, result, id, miscut: true, store.Plan(id).Layouts.Any(one => one.Number == number && one.Open > 0));
        }));
    }

    public static void Replan(Command command, RackAccess access)
    {
        var old = PlanArgument();
        var file = new Argument<string>("file") { Description = "Folder or plan file for what is missing, as 'nest plan --rest' writes it." };
        var changed = new Option<bool>("--changed") { Description = "The job was changed: the old plan may be all cut, and more is made." };
        command.With(old, file, changed);
        command.SetAction(parsed => ReadPlan(access, parsed.GetRequiredValue(file), plan => access.Run(parsed, false, store =>
        {
            var before = store.Plan(FilterOptions.PlanId(parsed.GetRequiredValue(old)));
            var now = store.Plan(store.Replan(before.Id, plan, parsed.GetValue(changed)));
            Taken(access, store, now);
            PlanPlace.MarkUsed(access.World, parsed.GetRequiredValue(file), $"reserved as {now.Number} on {store.Path}");
            var paid = store.PaidFor(now.Id);
            if (ChangeLines.TooMuch(paid, now.Layouts.Select(layout => layout.Mark)) is { Length: > 0 } tooMuch)
            {
                var again = paid.Select(piece => piece.StockId).Intersect(now.Purchases.Select(purchase => purchase.StockId), StringComparer.Ordinal).Any();
                access.World.Error.WriteLine($"note: bought too much: {tooMuch} came and is not needed by {now.Number}; it stays on the rack, paid for"
                    + (again ? $" — yet {now.Number} buys more of the same; if that is not wanted, undo this and plan the rest again, with more --seconds" : ""));
            }

            return ExitCode.Done;
        })));
    }

    public static void Cancel(Command command, RackAccess access)
    {
        var plan = PlanArgument();
        command.With(plan);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var before = store.Plan(FilterOptions.PlanId(parsed.GetRequiredValue(plan)));
            var freed = store.Cancel(before.Id);
            access.Changed(store, $"freed {RackText.Count(freed, "piece")}");
            if (before.Purchases.Any(purchase => purchase.ToCome > 0))
            {
                access.World.Error.WriteLine($"note: {before.Number} was to buy {RackedJob.ToCome(before)} that did not come: what is ordered all the same is entered with 'nest receive {before.Number}{RackAccess.Named(store)}'");
            }

            return ExitCode.Done;
        }));
    }

    private static int ReadPlan(RackAccess access, string path, Func<Plan, int> work)
    {
        var read = PlanFile.Read(PlanPlace.FileOf(access.World, path));
        Screen.Report(access.World.Error, read.Findings);
        if (read.Value is not { } plan)
        {
            return ExitCode.InputRefused;
        }

        var findings = PlanChecker.Check(plan);
        Screen.Report(access.World.Error, findings);
        return findings.HasErrors() ? ExitCode.CheckerRefused : work(plan);
    }

    /// <summary>What a plan took, and what it waits for.</summary>
    private static void Taken(RackAccess access, RackStore store, PlanRecord plan)
    {
        var marks = plan.Layouts.Select(layout => layout.Mark).OfType<string>().ToList();
        access.Changed(store, $"{plan.Number}: {RackText.Count(marks.Count, "piece")} of the rack reserved{(marks.Count == 0 ? "" : ": " + string.Join(' ', marks))}");
        if (plan.Purchases.Any(purchase => purchase.ToCome > 0))
        {
            access.World.Error.WriteLine($"to buy: {RackedJob.ToCome(plan)}; what comes is entered with 'nest receive {plan.Number}{RackAccess.Named(store)}'");
        }
    }

    private static int Report(RackAccess access, ParseResult parsed, RackStore store, CutResult result, long id, bool miscut, bool again)
    {
        foreach (var piece in result.Leftovers)
        {
            access.Say($"paint {piece.Mark} on {RackText.Size(piece, access.Format(parsed))} {piece.MaterialId}{(piece.Place.Length == 0 ? "" : ", to " + piece.Place)}");
        }

        if (!result.Leftovers.IsEmpty)
        {
            access.World.Error.WriteLine($"labels: nest rack labels labels.pdf {string.Join(' ', result.Leftovers.Select(piece => piece.Mark))}{RackAccess.Named(store)}");
        }

        var entered = result.Consumed.Where(mark => store.HistoryOf(mark) is [var first, ..] && first.Id == result.Change).ToList();
        if (entered.Count > 0)
        {
            access.World.Error.WriteLine(
                $"note: {string.Join(", ", entered)} {(entered.Count == 1 ? "was" : "were")} not entered as delivered, "
                + $"so {(entered.Count == 1 ? "it is" : "they are")} entered now as bought for {PlanNumber.Format(id)}; "
                + "if that is not what was cut, undo and name the piece with --from");
        }

        foreach (var mark in result.Consumed)
        {
            if (store.Show(mark) is { Bought: true, Heat.Length: 0 })
            {
                access.World.Error.WriteLine($"note: {mark} has no heat number; 'nest rack adjust {mark} --heat NUMBER{RackAccess.Named(store)}' enters it, also for what was cut from it");
                break;
            }
        }

        access.Changed(store, store.History(1)[0].Summary);
        var plan = PlanNumber.Format(id);
        if (result.State == PlanState.Finished)
        {
            access.World.Error.WriteLine($"{plan} is finished");
        }
        else if (miscut || result.State == PlanState.Incomplete)
        {
            var missing = string.Join(", ", store.Remaining(id).Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Missing} × {part.PartId}")));
            access.World.Error.WriteLine(
                (result.State == PlanState.Incomplete ? $"all layouts of {plan} are cut, but parts are missing: {missing}" : $"{plan} still has to make {missing}")
                + $" — plan the rest anew with 'nest plan JOB --rack {store.Path} --rest {plan}', then 'nest replan {plan} PLAN-FILE{RackAccess.Named(store)}'{(again ? ", or cut another piece for the same layout" : "")}");
        }

        return ExitCode.Done;
    }

    private static Argument<string> PlanArgument() => new("plan") { Description = "The plan's number: P7." };
}
