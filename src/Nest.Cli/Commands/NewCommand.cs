using System.CommandLine;
using System.Text;
using Nest.Output.Files;

namespace Nest.Cli.Commands;

/// <summary><c>nest new</c>: a commented job with its parts, prices, leftovers and saws, to be changed into one's own.</summary>
internal static class NewCommand
{
    public static void Fill(Command command, World world)
    {
        var folder = new Argument<string>("folder") { Description = "Folder to write; it must not be there, or be empty." };
        var unit = new Option<string>("--unit") { Description = "mm or in: the unit of all sizes.", DefaultValueFactory = _ => "mm" };
        unit.AcceptOnlyFromAmong("mm", "in");
        command.With(folder, unit);
        command.SetAction(parsed => Run(world, parsed.GetRequiredValue(folder), parsed.GetRequiredValue(unit) == "in"));
    }

    private static int Run(World world, string folder, bool inches)
    {
        if (File.Exists(folder) || (Directory.Exists(folder) && Directory.EnumerateFileSystemEntries(folder).Any()))
        {
            world.Error.WriteLine($"error: {folder}: something is there already — name a folder that is not there, or an empty one; nothing was written");
            return ExitCode.InputRefused;
        }

        Directory.CreateDirectory(folder);
        WholeFile.WriteAll(folder, [.. NewFiles.Of(inches).Select(file => (file.Name, Encoding.UTF8.GetBytes(file.Text.ReplaceLineEndings("\n"))))]);
        world.Out.WriteLine($"Written to {folder}: job.toml, parts.csv, prices.csv, rack.csv, saws.toml. All parts and prices are invented: put yours in their place.");
        world.Out.WriteLine($"Then: nest plan {Path.Combine(folder, "job.toml")}");
        return ExitCode.Done;
    }
}
