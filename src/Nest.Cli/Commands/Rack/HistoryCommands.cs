using System.CommandLine;
using System.Globalization;
using Nest.Rack.History;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack history</c> and <c>undo</c>.</summary>
internal static class HistoryCommands
{
    public static Command History(RackAccess access)
    {
        var mark = new Option<string?>("--mark") { Description = "Only what concerned this piece.", HelpName = "MARK" };
        var most = new Option<int>("--most") { Description = "The newest so many.", DefaultValueFactory = _ => 30, HelpName = "N" };
        var change = new Option<long?>("--change") { Description = "Every row that this change wrote, before and after.", HelpName = "N" };
        var command = new Command("history", "Show what was changed, when and by whom.") { mark, most, change };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            if (parsed.GetValue(change) is { } number)
            {
                foreach (var row in store.RowsOf(number))
                {
                    access.Say(string.Create(CultureInfo.InvariantCulture, $"{row.Table} {row.RowId}: {row.Before ?? "(new)"} → {row.After ?? "(removed)"}"));
                }

                return ExitCode.Done;
            }

            Print(access, parsed.GetValue(mark) is { } piece ? store.HistoryOf(piece) : store.History(parsed.GetValue(most)));
            return ExitCode.Done;
        }));
        return command;
    }

    public static Command Undo(RackAccess access)
    {
        var change = new Argument<long?>("change") { Description = "Number of the change. Default: the newest that stands.", Arity = ArgumentArity.ZeroOrOne };
        var command = new Command("undo", "Take a change back; an undo is a change too, so it can be taken back.") { change };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var undone = store.Undo(parsed.GetValue(change));
            access.Changed(store, string.Create(CultureInfo.InvariantCulture, $"took back change {undone.Id}: {undone.Summary}"));
            return ExitCode.Done;
        }));
        return command;
    }

    public static void Print(RackAccess access, IEnumerable<ChangeRecord> changes) => RackText.Table(
        access.World.Out,
        ["change", "when", "who", "what", ""],
        [.. changes.Select(change => new[]
        {
            change.Id.ToString(CultureInfo.InvariantCulture), RackText.Day(change.At), change.Who, change.Summary,
            change.UndoneBy is { } by ? string.Create(CultureInfo.InvariantCulture, $"(taken back by {by})") : "",
        })]);
}
