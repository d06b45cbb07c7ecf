using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Nest.Rack.Database;

/// <summary>SQLite's result codes as messages for the person at the screen.</summary>
internal static class Faults
{
    // Result codes from sqlite.org/rescode.html.
    private const int Error = 1;
    private const int Permission = 3;
    private const int Busy = 5;
    private const int Locked = 6;
    private const int ReadOnly = 8;
    private const int Io = 10;
    private const int Corrupt = 11;
    private const int Full = 13;
    private const int CannotOpen = 14;
    private const int Constraint = 19;
    private const int NotADatabase = 26;
    private const int MovedAway = ReadOnly | (4 << 8);

    public static RackException Translate(SqliteException fault, string path, TimeSpan wait)
    {
        var seconds = wait.TotalSeconds.ToString("0.#", CultureInfo.InvariantCulture);
        return fault.SqliteErrorCode switch
        {
            Busy or Locked => new(
                RackFault.InUse, $"the rack {path} is in use by another program (waited {seconds} s); nothing was changed", "try again", fault),
            Full => new(
                RackFault.DiskFull, $"no room is left on the disk for the rack {path}; nothing was changed", "free some room, then repeat", fault),
            ReadOnly when fault.SqliteExtendedErrorCode == MovedAway => new(
                RackFault.ReadOnly, $"the rack {path} was moved, deleted or replaced while it was open; nothing was changed", "put the right file there, then repeat", fault),
            ReadOnly or Permission => new(
                RackFault.ReadOnly, $"the rack {path} may not be written; nothing was changed", "ask for the right to write the file and its folder, or name another rack", fault),
            CannotOpen => new(
                RackFault.ReadOnly, $"the rack {path} cannot be opened or created; nothing was changed", "check that the folder exists and that you may write into it", fault),
            Corrupt or NotADatabase => Damaged(path, fault.Message, fault),
            Io => new(
                RackFault.DiskFull, $"the disk refused to read or write the rack {path} ({fault.Message}); nothing was changed", "check the disk and the room left on it, then repeat", fault),
            Constraint => new(
                RackFault.Refused, $"the rack refused a change that would contradict itself ({fault.Message}); nothing was changed", "run 'nest rack check'", fault),
            Error when fault.Message.Contains("no such", StringComparison.Ordinal) => Damaged(path, fault.Message, fault),
            _ => new(RackFault.Damaged, $"the rack {path} cannot be used ({fault.Message}); nothing was changed", "run 'nest rack check'", fault),
        };
    }

    public static RackException Damaged(string path, string detail, Exception? inner = null) => new(
        RackFault.Damaged,
        $"the rack {path} is damaged ({detail}); nothing was changed",
        Backups.Newest(path) is { } backup
            ? $"keep the file, and put the newest backup in its place: {backup}"
            : "keep the file, and put a copy from your own backup in its place",
        inner);
}
