using Microsoft.Data.Sqlite;
using Nest.Rack.History;

namespace Nest.Rack.Database;

/// <summary>How a rack is opened.</summary>
public sealed record RackOptions
{
    /// <summary>How long to wait while another program writes, before giving up with "in use, try again".</summary>
    public TimeSpan Wait { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>Who makes the changes, for the history.</summary>
    public string Who { get; init; } = Environment.UserName;

    public TimeProvider Clock { get; init; } = TimeProvider.System;

    /// <summary>Tests only: without it nothing is flushed to the disk.</summary>
    internal bool Durable { get; init; } = true;

    /// <summary>Tests only: called inside each transaction, before it is committed.</summary>
    internal Action? BeforeCommit { get; init; }

    /// <summary>Tests only: other versions of the tables.</summary>
    internal IReadOnlyList<string> Versions { get; init; } = Schema.Versions;

    /// <summary>Tests only: as if the disk were full at this many pages.</summary>
    internal int? LargestPages { get; init; }

    /// <summary>Tests only: so few pages kept in memory that a transaction writes into the file long before it is committed.</summary>
    internal int? CachePages { get; init; }
}

/// <summary>Transactions on the rack's file, and its faults as messages.</summary>
internal sealed class RackDatabase : IDisposable
{
    private readonly Db db;
    private readonly RackOptions options;

    public RackDatabase(string path, RackOptions options)
    {
        Path = path;
        this.options = options;
        db = Guarded(() => new Db(path, options.Wait, options.Durable));
        try
        {
            Guarded(() => Schema.BringUpToDate(db, path, options.Clock, options.Versions));
            if (options.LargestPages is { } pages)
            {
                db.Script($"PRAGMA max_page_count = {pages}");
            }

            if (options.CachePages is { } kept)
            {
                db.Script($"PRAGMA cache_size = {kept}; PRAGMA cache_spill = {kept}");
            }
        }
        catch
        {
            db.Dispose();
            throw;
        }
    }

    public string Path { get; }

    public RackOptions Options => options;

    public DateTimeOffset Now => options.Clock.GetUtcNow();

    /// <summary>The day in the shop, as on its sheets.</summary>
    public DateOnly Today => DateOnly.FromDateTime(options.Clock.GetLocalNow().DateTime);

    /// <summary>Reads in one snapshot.</summary>
    public T Read<T>(Func<Db, T> read) => Guarded(() =>
    {
        db.Execute("BEGIN DEFERRED");
        try
        {
            return read(db);
        }
        finally
        {
            TryRollBack(db);
        }
    });

    /// <summary>Changes in one transaction, entered in the history as one change; nothing is changed when anything fails.</summary>
    public T Write<T>(string kind, Func<ChangeSet, T> write) => Guarded(() =>
    {
        // IMMEDIATE: the right to write is taken before anything is read, so that two programs never act on the same old state.
        db.Execute("BEGIN IMMEDIATE");
        try
        {
            var change = new ChangeSet(db, options.Clock.GetUtcNow(), Today, options.Who, kind);
            var result = write(change);
            change.Close();
            options.BeforeCommit?.Invoke();
            db.Execute("COMMIT");
            return result;
        }
        catch
        {
            TryRollBack(db);
            throw;
        }
    });

    public void Dispose() => db.Dispose();

    internal static void TryRollBack(Db db)
    {
        try
        {
            db.Execute("ROLLBACK");
        }
        catch (SqliteException)
        {
            // SQLite rolled back by itself (disk full, for one); the fault that led here is the one to report.
        }
    }

    private void Guarded(Action action) => Guarded(() =>
    {
        action();
        return true;
    });

    private T Guarded<T>(Func<T> action)
    {
        try
        {
            return action();
        }
        catch (SqliteException fault)
        {
            throw Faults.Translate(fault, Path, options.Wait);
        }
    }
}
