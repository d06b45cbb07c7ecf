using System.IO.Compression;
using Nest.Rack;

namespace Nest.Desk;

/// <summary>The whole shop in one file, and back: a ZIP archive that any program opens. The rack is copied as one moment has it, though others work with it.</summary>
/// <remarks>Who was let in (pairings, cookies) is not in it: after a restore devices pair anew. What was counted at the saw is.</remarks>
public static class ShopArchive
{
    private const string RackName = "rack.db";
    private const string Desks = ".nest-desk";
    private const string Devices = "devices.json";

    /// <summary>More than any shop's; an archive with more is none of ours.</summary>
    private const int MostFiles = 1_000_000;

    private const long MostBytes = 64L * 1024 * 1024 * 1024;

    /// <summary>Writes the archive: whole or not at all.</summary>
    /// <returns>How many files are in it.</returns>
    /// <exception cref="IOException">A file cannot be read or the archive not written; where one was before, it is still there.</exception>
    /// <exception cref="RackException">The rack cannot be read.</exception>
    public static int Backup(string folder, string archive)
    {
        var root = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
        var target = Path.GetFullPath(archive);
        var temporary = target + ".nest-part";
        var files = Names(root).Where(name => Path.Combine(root, name) is var path && path != target && path != temporary).ToList();
        try
        {
            using (var stream = new FileStream(temporary, FileMode.Create, FileAccess.ReadWrite))
            {
                using (var zip = new ZipArchive(stream, ZipArchiveMode.Create, leaveOpen: true))
                {
                    foreach (var name in files)
                    {
                        Add(zip, root, name);
                    }
                }

                stream.Flush(flushToDisk: true);
            }

            File.Move(temporary, target, overwrite: true);
            return files.Count;
        }
        finally
        {
            File.Delete(temporary);
        }
    }

    /// <summary>Puts the shop of an archive into a folder that is not there or empty: whole or not at all.</summary>
    /// <returns>How many files it holds.</returns>
    /// <exception cref="InvalidDataException">The file is no such archive, or is damaged.</exception>
    /// <exception cref="IOException">The folder is not empty, or cannot be written.</exception>
    public static int Restore(string archive, string folder)
    {
        var target = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
        if (File.Exists(target) || (Directory.Exists(target) && Directory.EnumerateFileSystemEntries(target).Any()))
        {
            throw new IOException("something is there already; name a folder that is not there, or an empty one");
        }

        var made = target + ".nest-part";
        try
        {
            Directory.CreateDirectory(made);
            var count = Unpack(archive, made);
            if (File.Exists(Path.Combine(made, RackName)))
            {
                // A rack that does not open must be known now, not when it is needed.
                using var rack = RackStore.Open(Path.Combine(made, RackName));
                if (rack.Check() is { IsEmpty: false } wrong)
                {
                    throw new InvalidDataException($"its rack does not add up: {wrong[0]}");
                }
            }

            if (Directory.Exists(target))
            {
                Directory.Delete(target);
            }

            Directory.Move(made, target);
            return count;
        }
        finally
        {
            if (Directory.Exists(made))
            {
                Directory.Delete(made, recursive: true);
            }
        }
    }

    private static int Unpack(string archive, string made)
    {
        using var zip = ZipFile.OpenRead(archive);
        if (zip.Entries.Count > MostFiles || zip.Entries.Sum(entry => entry.Length) > MostBytes)
        {
            throw new InvalidDataException("it holds more than any shop");
        }

        foreach (var entry in zip.Entries)
        {
            // A name that leads out of the folder is no name of ours.
            var path = Path.GetFullPath(Path.Combine(made, entry.FullName));
            if (!path.StartsWith(made + Path.DirectorySeparatorChar, StringComparison.Ordinal) || entry.FullName.EndsWith('/'))
            {
                throw new InvalidDataException($"'{entry.FullName}' is no file of a shop");
            }

            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            entry.ExtractToFile(path);
        }

        return zip.Entries.Count;
    }

    private static void Add(ZipArchive zip, string root, string name)
    {
        var path = Path.Combine(root, name);
        var entry = zip.CreateEntry(name.Replace(Path.DirectorySeparatorChar, '/'), CompressionLevel.Fastest);
        entry.LastWriteTime = File.GetLastWriteTime(path) is { Year: >= 1980 and < 2108 } written ? written : new(1980, 1, 1);
        if (name != RackName)
        {
            using var to = entry.Open();
            using var from = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
            from.CopyTo(to);
            return;
        }

        var copy = Path.Combine(Path.GetTempPath(), "nest-rack-" + Guid.NewGuid().ToString("N"));
        try
        {
            using (var rack = RackStore.Open(path))
            {
                rack.CopyTo(copy);
            }

            using var to = entry.Open();
            using var from = File.OpenRead(copy);
            from.CopyTo(to);
        }
        finally
        {
            File.Delete(copy);
        }
    }

    /// <summary>Files of the shop in a fixed order; links are not followed, they may lead anywhere.</summary>
    private static IEnumerable<string> Names(string root) => new DirectoryInfo(root)
        .EnumerateFiles("*", new EnumerationOptions { RecurseSubdirectories = true, AttributesToSkip = FileAttributes.ReparsePoint, IgnoreInaccessible = false })
        .Select(file => Path.GetRelativePath(root, file.FullName))
        .Where(name => name != Path.Combine(Desks, Devices) && name is not (RackName + "-journal") && !name.EndsWith(".nest-part", StringComparison.Ordinal))
        .Order(StringComparer.Ordinal);
}
