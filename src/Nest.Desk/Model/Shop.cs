namespace Nest.Desk.Model;

/// <summary>The shop's folder: its jobs are the folders in it that hold a job file, or it is itself one job's folder.</summary>
/// <remarks>Only names that were found by looking are ever opened: a name from outside is compared, never made into a path.</remarks>
internal sealed class Shop(string folder)
{
    private const string JobFile = "job.toml";
    private const string PlanFolder = "plan";

    /// <summary>Where the pages are served; set when the desk has started.</summary>
    public int Port { get; set; }

    /// <summary>Port of the door for phones and tablets; 0: there is none.</summary>
    public int SharedPort { get; set; }

    /// <summary>Whether that door has a certificate.</summary>
    public bool SharedSafely { get; set; }

    /// <summary>Names under which devices may ask; the first is shown.</summary>
    public IReadOnlyList<string> SharedHosts { get; set; } = [];

    /// <summary>Address of a page for devices; null: the desk is not shared.</summary>
    public string? SharedAddress(string path) => SharedPort > 0 && SharedHosts.Count > 0 ? $"{(SharedSafely ? "https" : "http")}://{SharedHosts[0]}:{SharedPort}{path}" : null;

    /// <summary>The shop's rack.</summary>
    public string RackFile => Path.Combine(Folder, "rack.db");

    public string Name { get; } = new DirectoryInfo(folder).Name;

    public string Folder { get; } = Path.GetFullPath(folder);

    /// <summary>Whether nothing is in the folder yet but the desk's own.</summary>
    public bool IsEmpty => Directory.EnumerateFileSystemEntries(Folder).All(entry => entry == DataFolder(Folder));

    /// <summary>A text file of the shop itself; null: it has none of this name.</summary>
    public string? TextOf(string name) => System.IO.File.Exists(Path.Combine(Folder, name)) ? System.IO.File.ReadAllText(Path.Combine(Folder, name)) : null;

    /// <summary>Unit of sizes that the shop's settings name; null: none.</summary>
    public string? Unit => TextOf("shop.toml") is { } text && Nest.Data.Toml.TomlText.Names(text, "unit") is [var unit] ? unit : null;

    /// <summary>The desk's own files: who was let in.</summary>
    public static string DataFolder(string folder) => Path.Combine(Path.GetFullPath(folder), ".nest-desk");

    /// <summary>The jobs by name.</summary>
    public IReadOnlyList<JobFolder> Jobs()
    {
        if (File.Exists(Path.Combine(Folder, JobFile)))
        {
            return [new(Name, Folder, Path.Combine(Folder, JobFile), Path.Combine(Folder, PlanFolder))];
        }

        return [.. Directory.EnumerateDirectories(Folder).Order(StringComparer.OrdinalIgnoreCase)
            .Where(path => File.Exists(Path.Combine(path, JobFile)))
            .Select(path => new JobFolder(Path.GetFileName(path), path, Path.Combine(path, JobFile), Path.Combine(path, PlanFolder)))];
    }

    /// <summary>The job of this name; null: there is none.</summary>
    public JobFolder? Job(string name) => Jobs().FirstOrDefault(job => string.Equals(job.Name, name, StringComparison.Ordinal));
}

/// <summary>Where one job lies.</summary>
/// <param name="Name">Name of its folder, as in addresses.</param>
/// <param name="Path">The folder.</param>
/// <param name="File">Its job file.</param>
/// <param name="Output">Folder that its plan is written to.</param>
public sealed record JobFolder(string Name, string Path, string File, string Output)
{
    /// <summary>The plan file that was written last; null: none yet.</summary>
    public string? PlanFile => new[] { System.IO.Path.Combine(Output, "data", "plan.json"), System.IO.Path.Combine(Output, "plan.json") }
        .FirstOrDefault(System.IO.File.Exists);
}
