using System.Text;

namespace Nest.Fuzz.Tables;

/// <summary>Makes tables that people and enemies could hand in, from a few honest ones, by a seed.</summary>
public sealed class TableMutations(int seed)
{
    private static readonly string[] Nasty =
    [
        "", " ", "0", "-1", "1e308", "NaN", "Infinity", "-0", "1/0", "1/3", "99999999999999999999", "1,250", "1.250", "1.250.000,5", "1'250", "12,5", "½", "4¼", "5/8\"", "5/8 dia x 3-1/4", "x", "x x x", "Ø", "Ø20 x 85", "1x2x3x4x5x6",
        "=1+1", ";=1+1", "+cmd|' /C calc'!A0", "@SUM(1)", "\u001b[31m", "\u202Eabc", "\u0000", "\uFFFD", "\uD800", "\r", "a\nb", "\"", "\"\"\"", "'", "#", "# x", "sep=;", "total", "Total:", "Summe", "mm", "in", "(in)", "none", "part", "material", "size", "quantity",
        "any", "plate", "round", "6061", "brass", "aluminum", "Delrin", "100 mm", "100 m", "31 m", "10 km", "1 µm", "0.0000001", "2-Jan", "2026-01-02", "call", "$21.40", "5: 38.50; 10: 35", "5-9", "10+", "cwt", "per 100", "incremental", "only", "all", "left right", "10,8,2,2; 3,3,1,1", "10,5 8 2 2", "-1,0,5,5", "along length", "poor", "reserved", "21,40 €", "3.20/ft", "num:1e400", "num:-5", "num:NaN", "num:0.1", "date:46000", "date:-1", "pct:0.05", "f:3", "f!", "hidden:x", "merge:3:x",
        "All dimensions in inches", "Units: mm", "hex 20 x 85", "L100 x W50 x T8", "100 long x 8 thk x 50 wide", "3 by 4 by 5", "٣", "１２", "ﬁ", "Ⅻ", "×",
    ];

    private readonly Random random = new(seed);

    /// <summary>A file's name and bytes.</summary>
    /// <param name="as">text, xlsx or ods; null: any, text most often.</param>
    public (string Name, byte[] Bytes) Next(TableKind of = TableKind.Parts, string? @as = null)
    {
        var honest = HonestTables.Of(of);
        var rows = honest[random.Next(honest.Count)].Select(row => row.ToList()).ToList();
        for (var change = random.Next(5); change > 0; change--)
        {
            Change(rows);
        }

        var grid = new Grid([.. rows.Select(row => row.ToArray())]);
        var kind = @as switch { "xlsx" => 0, "ods" => 1, "text" => random.Next(2, 10), _ => random.Next(10) };
        var (name, bytes) = kind switch
        {
            0 => ("a.xlsx", grid.Xlsx(before: random.Next(3) == 0 ? "<dimension ref=\"A1:XFD1048576\"/>" : "")),
            1 => ("a.ods", grid.Ods()),
            2 => ("a.csv", [.. Encoding.Unicode.GetPreamble(), .. Encoding.Unicode.GetBytes(Text(grid))]),
            3 => ("a.csv", Encoding.Latin1.GetBytes(Text(grid))),
            4 => ("a.csv", [0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(Text(grid))]),
            _ => ("a.csv", Encoding.UTF8.GetBytes(Text(grid))),
        };
        // A workbook on its own is changed within its parts too.
        return (name, random.Next(6) != 0 ? bytes : @as is "xlsx" or "ods" && random.Next(4) > 0 ? FileChange.Of(bytes, random) : Broken(bytes));
    }

    private string Text(Grid grid) => grid.Text(",;\t|"[random.Next(4)]);

    private void Change(List<List<string>> rows)
    {
        var row = rows[random.Next(rows.Count)];
        switch (random.Next(12))
        {
            case 0:
                rows.Insert(random.Next(rows.Count + 1), [.. row]);
                break;
            case 1 when rows.Count > 1:
                rows.Remove(row);
                break;
            case 2:
                rows.Insert(random.Next(rows.Count + 1), [.. Enumerable.Range(0, random.Next(9)).Select(_ => Word())]);
                break;
            case 3:
                row.Add(Word());
                break;
            case 4:
                var column = random.Next(8);
                foreach (var each in rows.Where(each => column < each.Count))
                {
                    each.RemoveAt(column);
                }

                break;
            case 5:
                var place = random.Next(8);
                foreach (var each in rows)
                {
                    each.Insert(Math.Min(place, each.Count), Word());
                }

                break;
            case 6 when row.Count > 0:
                var at = random.Next(row.Count);
                row[at] += Word();
                break;
            case 7 when row.Count > 0 && random.Next(20) == 0:
                row[random.Next(row.Count)] = new string(Word().FirstOrDefault('a'), 1 << random.Next(15));
                break;
            default:
                if (row.Count > 0)
                {
                    row[random.Next(row.Count)] = Word();
                }

                break;
        }
    }

    private string Word() => Nasty[random.Next(Nasty.Length)];

    /// <summary>Bytes changed, cut off, doubled or put in.</summary>
    private byte[] Broken(byte[] bytes)
    {
        var list = bytes.ToList();
        for (var change = random.Next(4); change >= 0 && list.Count > 0; change--)
        {
            var at = random.Next(list.Count);
            switch (random.Next(5))
            {
                case 0:
                    list.RemoveRange(at, list.Count - at);
                    break;
                case 1:
                    list[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 2:
                    list.Insert(at, (byte)random.Next(256));
                    break;
                case 3:
                    list.InsertRange(at, list.GetRange(at, Math.Min(list.Count - at, random.Next(64))));
                    break;
                default:
                    list[at] = (byte)random.Next(256);
                    break;
            }
        }

        return [.. list];
    }
}
