using System.Text.Json;
using Nest.Core.Quantities;
using Nest.Core.Solids;
using Nest.Data.Models;

namespace Nest.Tests.Models;

/// <summary>The model files beside the tests and what is known of them (files/README.md).</summary>
internal static class ModelFiles
{
    public static string Folder { get; } = Find();

    public static string Path(string name) => System.IO.Path.Combine(Folder, name);

    public static IReadOnlyList<JsonElement> Truth { get; } =
        [.. JsonDocument.Parse(File.ReadAllText(Path("truth.json"))).RootElement.GetProperty("files").EnumerateArray()];

    public static JsonElement TruthOf(string name) => Truth.First(entry => entry.GetProperty("file").GetString() == name);

    /// <summary>Reads as a user would who says what a file leaves open.</summary>
    public static Model Read(string name)
    {
        var result = ModelReader.Read(Path(name), new(
            name.Contains("no_unit", StringComparison.Ordinal) ? "mm" : null,
            name.EndsWith(".dxf", StringComparison.Ordinal) ? Length.FromMillimetres(10) : null));
        result.HasErrors.Should().BeFalse("{0}", string.Join("; ", result.Findings));
        return result.Value!;
    }

    private static string Find()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(System.IO.Path.Combine(folder.FullName, "Nest.sln")))
        {
            folder = folder.Parent;
        }

        return System.IO.Path.Combine(folder!.FullName, "tests", "Nest.Tests", "Models", "files");
    }
}
