using System.Globalization;
using Nest.Output;
using Nest.Output.Folders;

namespace Nest.Cli.Commands;

/// <summary>Where a plan is: people name its folder, or its file.</summary>
internal static class PlanPlace
{
    /// <summary>What the commands say of their argument.</summary>
    public const string Described = "A folder that 'nest plan' wrote, or its plan.json.";

    /// <summary>The plan file that is meant. A folder whose writing was broken off after all of it was made is completed first.</summary>
    public static string FileOf(World world, string named)
    {
        if (!Directory.Exists(named))
        {
            Finish(world, FolderOf(named));
            return named;
        }

        Finish(world, named);
        var inside = Path.Combine(named, OutputFolder.PlanPlace);
        var flat = Path.Combine(named, "plan.json");
        return File.Exists(inside) || !File.Exists(flat) ? inside : flat;
    }

    /// <summary>The folder that a plan file is in: the one above <c>data</c>, else the one beside it.</summary>
    public static string FolderOf(string planFile)
    {
        var full = Path.GetFullPath(planFile);
        var beside = Path.GetDirectoryName(full) ?? full;
        return Path.GetFileName(beside) == "data" && Path.GetDirectoryName(beside) is { } above ? above : beside;
    }

    /// <summary>Leaves word in the folder that its plan is in use. That it cannot be left is told, and ends nothing.</summary>
    public static void MarkUsed(World world, string named, string what)
    {
        var folder = Directory.Exists(named) ? named : FolderOf(named);
        try
        {
            InUse.Add(folder, string.Create(CultureInfo.InvariantCulture, $"{world.Time.GetLocalNow():yyyy-MM-dd} {what}"));
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            world.Error.WriteLine($"note: {folder}: that the plan is {what} could not be noted there: {fault.Message}");
        }
    }

    private static void Finish(World world, string folder)
    {
        if (Directory.Exists(folder) && FolderWriter.Complete(folder))
        {
            world.Error.WriteLine($"note: {folder}: the last run was ended while it put its files in place; they are in place now");
        }
    }
}
