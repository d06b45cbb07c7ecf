using System.Globalization;
using System.Text;

namespace Nest.Tests.Output;

/// <summary>Reads DXF as its public group-code description says: pairs of lines, entities that start with code 0. Knows nothing of
/// the writer.</summary>
internal sealed class DxfReader
{
    public List<(string Type, string Layer, Dictionary<int, string> Codes)> Entities { get; } = [];

    public List<(string Layer, bool Closed, List<(decimal X, decimal Y)> Points)> Polylines { get; } = [];

    public List<string> Layers { get; } = [];

    public string Version { get; private set; } = "";

    public static DxfReader Read(byte[] bytes)
    {
        Array.TrueForAll(bytes, b => b < 128).Should().BeTrue("release 12 is ASCII");
        var lines = Encoding.ASCII.GetString(bytes).Split("\r\n");
        var pairs = new List<(int Code, string Value)>();
        for (var at = 0; at + 1 < lines.Length; at += 2)
        {
            pairs.Add((int.Parse(lines[at].Trim(), CultureInfo.InvariantCulture), lines[at + 1]));
        }

        pairs[^1].Should().Be((0, "EOF"));
        var reader = new DxfReader();
        var section = "";
        for (var at = 0; at < pairs.Count; at++)
        {
            var (code, value) = pairs[at];
            if (code == 9 && value == "$ACADVER")
            {
                reader.Version = pairs[at + 1].Value;
            }

            if (code != 0)
            {
                continue;
            }

            var codes = new Dictionary<int, string>();
            for (var next = at + 1; next < pairs.Count && pairs[next].Code != 0; next++)
            {
                codes.TryAdd(pairs[next].Code, pairs[next].Value);
            }

            reader.Take(value, codes, ref section);
        }

        return reader;
    }

    private void Take(string type, Dictionary<int, string> codes, ref string section)
    {
        switch (type)
        {
            case "SECTION":
                section = codes[2];
                break;
            case "LAYER" when section == "TABLES":
                Layers.Add(codes[2]);
                break;
            case "POLYLINE":
                Polylines.Add((codes[8], (int.Parse(codes[70], CultureInfo.InvariantCulture) & 1) == 1, []));
                break;
            case "VERTEX":
                Polylines[^1].Points.Add((Number(codes[10]), Number(codes[20])));
                break;
            case "LINE" or "TEXT" when section == "ENTITIES":
                Entities.Add((type, codes[8], codes));
                break;
            default:
                break;
        }
    }

    public static decimal Number(string text) => decimal.Parse(text, CultureInfo.InvariantCulture);
}
