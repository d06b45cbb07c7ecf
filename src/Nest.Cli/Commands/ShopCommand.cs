using System.CommandLine;
using System.Globalization;
using Nest.Core.Quantities;
using Nest.Desk;
using Nest.Rack;

namespace Nest.Cli.Commands;

/// <summary><c>nest shop</c>: begin a shop, keep it whole in one file, and bring it back.</summary>
internal static class ShopCommand
{
    public static void Fill(Command command, World world) => command.With(New(world), Backup(world), Restore(world));

    private static Command New(World world)
    {
        var folder = Folder("Folder to write; it must not be there, or be empty.");
        var unit = new Option<string>("--unit") { Description = "mm or in: the unit of all sizes.", DefaultValueFactory = _ => "mm" };
        unit.AcceptOnlyFromAmong("mm", "in");
        var currency = new Option<string?>("--currency") { Description = "Three capital letters. Default: EUR, in inches USD.", HelpName = "EUR" };
        var bar = new Option<string?>("--bar-kerf") { Description = "Kerf of the bar saw; 'none': there is no bar saw.", HelpName = "LENGTH" };
        var plate = new Option<string?>("--plate-kerf") { Description = "Kerf of the plate saw; 'none': there is no plate saw.", HelpName = "LENGTH" };
        var vise = new Option<string?>("--vise") { Description = "Shortest piece that the saw's vise holds.", HelpName = "LENGTH" };
        var supplier = new Option<string[]>("--supplier") { Description = "Who sells to you. Give it again for more.", HelpName = "NAME" };
        var example = new Option<bool>("--example") { Description = "With a first job to look at, its parts and prices invented." };
        var command = new Command("new", "Write a commented shop, as 'nest desk' does in an empty folder.") { folder, unit, currency, bar, plate, vise, supplier, example };
        command.SetAction(parsed =>
        {
            var problem = ShopMaker.Make(parsed.GetRequiredValue(folder), new()
            {
                Unit = parsed.GetValue(unit) == "in" ? LengthUnit.Inch : LengthUnit.Millimetre, Currency = parsed.GetValue(currency) ?? "", BarKerf = parsed.GetValue(bar) ?? "", PlateKerf = parsed.GetValue(plate) ?? "",
                Vise = parsed.GetValue(vise) ?? "", Suppliers = [.. parsed.GetValue(supplier) ?? []], Example = parsed.GetValue(example),
            });
            if (problem.Length > 0)
            {
                world.Error.WriteLine($"error: {problem}; nothing was written");
                return ExitCode.InputRefused;
            }

            world.Out.WriteLine($"Written to {parsed.GetRequiredValue(folder)}: {string.Join(", ", Directory.EnumerateFileSystemEntries(parsed.GetRequiredValue(folder)).Select(Path.GetFileName).Order(StringComparer.Ordinal))}");
            return ExitCode.Done;
        });
        return command;
    }

    private static Command Backup(World world)
    {
        var folder = Folder("The shop's folder.");
        var file = new Argument<string>("file") { Description = "Archive to write (ZIP)." };
        var command = new Command("backup", "Write the whole shop into one file: jobs, plans, rack, settings.") { folder, file };
        command.SetAction(parsed => Done(world, parsed.GetRequiredValue(file), () => Directory.Exists(parsed.GetRequiredValue(folder))
            ? string.Create(CultureInfo.InvariantCulture, $"{ShopArchive.Backup(parsed.GetRequiredValue(folder), parsed.GetRequiredValue(file))} files of {parsed.GetRequiredValue(folder)} are in {parsed.GetRequiredValue(file)}.")
            : throw new IOException($"there is no folder {parsed.GetRequiredValue(folder)}")));
        return command;
    }

    private static Command Restore(World world)
    {
        var file = new Argument<string>("file") { Description = "An archive of 'nest shop backup'." };
        var folder = Folder("Folder to write; it must not be there, or be empty.");
        var command = new Command("restore", "Put the shop of a backup into a folder. Devices are paired anew.") { file, folder };
        command.SetAction(parsed => Done(world, parsed.GetRequiredValue(folder), () => string.Create(
            CultureInfo.InvariantCulture, $"{ShopArchive.Restore(parsed.GetRequiredValue(file), parsed.GetRequiredValue(folder))} files are in {parsed.GetRequiredValue(folder)}; the rack was checked.")));
        return command;
    }

    private static int Done(World world, string what, Func<string> work)
    {
        try
        {
            world.Out.WriteLine(work());
            return ExitCode.Done;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or InvalidDataException)
        {
            world.Error.WriteLine($"error: {what}: {problem.Message}; nothing was written");
        }
        catch (RackException refused)
        {
            world.Error.WriteLine($"error: {refused.Message}{(refused.Advice.Length > 0 ? " — " + refused.Advice : "")}; nothing was written");
        }

        return ExitCode.InputRefused;
    }

    private static Argument<string> Folder(string description) => new("folder") { Description = description };
}
