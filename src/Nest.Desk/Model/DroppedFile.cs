using Microsoft.AspNetCore.Components.Forms;

namespace Nest.Desk.Model;

/// <summary>A file that was sent to a page. Its name is for messages and for its ending: it is never a path.</summary>
public sealed record DroppedFile(string Name, byte[] Bytes)
{
    /// <summary>Bytes of all files together that one drop may have.</summary>
    public const long MostBytes = 16 * 1024 * 1024;

    public const int MostFiles = 100;

    private const int MostName = 80;

    /// <summary>Endings of the files that are taken: tables and models.</summary>
    public static IReadOnlyList<string> Endings { get; } = [".csv", ".tsv", ".txt", ".xlsx", ".ods", ".stl", ".3mf", ".obj", ".step", ".stp", ".dxf"];

    /// <summary>A name that no folder can be left by: letters, figures, blanks, hyphens of the name, and its ending.</summary>
    public string SafeName
    {
        get
        {
            var ending = new string([.. Path.GetExtension(Name).Where(char.IsAsciiLetterOrDigit).Take(8)]);
            var stem = new string([.. Path.GetFileNameWithoutExtension(Path.GetFileName(Name)).Select(c => char.IsLetterOrDigit(c) || c is '-' or '_' or ' ' or '+' ? c : '-').Take(MostName)]).Trim(' ', '-');
            return $"{(stem.Length == 0 ? "file" : stem)}.{ending.ToLowerInvariant()}";
        }
    }

    /// <summary>Reads what was dropped, within the limits of number, kind and size; a size that a browser tells is not believed.</summary>
    /// <returns>The files; or none and why not.</returns>
    public static async Task<(IReadOnlyList<DroppedFile> Files, string Problem)> ReadAsync(IReadOnlyList<IBrowserFile> dropped)
    {
        if (dropped.Count > MostFiles)
        {
            return ([], DeskTexts.TooMany);
        }

        if (dropped.FirstOrDefault(file => !Endings.Contains(Path.GetExtension(file.Name), StringComparer.OrdinalIgnoreCase)) is { } strange)
        {
            return ([], $"{Path.GetFileName(strange.Name)}: {DeskTexts.NoSuchKind}");
        }

        var files = new List<DroppedFile>();
        var total = 0L;
        try
        {
            foreach (var file in dropped)
            {
                using var copy = new MemoryStream();
                await file.OpenReadStream(MostBytes - total).CopyToAsync(copy).ConfigureAwait(true);
                total += copy.Length;
                if (total > MostBytes)
                {
                    return ([], DeskTexts.TooLarge);
                }

                files.Add(new(Path.GetFileName(file.Name), copy.ToArray()));
            }

            return (files, "");
        }
        catch (Exception problem) when (problem is IOException or InvalidOperationException or ArgumentOutOfRangeException)
        {
            return ([], DeskTexts.TooLarge);
        }
    }
}
