using System.Text;
using Nest.Data.Toml;
using Nest.Output.Files;

namespace Nest.Desk.Model;

/// <summary>The shop's text files for a page: settings, saws, suppliers, price lists, and the job file of each job.</summary>
/// <remarks>A name from outside is compared with the names that are there, never made into a path.</remarks>
internal sealed class ShopTexts(Shop shop)
{
    /// <summary>A longer text is edited with an editor.</summary>
    private const int MostBytes = 256 * 1024;

    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <summary>Names within the shop's folder, with slashes.</summary>
    public IReadOnlyList<string> Names() =>
    [
        .. new DirectoryInfo(shop.Folder).EnumerateFiles().Where(file => file.LinkTarget is null && file.Length <= MostBytes && file.Extension is ".toml" or ".csv").Select(file => file.Name).Order(StringComparer.Ordinal),
        .. shop.Jobs().Where(job => job.Path != shop.Folder).Select(job => $"{job.Name}/{Path.GetFileName(job.File)}"),
    ];

    /// <summary>The text as it is now; null: there is no such text.</summary>
    public string? Read(string name)
    {
        try
        {
            return Names().Contains(name, StringComparer.Ordinal) ? Strict.GetString(File.ReadAllBytes(PathOf(name))).TrimStart('\uFEFF') : null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or DecoderFallbackException)
        {
            return null;
        }
    }

    /// <summary>Writes a text.</summary>
    /// <param name="before">The text that was shown: another one there now is not written over.</param>
    /// <returns>Why nothing was written; empty when it was.</returns>
    public string Write(string name, string before, string text)
    {
        if (Read(name) is not { } now)
        {
            return "There is no such text.";
        }

        if (Plain(now) != Plain(before))
        {
            return "Another program has changed the file meanwhile: nothing was written. Copy what you typed, and load the page again.";
        }

        if (Path.GetExtension(name) == ".toml" && TomlText.Fault(text) is { Length: > 0 } fault)
        {
            return $"Nothing was written: {fault}";
        }

        try
        {
            var ends = now.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";
            WholeFile.Write(PathOf(name), Strict.GetBytes(text.ReplaceLineEndings(ends)));
            return "";
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            return $"Nothing was written: {problem.Message}";
        }
    }

    /// <summary>Browsers send line ends of their own.</summary>
    private static string Plain(string text) => text.ReplaceLineEndings("\n");

    private string PathOf(string name) => Path.Combine(shop.Folder, name.Replace('/', Path.DirectorySeparatorChar));
}
