using System.CommandLine;
using System.Globalization;
using Nest.Core.Check;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary>A plan's life on the rack: <c>nest reserve</c>, <c>cut</c>, <c>miscut</c>, <c>replan</c>, <c>cancel</c>, <c>plans</c>.</summary>
internal static class PlanLifeCommands
{
    public static IEnumerable<Command> Create(World world)
    {
        var access = new RackAccess(world);
        foreach (var command in new[] { Reserve(access), Cut(access), Miscut(access), Replan(access), Cancel(access), Plans(access) })
        {
            yield return access.On(command);
        }
    }

    private static Command Reserve(RackAccess access)
    {
        var file = new Argument<string>("plan") { Description = "A plan file that 'nest plan' wrote." };
        var again = new Option<bool>("--again") { Description = "The same plan once more, for another batch." };
        var command = new Command("reserve", "Take a plan's leftovers for it alone.") { file, again };
        command.SetAction(parsed => ReadPlan(access, parsed.GetRequiredValue(file), plan => access.Run(parsed, true, store =>
        {
            var id = store.Reserve(plan, parsed.GetValue(again));
            access.Changed(store, PlanNumber.Format(id));
            return ExitCode.Done;
        })));
        return command;
    }

    private static Command Cut(RackAccess access)
    {
        var plan = PlanArgument();
        var layout = new Argument<int>("layout") { Description = "Number of the layout." };
        var count = new Option<int>("--count", "-n") { Description = "Stock pieces cut just now.", DefaultValueFactory = _ => 1, HelpName = "N" };
        var from = new Option<string[]>("--from") { Description = "Marks of the pieces taken, where whole stock stood on the rack.", HelpName = "MARK", AllowMultipleArgumentsPerToken = true };
        var spoiled = new Option<string[]>("--spoiled") { Description = "Blanks that were spoiled: 2:bracket.", HelpName = "N:PART" };
        var left = new Option<string[]>("--left") { Description = "Leftovers other than planned, of one stock piece: 300x200 (bar: 800).", HelpName = "SIZE" };
        var nothingLeft = new Option<bool>("--nothing-left") { Description = "No leftover came out, other than planned." };
        var fields = new CutFields();
        var command = new Command("cut", "Book that pieces of a layout were cut; leftovers get their marks.") { plan, layout, count, from, spoiled, left, nothingLeft };
        fields.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var lefts = CutFields.Leftovers(parsed.GetValue(left) ?? [], access.UnitOf(parsed));
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
            return Report(access, parsed, store, result);
        }));
        return command;
    }

    private static Command Miscut(RackAccess access)
    {
        var plan = PlanArgument();
        var layout = new Argument<int>("layout") { Description = "Number of the layout." };
        var what = new Argument<string>("what") { Description = "What happened." };
        var from = new Option<string?>("--from") { Description = "Mark of the piece taken, where whole stock stood on the rack.", HelpName = "MARK" };
        var made = new Option<string[]>("--made") { Description = "Good blanks all the same: 2:bracket.", HelpName = "N:PART" };
        var left = new Option<string[]>("--left") { Description = "Leftovers that go back to the rack: 300x200 (bar: 800).", HelpName = "SIZE" };
        var fields = new CutFields();
        var command = new Command("miscut", "Book a stock piece that went wrong, and what was saved of it.") { plan, layout, what, from, made, left };
        fields.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store => Report(access, parsed, store, store.Miscut(new MiscutEntry
        {
            PlanId = FilterOptions.PlanId(parsed.GetRequiredValue(plan)),
            Layout = parsed.GetValue(layout),
            Note = parsed.GetRequiredValue(what),
            From = parsed.GetValue(from),
            Made = CutFields.Parts(parsed.GetValue(made) ?? []),
            Leftovers = CutFields.Leftovers(parsed.GetValue(left) ?? [], access.UnitOf(parsed)),
            Heat = parsed.GetValue(fields.Heat) ?? "",
            Certificate = parsed.GetValue(fields.Certificate) ?? "",
            Place = parsed.GetValue(fields.Place),
            Batch = parsed.GetValue(fields.Batch) ?? "",
        }))));
        return command;
    }

    private static Command Replan(RackAccess access)
    {
        var old = PlanArgument();
        var file = new Argument<string>("file") { Description = "Plan file for what is missing, as 'nest plan --rest' writes it." };
        var command = new Command("replan", "Put a new plan ('nest plan --rest') in the place of what is not cut of an old one.") { old, file };
        command.SetAction(parsed => ReadPlan(access, parsed.GetRequiredValue(file), plan => access.Run(parsed, false, store =>
        {
            var id = store.Replan(FilterOptions.PlanId(parsed.GetRequiredValue(old)), plan);
            access.Changed(store, PlanNumber.Format(id));
            return ExitCode.Done;
        })));
        return command;
    }

    private static Command Cancel(RackAccess access)
    {
        var plan = PlanArgument();
        var command = new Command("cancel", "Give a plan up: what it reserved and did not cut is free again.") { plan };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var freed = store.Cancel(FilterOptions.PlanId(parsed.GetRequiredValue(plan)));
            access.Changed(store, $"freed {RackText.Count(freed, "leftover")}");
            return ExitCode.Done;
        }));
        return command;
    }

    private static Command Plans(RackAccess access)
    {
        var plan = new Argument<string?>("plan") { Description = "A plan's number; none: all plans.", Arity = ArgumentArity.ZeroOrOne };
        var command = new Command("plans", "Show plans: planned, reserved, cut, what is missing.") { plan };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            if (parsed.GetValue(plan) is not { } number)
            {
                RackText.Table(
                    access.World.Out,
                    ["plan", "job", "state", "since", "does the rest of"],
                    [.. store.Plans().Select(one => new[]
                    {
                        one.Number, one.Name, RackText.Plan(one.State), RackText.Day(one.Created), one.Continues is { } first ? PlanNumber.Format(first) : "",
                    })]);
                return ExitCode.Done;
            }

            var record = store.Plan(FilterOptions.PlanId(number));
            access.Say($"{record.Number} {record.Name}: {RackText.Plan(record.State)}");
            RackText.Table(
                access.World.Out,
                ["layout", "stock", "mark", "count", "cut", "lost", "open"],
                [.. record.Layouts.Select(layout => new[]
                {
                    Text(layout.Number), layout.StockId, layout.Mark ?? "-", Text(layout.Count), Text(layout.Cut), Text(layout.Lost), Text(layout.Open),
                })]);
            RackText.Table(
                access.World.Out,
                ["part", "wanted", "made", "missing"],
                [.. record.Parts.Select(part => new[] { part.PartId, Text(part.Wanted), Text(part.Made), Text(part.Missing) })]);
            return ExitCode.Done;
        }));
        return command;

        static string Text(int value) => value.ToString(CultureInfo.InvariantCulture);
    }

    private static int ReadPlan(RackAccess access, string path, Func<Plan, int> work)
    {
        var read = PlanFile.Read(path);
        Screen.Report(access.World.Error, read.Findings);
        if (read.Value is not { } plan)
        {
            return ExitCode.InputRefused;
        }

        var findings = PlanChecker.Check(plan);
        Screen.Report(access.World.Error, findings);
        return findings.HasErrors() ? ExitCode.CheckerRefused : work(plan);
    }

    private static int Report(RackAccess access, ParseResult parsed, RackStore store, CutResult result)
    {
        foreach (var piece in result.Leftovers)
        {
            access.Say($"paint {piece.Mark} on {RackText.Size(piece, access.Format(parsed))} {piece.MaterialId}{(piece.Place.Length == 0 ? "" : ", to " + piece.Place)}");
        }

        if (!result.Leftovers.IsEmpty)
        {
            access.World.Error.WriteLine($"labels: nest rack labels labels.pdf {string.Join(' ', result.Leftovers.Select(piece => piece.Mark))}");
        }

        if (result.State == PlanState.Incomplete)
        {
            access.World.Error.WriteLine("all layouts are cut, but parts are missing: plan the rest anew with 'nest plan JOB --rack FILE --rest PLAN', then 'nest replan PLAN FILE'");
        }

        access.Changed(store, store.History(1)[0].Summary);
        return ExitCode.Done;
    }

    private static Argument<string> PlanArgument() => new("plan") { Description = "The plan's number: P7." };
}
