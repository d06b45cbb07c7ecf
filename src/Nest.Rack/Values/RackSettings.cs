using System.Globalization;
using Nest.Rack.Database;
using Nest.Rack.History;

namespace Nest.Rack.Values;

/// <summary>What a rack remembers of its shop: its unit, the price lists by which pieces are valued, the tables that were entered.</summary>
internal static class RackSettings
{
    public const string Unit = "unit";
    public const string Prices = "prices";

    public static string? Read(Db db, string name) => (string?)db.Value("SELECT value FROM setting WHERE name = $1", name);

    public static void Set(ChangeSet change, string name, string value)
    {
        var ids = change.Db.Query("SELECT id FROM setting WHERE name = $1", row => row.GetInt64(0), name);
        if (ids.Count == 0)
        {
            change.Insert("setting", ("name", name), ("value", value));
        }
        else
        {
            change.Update("setting", ids[0], ("value", value));
        }
    }

    /// <summary>Notes a table that is entered; undoing the entry takes the note back.</summary>
    /// <exception cref="RackException">It was entered before.</exception>
    public static void Once(ChangeSet change, string name)
    {
        if (Read(change.Db, name) is { } before)
        {
            throw RackException.Refused($"this table was entered before, on {before}", "say --again if its pieces are there twice; 'nest rack history' shows the first time");
        }

        Set(change, name, change.Now.UtcDateTime.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
    }
}
