namespace Nest.Output.Folders;

/// <summary>Keeps what is in a folder from being replaced: a plan that is in use, and files that are not of a plan.</summary>
internal static class FolderGuard
{
    /// <summary>What every plan's folder holds: looked for before a search, so that none is made in vain.</summary>
    private static readonly string[] Usual = ["cut-sheet.pdf", "tablet.html", "data/plan.json"];

    /// <summary>Why a plan may not be written into a folder; null: it may.</summary>
    public static string? WhyNot(string folder, bool replace)
    {
        try
        {
            var old = FileList.In(folder);
            RefuseUsed(folder, old, replace);
            RefuseStrangers(folder, old is null && !Directory.Exists(Path.Combine(folder, FolderWriter.Ready)) ? [.. Usual.Where(name => File.Exists(Path.Combine(folder, name)))] : []);
            return null;
        }
        catch (FolderException fault)
        {
            return fault.Message;
        }
    }

    /// <summary>Refuses to replace files that no list names.</summary>
    public static void RefuseStrangers(string folder, List<string> strangers)
    {
        if (strangers.Count > 0)
        {
            throw new FolderException(
                $"{folder} holds {string.Join(", ", strangers.Take(3))}{(strangers.Count > 3 ? " and more" : "")}, which no plan's list of files ({FileList.Place}) names — move that away, or name another folder");
        }
    }

    /// <summary>Refuses to replace a plan that is in use.</summary>
    public static void RefuseUsed(string folder, FileList? old, bool replace)
    {
        if (!replace && InUse.Of(folder) is [_, ..] uses)
        {
            throw new FolderException(
                $"the plan {old?.Plan} in {folder} is in use ({string.Join("; ", uses)}) — name another folder, or replace it with --replace when that is over");
        }
    }

    /// <summary>Files of the new list that are there already, are not of the old plan and hold something else.</summary>
    public static List<string> Strangers(string folder, FileList list, FileList? old)
    {
        var known = old is null ? [] : old.Files.Select(file => file.Name).ToHashSet(StringComparer.Ordinal);
        return
        [
            .. list.Files.Where(file => !known.Contains(file.Name) && Path.Combine(folder, file.Name) is var path
                && (Directory.Exists(path) || (File.Exists(path) && FileList.HashOf(File.ReadAllBytes(path)) != file.Sha256)))
                .Select(file => file.Name),
        ];
    }
}
