using System.CommandLine;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Racks;
using Nest.Rack;
using Nest.Rack.Pieces;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack add</c>, <c>move</c>, <c>adjust</c>, <c>scrap</c>.</summary>
internal static class PieceCommands
{
    public static Command Add(RackAccess access)
    {
        var form = new Argument<string>("form") { Description = "plate, flat-bar, square-bar or round-bar." };
        form.AcceptOnlyFromAmong(FilterOptions.FormWords);
        var material = new Argument<string>("material") { Description = "Alloy with temper, or grade." };
        var size = new Argument<string>("size") { Description = "Plate and flat bar: length x width x thickness; square and round bar: length x side or diameter." };
        var count = new Option<int>("--count", "-n") { Description = "So many equal pieces.", DefaultValueFactory = _ => 1, HelpName = "N" };
        count.Validators.Add(result =>
        {
            if (result.GetValueOrDefault<int>() is < 1 or > 1000)
            {
                result.AddError("--count wants a number from 1 to 1000.");
            }
        });
        var whole = new Option<bool>("--whole") { Description = "Whole plate or bar, as bought." };
        var materials = new Option<string?>("--materials") { Description = "A list of materials beside the starter list.", HelpName = "FILE" };
        var fields = new PieceFields(access);
        var command = new Command("add", "Enter pieces; each gets a mark to paint on it.") { form, material, size, count, whole, materials };
        fields.AddTo(command, sizes: false);
        command.SetAction(parsed =>
        {
            var list = ShopMaterials.Load(parsed.GetValue(materials));
            Screen.Report(access.World.Error, list.Findings);
            if (list.Value is not { } known)
            {
                return ExitCode.InputRefused;
            }

            var name = parsed.GetRequiredValue(material);
            if (known.Find(name) is not { } found)
            {
                return access.Refuse($"the material '{name}' is not known", known.Hint(name));
            }

            var kind = (Form)Array.IndexOf(FilterOptions.FormWords, parsed.GetRequiredValue(form));
            if (RackText.SizesOf(kind, parsed.GetRequiredValue(size), access.UnitOf(parsed), out var error) is not { } sizes)
            {
                return access.Refuse(error, "");
            }

            return access.Run(parsed, true, store =>
            {
                var piece = fields.Read(parsed).On(new RackPiece
                {
                    Form = kind, MaterialId = found.Id, Length = sizes.Length, Width = sizes.Width, Thickness = sizes.Thickness,
                    Bought = parsed.GetValue(whole), Place = parsed.GetValue(fields.Place) ?? "",
                });
                if (!fields.HasValue(parsed))
                {
                    piece = piece with { Value = StarterWorth.Load(access.UnitOf(parsed)).Of(piece, found) };
                    access.World.Error.WriteLine(RackText.Unpriced(parsed.GetValue(count), "--value"));
                }

                store.Learn([found]);
                var added = store.Add([.. Enumerable.Repeat(piece, parsed.GetValue(count))]);
                access.Changed(store, string.Join('\n', added.Select(one => one.Mark)));
                return ExitCode.Done;
            });
        });
        return command;
    }

    public static Command Move(RackAccess access)
    {
        var marks = Marks("Marks of the pieces.");
        var to = new Option<string>("--to") { Description = "Where they stand now.", HelpName = "PLACE", Required = true };
        var command = new Command("move", "Say where pieces stand now.") { marks, to };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            store.Move(parsed.GetRequiredValue(marks), parsed.GetRequiredValue(to));
            access.Changed(store, $"moved {RackText.Count(parsed.GetRequiredValue(marks).Length, "piece")} to {parsed.GetRequiredValue(to)}");
            return ExitCode.Done;
        }));
        return command;
    }

    public static Command Adjust(RackAccess access)
    {
        var mark = new Argument<string>("mark") { Description = "Mark of the piece." };
        var fields = new PieceFields(access);
        var command = new Command("adjust", "Correct what is known of a piece: size, damage, heat, condition …") { mark };
        fields.AddTo(command, sizes: true);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var change = fields.Read(parsed);
            store.Adjust(parsed.GetRequiredValue(mark), change);
            access.Changed(store, store.History(1)[0].Summary);
            return ExitCode.Done;
        }));
        return command;
    }

    public static Command Scrap(RackAccess access)
    {
        var marks = Marks("Marks of the pieces.");
        var reason = new Option<string>("--reason") { Description = "Why.", DefaultValueFactory = _ => "", HelpName = "TEXT" };
        var command = new Command("scrap", "Throw pieces away.") { marks, reason };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            store.Scrap(parsed.GetRequiredValue(marks), parsed.GetValue(reason) ?? "");
            access.Changed(store, $"scrapped {RackText.Count(parsed.GetRequiredValue(marks).Length, "piece")}");
            return ExitCode.Done;
        }));
        return command;
    }

    internal static Argument<string[]> Marks(string description) => new("marks") { Description = description, Arity = ArgumentArity.OneOrMore };
}
