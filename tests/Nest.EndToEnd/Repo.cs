using Nest.Tests.Data;

namespace Nest.EndToEnd;

/// <summary>Where the project's own files lie.</summary>
internal static class Repo
{
    public static string Root => Repository.Root;

    public static string Example(string name) => Path.Combine(Root, "examples", name);
}
