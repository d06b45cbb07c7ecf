using System.CommandLine;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Racks;
using Nest.Data.Stocks;
using Nest.Rack;
using Nest.Rack.Exchange;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest rack add</c>, <c>move</c>, <c>adjust</c>, <c>scrap</c>.</summary>
internal static class PieceCommands
{
    public static Command Add(RackAccess access)
    {
        var form = new Argument<string>("form") { Description = "plate, flat-bar, square-bar, round-bar, hex-bar, round-tube, rectangular-tube (square too), angle, channel, tee or profile." };
        form.AcceptOnlyFromAmong(FilterOptions.FormWords);
        var material = new Argument<string>("material") { Description = "Alloy with temper, or grade." };
        var size = new Argument<string>("size") { Description = "Plate and flat bar: length x width x thickness; square and round bar: length x side or diameter; the others: section, then length, as 40x40x3x800 or hex 19 x 600." };
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
        var mark = new Option<string?>("--mark") { Description = "Mark that is painted on the piece already (any of the shop's own). Default: a new one.", HelpName = "MARK" };
        var profile = new Option<string?>("--profile") { Description = "Name of a profile, as the price list has it.", HelpName = "NAME" };
        var mass = new Option<decimal?>("--kg-per-m") { Description = "Mass per metre of a section, where it is not that of its sizes; a profile needs it.", HelpName = "N" };
        var fields = new PieceFields(access);
        var command = new Command("add", "Enter pieces; each gets a mark to paint on it.") { form, material, size, count, mark, whole, profile, mass, materials };
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
            if (PieceSizes.Of(kind, parsed.GetRequiredValue(size), access.UnitOf(parsed), RackText.Refusal, out var error) is not { } sizes)
            {
                return access.Refuse(error, "");
            }

            var painted = parsed.GetValue(mark) ?? "";
            if (painted.Length > 0 && parsed.GetValue(count) != 1)
            {
                return access.Refuse("--mark names one piece, --count several", "enter them one by one");
            }

            return access.Run(parsed, true, store =>
            {
                var piece = fields.Read(parsed).On(new RackPiece
                {
                    Mark = painted, Form = kind, MaterialId = found.Id, Length = sizes.Length, Width = sizes.Width, Thickness = sizes.Thickness,
                    Detail = sizes.Detail is { } detail ? detail with { Name = parsed.GetValue(profile) } : null,
                    ListedSection = parsed.GetValue(mass) is { } perMetre ? SectionMass.Of(perMetre, found) : null,
                    Bought = parsed.GetValue(whole), Place = parsed.GetValue(fields.Place) ?? "",
                });
                var priced = fields.HasValue(parsed);
                PieceWorth? worth = null;
                if (!priced)
                {
                    if ((worth = ShopCommands.Worth(access, parsed)) is null)
                    {
                        return ExitCode.InputRefused;
                    }

                    piece = piece with { Value = worth.Of(piece, found) };
                }

                store.Learn([found]);
                var added = store.Add([.. Enumerable.Repeat(piece, parsed.GetValue(count))]);
                if (!priced)
                {
                    access.World.Error.WriteLine(RackText.Unpriced(parsed.GetValue(count), worth!.IsOwn, "--value"));
                }

                if (IsTiny(piece) && !SizeText.NamesUnit(parsed.GetRequiredValue(size)))
                {
                    access.World.Error.WriteLine($"note: {RackText.Size(piece, access.Format(parsed))} is very small for a plate — {(
                        access.UnitOf(parsed) == LengthUnit.Inch ? "is the size right?" : "meant in inches? take this back and enter it with --unit in")}");
                }

                access.Changed(store, string.Join('\n', added.Select(one => one.Mark)));
                return ExitCode.Done;
            });
        });
        return command;
    }

    public static Command Move(RackAccess access)
    {
        var marks = Marks("Marks of the pieces.");
        var to = new Option<string?>("--to") { Description = "Where they stand now.", HelpName = "PLACE" };
        var nowhere = new Option<bool>("--no-place") { Description = "They stand at no named place now." };
        var command = new Command("move", "Say where pieces stand now.") { marks, to, nowhere };
        command.Validators.Add(result =>
        {
            if ((result.GetValue(to) is null) != result.GetValue(nowhere))
            {
                result.AddError("move wants either --to with a place, or --no-place.");
            }
        });
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var place = parsed.GetValue(to)?.Trim() ?? "";
            if (place.Length == 0 && !parsed.GetValue(nowhere))
            {
                return access.Refuse("--to names no place", "name one, or say --no-place");
            }

            var moved = store.Move(parsed.GetRequiredValue(marks), place);
            access.Changed(store, $"moved {RackText.Count(moved.Length, "piece")} to {(place.Length == 0 ? "no place" : place)}");
            return ExitCode.Done;
        }));
        return command;
    }

    public static Command Adjust(RackAccess access)
    {
        var mark = new Argument<string>("mark") { Description = "Mark of the piece." };
        var material = new Option<string?>("--material", "-m") { Description = "Alloy with temper, or grade, where the wrong one was entered; the mass is booked anew.", HelpName = "NAME" };
        var materials = new Option<string?>("--materials") { Description = "A list of materials beside the starter list.", HelpName = "FILE" };
        var fields = new PieceFields(access);
        var command = new Command("adjust", "Correct what is known of a piece: size, damage, heat, condition …") { mark, material, materials };
        fields.AddTo(command, sizes: true);
        command.SetAction(parsed =>
        {
            // The list is read only when it is needed.
            ShopMaterials? known = null;
            if (parsed.GetValue(material) is not null)
            {
                var list = ShopMaterials.Load(parsed.GetValue(materials));
                Screen.Report(access.World.Error, list.Findings);
                known = list.Value;
                if (known is null)
                {
                    return ExitCode.InputRefused;
                }
            }

            return access.Run(parsed, false, store =>
            {
                var change = fields.Read(parsed);
                if (parsed.GetValue(material) is { } name && known is not null)
                {
                    // The rack may know materials of a list that is not at hand now.
                    var found = known.Find(name);
                    var there = store.KnownMaterials().Select(one => one.Name).FirstOrDefault(one => one.Equals(found?.Id ?? name, StringComparison.OrdinalIgnoreCase));
                    if (there is null && found is null)
                    {
                        return access.Refuse($"the material '{name}' is not known", known.Hint(name));
                    }

                    if (there is null)
                    {
                        store.Learn([found!]);
                    }

                    change = change with { MaterialId = there ?? found!.Id };
                }

                var format = access.Format(parsed);
                var adjusted = store.Adjust(parsed.GetRequiredValue(mark), change);
                access.Changed(store, adjusted.Text(format));
                if (store.MisfitOf(adjusted.After.Mark) is { } misfit)
                {
                    access.World.Error.WriteLine($"note: {misfit}, for {PlanNumber.Format(adjusted.After.ReservedFor ?? 0)} — book it with 'nest miscut', or plan the rest anew before you are at the saw");
                }

                foreach (var note in PieceWords.Notes(adjusted.Before, adjusted.After, fields.HasValue(parsed), format))
                {
                    access.World.Error.WriteLine($"note: {note}");
                }

                return ExitCode.Done;
            });
        });
        return command;
    }

    public static Command Scrap(RackAccess access)
    {
        var marks = Marks("Marks of the pieces.");
        var reason = new Option<string>("--reason") { Description = "Why.", DefaultValueFactory = _ => "", HelpName = "TEXT" };
        var command = new Command("scrap", "Throw pieces away.") { marks, reason };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var scrapped = store.Scrap(parsed.GetRequiredValue(marks), parsed.GetValue(reason) ?? "");
            access.Changed(store, $"scrapped {RackText.Count(scrapped.Length, "piece")}");
            return ExitCode.Done;
        }));
        return command;
    }

    /// <summary>A plate that is smaller every way than most that are worth a mark: perhaps its sizes were meant in inches.</summary>
    internal static bool IsTiny(RackPiece piece) =>
        piece.Form == Form.Plate && piece.Length < Length.FromMillimetres(30) && piece.Width < Length.FromMillimetres(30);

    internal static Argument<string[]> Marks(string description) => new("marks") { Description = description, Arity = ArgumentArity.OneOrMore };
}
