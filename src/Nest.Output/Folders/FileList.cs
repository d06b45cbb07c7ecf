using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Nest.Output.Folders;

/// <summary>A file of a plan's folder.</summary>
/// <param name="Name">Within the folder, with <c>/</c>.</param>
/// <param name="Sha256">Of its bytes (FIPS 180-4), 64 figures of base 16.</param>
public sealed record ListedFile(string Name, string Sha256);

/// <summary>Which files of a folder one run wrote: only what stands here is ever deleted, and what differs from it is told.</summary>
/// <param name="Plan">The plan's mark, as printed on its sheets.</param>
public sealed record FileList(string Plan, ImmutableArray<ListedFile> Files)
{
    /// <summary>Where the list is kept, within the folder.</summary>
    public const string Place = "data/files.json";

    private static readonly JsonSerializerOptions Options = new() { WriteIndented = true, PropertyNamingPolicy = JsonNamingPolicy.CamelCase, NewLine = "\n" };

    /// <summary>The figures of a file's bytes.</summary>
    public static string HashOf(ReadOnlySpan<byte> bytes) => Convert.ToHexStringLower(SHA256.HashData(bytes));

    /// <summary>The list as the file that is kept in the folder.</summary>
    public byte[] ToBytes() => Encoding.UTF8.GetBytes(JsonSerializer.Serialize(
        new Document("nest-files", 1, Plan, [.. Files.Select(file => new Entry(file.Name, file.Sha256))]), Options) + "\n");

    /// <summary>The list of a folder; null when there is none, or when what is there is not one.</summary>
    public static FileList? In(string folder) => Read(Path.Combine(folder, Place));

    internal static FileList? Read(string path)
    {
        try
        {
            var document = File.Exists(path) ? JsonSerializer.Deserialize<Document>(File.ReadAllBytes(path), Options) : null;
            return document is { Format: "nest-files", Version: 1, Plan: { } plan, Files: { } files } && files.All(file => file is { Name: { } name, Sha256: not null } && StaysInside(name))
                ? new(plan, [.. files.Select(file => new ListedFile(file.Name, file.Sha256))])
                : null;
        }
        catch (Exception fault) when (fault is JsonException or IOException or UnauthorizedAccessException or NotSupportedException)
        {
            return null;
        }
    }

    /// <summary>Whether a name leads nowhere but into the folder: a list may come from anywhere, and what it names is deleted.</summary>
    internal static bool StaysInside(string name) =>
        name.Length > 0 && !Path.IsPathRooted(name) && !name.Contains('\\', StringComparison.Ordinal) && !name.Contains(':', StringComparison.Ordinal)
        && name.Split('/').All(part => part.Length > 0 && part is not ("." or ".."));

    private sealed record Document(string? Format, int Version, string? Plan, [property: JsonRequired] Entry[]? Files);

    private sealed record Entry(string Name, string Sha256);
}
