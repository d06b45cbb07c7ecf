using System.CommandLine;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Racks;
using Nest.Rack;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack unit</c> and <c>prices</c>: what a rack remembers of its shop.</summary>
internal static class ShopCommands
{
    public static Command Unit(RackAccess access)
    {
        var unit = new Argument<string?>("unit") { Description = "mm or in. Left out: shows it.", Arity = ArgumentArity.ZeroOrOne };
        unit.AcceptOnlyFromAmong("mm", "in");
        var command = new Command("unit", "Show or set the unit in which this rack's sizes are typed and shown.") { unit };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            if (parsed.GetValue(unit) is { } wanted)
            {
                store.SetUnit(wanted);
            }

            access.Say(store.Unit ?? "mm");
            return ExitCode.Done;
        }));
        return command;
    }

    public static Command Prices(RackAccess access)
    {
        var files = new Argument<string[]>("files") { Description = "A job file (its catalogue, its suppliers' price lists and offcut rules count), or catalogues. Left out: shows them.", Arity = ArgumentArity.ZeroOrMore };
        var none = new Option<bool>("--none") { Description = "Forget them: the starter's demo prices count again." };
        var command = new Command("prices", "Show or set the shop's price lists, by which pieces without a value are valued when they are entered.") { files, none };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            if (parsed.GetValue(none))
            {
                store.SetPrices([]);
            }
            else if (parsed.GetValue(files) is { Length: > 0 } named)
            {
                // Kept as full names: the rack may be used from any folder.
                var full = named.Select(Path.GetFullPath).ToList();
                var read = PieceWorth.Load(full, access.UnitOf(parsed));
                Screen.Report(access.World.Error, read.Findings);
                if (read.Value is null)
                {
                    return ExitCode.InputRefused;
                }

                store.SetPrices(full);
            }

            access.Say(store.Prices.IsEmpty ? "the starter's demo prices" : string.Join('\n', store.Prices));
            return ExitCode.Done;
        }));
        return command;
    }

    /// <summary>What values pieces that are entered without: the shop's price lists, else the starter's demo prices; null after errors.</summary>
    public static PieceWorth? Worth(RackAccess access, ParseResult parsed)
    {
        var read = PieceWorth.Load(access.Remembered<string>(parsed, store => string.Join('\n', store.Prices)) is { Length: > 0 } files ? files.Split('\n') : [], access.UnitOf(parsed));
        Screen.Report(access.World.Error, [.. read.Findings.Where(finding => finding.Severity == Severity.Error)]);
        return read.Value;
    }
}
