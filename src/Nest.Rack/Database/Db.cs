using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Nest.Rack.Database;

/// <summary>One connection with its prepared statements. Parameters are <c>$1</c>, <c>$2</c> … in order.</summary>
/// <remarks>Not for several threads at once.</remarks>
internal sealed class Db : IDisposable
{
    private readonly SqliteConnection connection;
    private readonly Dictionary<string, SqliteCommand> prepared = new(StringComparer.Ordinal);

    public Db(string path, TimeSpan wait, bool durable = true)
    {
        connection = new(ConnectionString(path, SqliteOpenMode.ReadWriteCreate));
        try
        {
            connection.Open();
            Execute(string.Create(CultureInfo.InvariantCulture, $"PRAGMA busy_timeout = {(int)wait.TotalMilliseconds}"));

            // Rollback journal, not a write-ahead log: the rack is one file that can be copied whenever Nest is not running, and it
            // can be read from a folder that may not be written. EXTRA also flushes the folder after the journal is deleted, so that
            // a change that was acknowledged outlasts a power cut, not only a killed program.
            Execute("PRAGMA journal_mode = DELETE");
            Execute(durable ? "PRAGMA synchronous = EXTRA" : "PRAGMA synchronous = OFF");
            Execute("PRAGMA foreign_keys = ON");
            Execute("PRAGMA trusted_schema = OFF");
            Execute("PRAGMA cell_size_check = ON");
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    public static string ConnectionString(string path, SqliteOpenMode mode) => new SqliteConnectionStringBuilder
    {
        DataSource = path,
        Mode = mode,
        Pooling = false,

        // SQLite itself waits (busy_timeout); one second here keeps the provider from waiting once more on top.
        DefaultTimeout = 1,
    }.ToString();

    public int Execute(string sql, params ReadOnlySpan<object?> values) => Command(sql, values).ExecuteNonQuery();

    /// <summary>Several statements at once, not kept.</summary>
    public void Script(string sql)
    {
        using var command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    public long Number(string sql, params ReadOnlySpan<object?> values) =>
        Convert.ToInt64(Command(sql, values).ExecuteScalar(), CultureInfo.InvariantCulture);

    public object? Value(string sql, params ReadOnlySpan<object?> values)
    {
        var value = Command(sql, values).ExecuteScalar();
        return value is DBNull ? null : value;
    }

    public List<T> Query<T>(string sql, Func<SqliteDataReader, T> read, params ReadOnlySpan<object?> values)
    {
        using var reader = Command(sql, values).ExecuteReader();
        var rows = new List<T>();
        while (reader.Read())
        {
            rows.Add(read(reader));
        }

        return rows;
    }

    public long LastId => Number("SELECT last_insert_rowid()");

    public void Dispose()
    {
        foreach (var command in prepared.Values)
        {
            command.Dispose();
        }

        prepared.Clear();
        connection.Dispose();
    }

    private SqliteCommand Command(string sql, ReadOnlySpan<object?> values)
    {
        if (!prepared.TryGetValue(sql, out var command))
        {
            command = connection.CreateCommand();
            command.CommandText = sql;
            for (var i = 0; i < values.Length; i++)
            {
                command.Parameters.Add(new SqliteParameter(string.Create(CultureInfo.InvariantCulture, $"${i + 1}"), null));
            }

            prepared.Add(sql, command);
        }

        for (var i = 0; i < values.Length; i++)
        {
            command.Parameters[i].Value = values[i] ?? DBNull.Value;
        }

        return command;
    }
}
