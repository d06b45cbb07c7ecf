using System.Text;
using Nest.Core.Jobs;

namespace Nest.Data;

/// <summary>Reads a text file whole, or says why not: nothing that a file can be makes it throw.</summary>
internal static class TextFile
{
    /// <summary>Far more than any parts list or catalogue; a larger file is the wrong file. It stands in <c>stock/README.md</c>.</summary>
    public const int MostBytes = 16 * 1024 * 1024;

    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    /// <summary>The text without byte order mark; null after a finding.</summary>
    public static string? Read(string path, string what, FindingList findings, int mostBytes = MostBytes) =>
        ReadBytes(path, what, findings, mostBytes) is { } bytes ? Decode(bytes, path, what, findings) : null;

    /// <summary>All bytes of a regular file; null after a finding.</summary>
    public static byte[]? ReadBytes(string path, string what, FindingList findings, int mostBytes = MostBytes)
    {
        var where = new SourcePosition(path);
        if (Directory.Exists(path))
        {
            findings.Error("file-is-folder", where, $"this is a folder, not {what}", "name the file itself");
            return null;
        }

        try
        {
            using var stream = NamedFile.Open(path);
            if (stream is not { CanSeek: true })
            {
                findings.Error("file-no-file", where, "this is a pipe or a device, not a file", "name a file, or pipe the table in and write - in place of the name");
                return null;
            }

            if (stream.Length > mostBytes)
            {
                findings.Error(
                    "file-too-large", where, $"the file has {stream.Length / (1024 * 1024)} MiB, too much for {what}", "check the name of the file");
                return null;
            }

            return NamedFile.Steady(stream, whole => ReadBytes(whole, path, what, findings, mostBytes));
        }
        catch (FileChangedException)
        {
            findings.Error("file-changed", where, FileChangedException.Cause, FileChangedException.Remedy);
        }
        catch (Exception problem) when (problem is FileNotFoundException or DirectoryNotFoundException)
        {
            findings.Error("file-missing", where, $"{what} is not there", Nearby(path));
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            findings.Error("file-unreadable", where, $"{what} cannot be read: {problem.Message}", "check the name and the rights of the file");
        }

        return null;
    }

    /// <summary>All bytes of a stream, which may be a pipe; null after a finding.</summary>
    public static byte[]? ReadBytes(Stream stream, string name, string what, FindingList findings, int mostBytes = MostBytes)
    {
        var bytes = ReadAtMost(stream, mostBytes + 1);
        if (bytes.Length > mostBytes)
        {
            findings.Error("file-too-large", new(name), $"there is more than {mostBytes / (1024 * 1024)} MiB, too much for {what}", "check what is read");
            return null;
        }

        if (bytes.Length == 0)
        {
            findings.Error("file-empty", new(name), $"the file is empty, not {what}", "check the name of the file");
            return null;
        }

        return bytes;
    }

    private static byte[] ReadAtMost(Stream stream, int most)
    {
        using var memory = new MemoryStream();
        var buffer = new byte[81920];
        while (memory.Length < most && stream.Read(buffer, 0, buffer.Length) is > 0 and var count)
        {
            memory.Write(buffer, 0, count);
        }

        return memory.ToArray();
    }

    private static string? Decode(byte[] bytes, string path, string what, FindingList findings)
    {
        if (bytes is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..])
        {
            findings.Error("file-encoding", new(path), "the file is UTF-16", "save it as UTF-8 (in a spreadsheet: CSV UTF-8)");
            return null;
        }

        var zero = Array.IndexOf(bytes, (byte)0);
        if (zero >= 0)
        {
            findings.Error("file-binary", PositionOf(bytes, zero, path), $"this is not text, so it is not {what}", "export the table as CSV, or check the name of the file");
            return null;
        }

        string text;
        try
        {
            text = Strict.GetString(bytes);
        }
        catch (DecoderFallbackException problem)
        {
            findings.Error(
                "file-encoding", PositionOf(bytes, Math.Max(0, problem.Index), path), "a character here is not UTF-8",
                "save the file as UTF-8 (in a spreadsheet: CSV UTF-8)");
            return null;
        }

        text = text.TrimStart('\uFEFF');
        if (string.IsNullOrWhiteSpace(text))
        {
            findings.Error("file-empty", new(path), $"the file is empty, not {what}", "check the name of the file");
            return null;
        }

        return text;
    }

    internal static SourcePosition PositionOf(byte[] bytes, int at, string path)
    {
        var before = bytes.AsSpan(0, Math.Min(at, bytes.Length));
        return new(path, before.Count((byte)'\n') + 1, at - before.LastIndexOf((byte)'\n'));
    }

    /// <summary>What a name that is not there may have meant.</summary>
    public static string Nearby(string path)
    {
        try
        {
            var folder = Path.GetDirectoryName(Path.GetFullPath(path));
            if (folder is null || !Directory.Exists(folder))
            {
                return "check the folder's name";
            }

            var names = Directory.EnumerateFiles(folder).Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal).Take(1000);
            return Near.Hint(Path.GetFileName(path), names) is { Length: > 0 } hint ? hint : "check the name of the file";
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return "check the name of the file";
        }
    }
}
