using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Nest.Rack.Database;

/// <summary>Whole copies of the rack beside it.</summary>
internal static class Backups
{
    /// <summary>Copies the rack as it is now; the copy appears under its name only when it is whole.</summary>
    /// <returns>Path of the copy.</returns>
    public static string Make(string path, long version, DateTimeOffset now)
    {
        var stamp = now.UtcDateTime.ToString("yyyyMMdd-HHmmss", CultureInfo.InvariantCulture);
        var target = string.Create(CultureInfo.InvariantCulture, $"{path}.backup-v{version}-{stamp}");
        for (var i = 2; File.Exists(target); i++)
        {
            target = string.Create(CultureInfo.InvariantCulture, $"{path}.backup-v{version}-{stamp}-{i}");
        }

        Copy(path, target);
        return target;
    }

    /// <summary>A whole copy of the rack as it is now, while others go on working with it.</summary>
    public static void Copy(string path, string target)
    {
        var temporary = target + ".tmp";
        File.Delete(temporary);
        using (var from = new SqliteConnection(Db.ConnectionString(path, SqliteOpenMode.ReadOnly)))
        using (var to = new SqliteConnection(Db.ConnectionString(temporary, SqliteOpenMode.ReadWriteCreate)))
        {
            from.Open();
            to.Open();
            from.BackupDatabase(to);
        }

        using (var written = new FileStream(temporary, FileMode.Open, FileAccess.ReadWrite))
        {
            written.Flush(flushToDisk: true);
        }

        File.Move(temporary, target);
    }

    /// <summary>The newest backup beside the rack; null when there is none.</summary>
    public static string? Newest(string path)
    {
        var folder = Path.GetDirectoryName(Path.GetFullPath(path));
        return folder is null || !Directory.Exists(folder)
            ? null
            : Directory.EnumerateFiles(folder, Path.GetFileName(path) + ".backup-v*")
                .Where(file => !file.EndsWith(".tmp", StringComparison.Ordinal))
                .MaxBy(File.GetLastWriteTimeUtc);
    }
}
