using System.Text;
using System.Text.Json;
using Nest.Rack.Database;

namespace Nest.Rack.History;

/// <summary>Columns of one row, as the history keeps them.</summary>
internal static class RowImage
{
    /// <summary>The whole row; null when there is none.</summary>
    public static Dictionary<string, object?>? Read(Db db, string table, long id)
    {
        var rows = db.Query($"SELECT * FROM {table} WHERE id = $1", reader =>
        {
            var row = new Dictionary<string, object?>(StringComparer.Ordinal);
            for (var i = 0; i < reader.FieldCount; i++)
            {
                row[reader.GetName(i)] = reader.IsDBNull(i) ? null : reader.GetValue(i);
            }

            return row;
        }, id);
        return rows.Count == 0 ? null : rows[0];
    }

    public static string ToJson(IEnumerable<KeyValuePair<string, object?>> row)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            foreach (var (name, value) in row)
            {
                switch (value)
                {
                    case null:
                        json.WriteNull(name);
                        break;
                    case string text:
                        json.WriteString(name, text);
                        break;
                    default:
                        json.WriteNumber(name, Convert.ToInt64(value, System.Globalization.CultureInfo.InvariantCulture));
                        break;
                }
            }

            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }

    public static Dictionary<string, object?> FromJson(string json)
    {
        using var document = JsonDocument.Parse(json);
        var row = new Dictionary<string, object?>(StringComparer.Ordinal);
        foreach (var property in document.RootElement.EnumerateObject())
        {
            row[property.Name] = property.Value.ValueKind switch
            {
                JsonValueKind.Null => null,
                JsonValueKind.String => property.Value.GetString(),
                _ => property.Value.GetInt64(),
            };
        }

        return row;
    }

    public static bool Same(object? a, object? b) => Equals(Plain(a), Plain(b));

    private static object? Plain(object? value) => value switch
    {
        null or string or long => value,
        DBNull => null,
        _ => Convert.ToInt64(value, System.Globalization.CultureInfo.InvariantCulture),
    };
}
