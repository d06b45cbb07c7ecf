using System.CommandLine;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Output.Files;
using Nest.Output.Rack;
using Nest.Rack;
using Nest.Rack.Exchange;
using Nest.Rack.Plans;
using Nest.Rack.StockTake;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack count</c>: stock-take from the count sheet to books that agree.</summary>
internal static class CountCommands
{
    public static Command Count(RackAccess access) => new("count", "Stock-take: print the count sheet, enter what was found, see the differences, apply them.")
    {
        Start(access), List(access), Sheet(access), Found(access), Strike(access), Show(access), Apply(access), Drop(access),
    };

    private static Command Start(RackAccess access)
    {
        var place = new Option<string>("--place") { Description = "Only places that begin so.", DefaultValueFactory = _ => "", HelpName = "PLACE" };
        var command = new Command("start", "Begin a stock-take.") { place };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var open = store.Counts().Where(take => take.State == StockTakeState.Open).ToList();
            var id = store.StartCount(parsed.GetValue(place) ?? "");
            if (open.Count > 0)
            {
                access.World.Error.WriteLine($"note: still open: stock-take {string.Join(", ", open.Select(take => take.Id))}; 'nest rack count drop N' closes one that is not wanted");
            }

            access.Changed(store, string.Create(CultureInfo.InvariantCulture, $"stock-take {id}: {RackText.Count(store.Count(id).Lines.Length, "piece")} to find"));
            return ExitCode.Done;
        }));
        return command;
    }

    private static Command Sheet(RackAccess access)
    {
        var (id, file) = (Id(), new Argument<string>("file") { Description = "The PDF to write." });
        var command = new Command("sheet", "Write the count sheet.") { id, file };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var take = store.Count(parsed.GetValue(id));
            var format = access.Format(parsed);
            var rows = take.Lines.Where(line => line.Expected).Select(line => store.Show(line.Mark))
                .OrderBy(piece => piece.Place, StringComparer.OrdinalIgnoreCase).ThenBy(piece => piece.Mark, StringComparer.Ordinal)
                .Select(piece => new CountSheetRow(piece.Place, piece.Mark, piece.Form.Word(), piece.MaterialId, RackText.Size(piece, format)))
                .ToList();
            var title = string.Create(CultureInfo.InvariantCulture, $"Stock-take {take.Id}, {RackText.Day(take.Started)}{(take.Place.Length == 0 ? "" : ", " + take.Place)}");
            WholeFile.Write(parsed.GetRequiredValue(file), CountSheet.Pdf(rows, title, access.Today));
            access.Say($"wrote {RackText.Count(rows.Count, "row")} to {parsed.GetRequiredValue(file)}");
            return ExitCode.Done;
        }));
        return command;
    }

    private static Command Found(RackAccess access)
    {
        var id = Id();
        var marks = new Argument<string[]>("marks") { Description = "Marks that were found.", Arity = ArgumentArity.ZeroOrMore };
        var at = new Option<string>("--at") { Description = "Where, if not where the books have them.", DefaultValueFactory = _ => "", HelpName = "PLACE" };
        var file = new Option<string?>("--file") { Description = "A text file: a mark on each line, and behind a comma the place.", HelpName = "FILE" };
        var command = new Command("found", "Enter what was found.") { id, marks, at, file };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var found = (parsed.GetValue(marks) ?? []).Select(mark => (mark, parsed.GetValue(at) ?? "")).ToList();
            if (parsed.GetValue(file) is { } path)
            {
                if (!File.Exists(path))
                {
                    return access.Refuse($"{path} is not there", "check the name of the file");
                }

                if (!FoundList.TryRead(path, access.World.Error, found))
                {
                    return ExitCode.InputRefused;
                }
            }

            if (found.Count == 0)
            {
                return access.Refuse("no mark is given", "name marks, or a file with --file");
            }

            store.EnterFound(parsed.GetValue(id), found);
            access.Changed(store, $"entered {RackText.Count(found.Count, "mark")}");
            return ExitCode.Done;
        }));
        return command;
    }

    private static Command Strike(RackAccess access)
    {
        var (id, mark) = (Id(), new Argument<string>("mark") { Description = "A mark that was entered by mistake." });
        var command = new Command("strike", "Strike a mark that was entered by mistake.") { id, mark };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            store.StrikeFound(parsed.GetValue(id), parsed.GetRequiredValue(mark));
            access.Changed(store, $"struck {parsed.GetRequiredValue(mark)}");
            return ExitCode.Done;
        }));
        return command;
    }

    private static Command Show(RackAccess access)
    {
        var id = Id();
        var command = new Command("show", "Show the differences.") { id };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var take = store.Count(parsed.GetValue(id));
            RackText.Table(
                access.World.Out,
                ["mark", "books", "found", "difference"],
                [.. take.Differences.Select(line => new[] { line.Mark, line.BookPlace, line.Found ? line.Place.Length == 0 ? "yes" : line.Place : "no", Word(line) })]);
            var agree = take.Lines.Count(line => line.Verdict == CountVerdict.Agrees);
            access.World.Error.WriteLine($"{RackText.Count(agree, "piece")} agree{(agree == 1 ? "s" : "")}, {RackText.Count(take.Lines.Length - agree, "difference")}");
            return ExitCode.Done;
        }));
        return command;
    }

    private static Command Apply(RackAccess access)
    {
        var id = Id();
        var all = new Option<bool>("--all-missing") { Description = "Nothing was found at all: book every piece as lost." };
        var command = new Command("apply", "Make the books agree with what was found.") { id, all };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var reserved = store.Count(parsed.GetValue(id)).Lines.Where(line => line.Verdict == CountVerdict.MissingReserved).ToList();
            var changed = store.ApplyCount(parsed.GetValue(id), parsed.GetValue(all));
            if (reserved.Count > 0)
            {
                var one = reserved.Count == 1;
                access.World.Error.WriteLine(
                    $"note: {RackText.Count(reserved.Count, "reserved piece")} {(one ? "was" : "were")} not found and {(one ? "stays as it is" : "stay as they are")}: "
                    + $"{string.Join(", ", reserved.Select(line => $"{line.Mark} for {PlanNumber.Format(line.ReservedFor!.Value)}"))}; "
                    + $"one that is gone is booked with 'nest miscut PLAN LAYOUT \"lost\"{RackAccess.Named(store)}'");
            }

            access.Changed(store, $"{RackText.Count(changed, "piece")} changed; {store.History(1)[0].Summary}");
            return ExitCode.Done;
        }));
        return command;
    }

    private static Command List(RackAccess access)
    {
        var command = new Command("list", "Show all stock-takes.");
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            RackText.Table(
                access.World.Out,
                ["count", "since", "place", "state", "pieces", "found", "differences"],
                [.. store.Counts().Select(take => new[]
                {
                    Text(take.Id), RackText.Day(take.Started), take.Place, take.State.ToString().ToLowerInvariant(), Text(take.Lines.Count(line => line.Expected)),
                    Text(take.Lines.Count(line => line.Found)), take.State == StockTakeState.Open ? Text(take.Differences.Count()) : "",
                })]);
            return ExitCode.Done;
        }));
        return command;

        static string Text(long value) => value.ToString(CultureInfo.InvariantCulture);
    }

    private static Command Drop(RackAccess access)
    {
        var id = Id();
        var command = new Command("drop", "Close a stock-take without changing the books.") { id };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            store.DropCount(parsed.GetValue(id));
            access.Changed(store, string.Create(CultureInfo.InvariantCulture, $"stock-take {parsed.GetValue(id)} is closed"));
            return ExitCode.Done;
        }));
        return command;
    }

    private static Argument<long> Id() => new("count") { Description = "Number of the stock-take." };

    private static string Word(CountLine line) => line.Verdict switch
    {
        CountVerdict.Missing => "missing: will be booked as lost",
        CountVerdict.MissingReserved => $"missing, but {PlanNumber.Format(line.ReservedFor!.Value)} has reserved it: stays as it is; where it is gone, book a miscut",
        CountVerdict.Moved => "stands elsewhere: will be moved",
        CountVerdict.Returned => "was lost or scrapped: will be put back",
        CountVerdict.Contradicts => "was cut by the books: look at the piece",
        CountVerdict.Unknown => "never entered: enter it",
        _ => "",
    };
}
