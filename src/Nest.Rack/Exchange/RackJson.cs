using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using Nest.Core.Racks;
using Nest.Rack.Pieces;

namespace Nest.Rack.Exchange;

/// <summary>Pieces as JSON for programs: an array of objects with the columns of <see cref="RackTable"/>, numbers as numbers, what is
/// not known left out.</summary>
public static class RackJson
{
    public static string Of(IEnumerable<RackPiece> pieces)
    {
        using var memory = new MemoryStream();
        using (var json = new Utf8JsonWriter(memory, new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartArray();
            foreach (var piece in pieces)
            {
                json.WriteStartObject();
                foreach (var (head, cell) in RackTable.Heads.Zip(RackTable.Row(piece)))
                {
                    switch (cell)
                    {
                        case decimal number:
                            json.WriteNumber(head, number);
                            break;
                        case string { Length: > 0 } text:
                            json.WriteString(head, text);
                            break;
                        default:
                            break;
                    }
                }

                json.WriteEndObject();
            }

            json.WriteEndArray();
        }

        return Encoding.UTF8.GetString(memory.ToArray());
    }
}
