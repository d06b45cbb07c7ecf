using System.CommandLine;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Exchange;
using Nest.Rack.Pieces;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack list</c>, <c>find</c>, <c>show</c>.</summary>
internal static class ListCommands
{
    public static Command List(RackAccess access)
    {
        var json = new Option<bool>("--json") { Description = "Print the pieces as JSON, with the columns of 'nest rack export'." };
        var command = new Command("list", "List pieces on the screen.") { json };
        var filters = new FilterOptions(access);
        filters.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var pieces = store.List(filters.Read(parsed, store));
            if (!parsed.GetValue(json))
            {
                return Print(access, parsed, store, pieces);
            }

            access.Say(RackJson.Of(pieces));
            return ExitCode.Done;
        }));
        return command;
    }

    public static Command Find(RackAccess access)
    {
        var size = new Argument<string>("size") { Description = "What is wanted, whichever way it lies: 300x200x10." };
        var command = new Command("find", "Find free pieces that hold a part, the least valuable first.") { size };
        var filters = new FilterOptions(access);
        filters.AddTo(command);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var sides = FilterOptions.Sizes(parsed.GetRequiredValue(size), access.UnitOf(parsed));
            var rules = store.Rules;
            var filter = filters.Read(parsed, store);
            var found = store.List(filter with { Holds = [.. sides], States = [PieceState.OnRack], Limit = null })
                .OrderBy(piece => rules.ValueOf(piece, access.Today)).ThenBy(piece => piece.Micrograms).ThenBy(piece => piece.Mark, StringComparer.Ordinal);
            return Print(access, parsed, store, [.. found.Take(filter.Limit ?? 20)]);
        }));
        return command;
    }

    public static Command Show(RackAccess access)
    {
        var mark = new Argument<string>("mark") { Description = "Mark of the piece." };
        var command = new Command("show", "Show all that is known of a piece, and its history.") { mark };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var piece = store.Show(parsed.GetRequiredValue(mark));
            foreach (var (head, text) in PieceSheet.Lines(piece, access.Format(parsed)))
            {
                access.Say($"{head,-20} {text}");
            }

            if (piece.State is PieceState.OnRack or PieceState.Reserved)
            {
                access.Say($"{"worth today",-20} {store.Rules.ValueOf(piece, access.Today)}");
            }

            access.Say("");
            HistoryCommands.Print(access, store.HistoryOf(piece.Mark));
            return ExitCode.Done;
        }));
        return command;
    }

    private static int Print(RackAccess access, ParseResult parsed, RackStore store, IReadOnlyList<RackPiece> pieces)
    {
        var format = access.Format(parsed);
        var rules = store.Rules;
        RackText.Table(
            access.World.Out,
            ["mark", "form", "material", "size", "mass", "place", "state", "days", "worth", "condition", "heat"],
            [.. pieces.Select(piece => new[]
            {
                piece.Mark, piece.Form.Word(), piece.MaterialId, RackText.Size(piece, format), MassText.Format(piece.Mass, format.Unit),
                piece.Place, RackText.State(piece), (access.Today.DayNumber - piece.Entered.DayNumber).ToString(CultureInfo.InvariantCulture),
                rules.ValueOf(piece, access.Today).ToString(), PieceSheet.Condition(piece), piece.Heat,
            })]);
        var mass = pieces.Aggregate(Mass.Zero, (sum, piece) => sum + piece.Mass);
        access.World.Error.WriteLine($"{RackText.Count(pieces.Count, "piece")}, {MassText.Format(mass, format.Unit)}");
        return ExitCode.Done;
    }
}
