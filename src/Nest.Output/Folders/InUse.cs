using System.Text;

namespace Nest.Output.Folders;

/// <summary>That a plan is in use (its leftovers are reserved, its orders are sent): a file on top of its folder, one line for each, for people
/// and for the next run.</summary>
public static class InUse
{
    /// <summary>Name within the folder.</summary>
    public const string Name = "in-use.txt";

    /// <summary>What the plan of a folder is in use for, a line each; empty when it is not.</summary>
    public static IReadOnlyList<string> Of(string folder)
    {
        var path = Path.Combine(folder, Name);
        return File.Exists(path) ? [.. File.ReadAllLines(path).Where(line => !string.IsNullOrWhiteSpace(line))] : [];
    }

    /// <summary>Adds a line. Nothing is done where no list of files says that the folder is a plan's.</summary>
    /// <returns>Whether the folder has the mark.</returns>
    public static bool Add(string folder, string line)
    {
        if (FileList.In(folder) is null)
        {
            return false;
        }

        using var held = FolderLock.Take(folder, FolderWriter.Patience);
        WholeLines(folder, [.. Of(folder), line]);
        return true;
    }

    private static void WholeLines(string folder, IReadOnlyList<string> lines) =>
        Files.WholeFile.Write(Path.Combine(folder, Name), Encoding.UTF8.GetBytes(string.Concat(lines.Select(line => line + "\n"))));
}
