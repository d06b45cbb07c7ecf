namespace Nest.EndToEnd;

/// <summary>Where the project's own files lie, found upwards from the test's binary.</summary>
internal static class Repo
{
    public static string Root { get; } = Find();

    public static string Example(string name) => Path.Combine(Root, "examples", name);

    private static string Find()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Nest.sln")))
        {
            folder = folder.Parent;
        }

        return folder?.FullName ?? throw new InvalidOperationException("Nest.sln was not found above the test.");
    }
}
