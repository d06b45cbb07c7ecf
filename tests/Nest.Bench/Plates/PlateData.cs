using System.Globalization;
using Nest.Solve.Plates;

namespace Nest.Bench.Plates;

/// <summary>One instance of the bench's plate files.</summary>
/// <param name="Values">Profit of one piece of each kind, for the value instances.</param>
/// <param name="Unlimited">Demand was 0: as many copies as wanted (demand is then the most that fit by area).</param>
internal sealed record PlateInstance(
    string Name, IReadOnlyList<PlateStock> Stocks, IReadOnlyList<(long X, long Y, int Demand, long Value)> Items)
{
    public bool Unlimited => Items.All(item => item.Demand == 0);

    public PlateProblem Problem(PlateCutting cutting, bool turn) => new()
    {
        Stocks = [.. Stocks],
        Items = [.. Items.Select(item => new PlateItem(item.X, item.Y, item.Demand, turn))],
        Cutting = cutting,
    };
}

/// <summary>Reads the bench's plain-text format: INSTANCE name plates types, P lines, piece lines.</summary>
internal static class PlateData
{
    public static IEnumerable<PlateInstance> Read(string path, int every, int limit)
    {
        var files = Directory.Exists(path) ? Directory.GetFiles(path, "*.txt").Order(StringComparer.Ordinal) : Enumerable.Repeat(path, 1);
        return files.SelectMany(ReadFile).Where((_, index) => index % every == 0).Take(limit);
    }

    public static IEnumerable<PlateInstance> ReadFile(string file)
    {
        using var lines = File.ReadLines(file).Where(l => l.Length > 0 && l[0] != '#').Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries)).GetEnumerator();
        while (lines.MoveNext())
        {
            var head = lines.Current;
            if (head[0] != "INSTANCE" || head.Length < 4)
            {
                throw new InvalidDataException($"{file}: expected a line INSTANCE, found \"{string.Join(' ', head)}\".");
            }

            var stocks = new List<PlateStock>();
            var items = new List<(long, long, int, long)>();
            for (var p = int.Parse(head[2], CultureInfo.InvariantCulture); p > 0 && lines.MoveNext(); p--)
            {
                var c = lines.Current;
                stocks.Add(new PlateStock(Long(c[1]), Long(c[2]), Long(c[3]), c[4] == "-" ? null : (int)Long(c[4])));
            }

            for (var t = int.Parse(head[3], CultureInfo.InvariantCulture); t > 0 && lines.MoveNext(); t--)
            {
                var c = lines.Current;
                items.Add((Long(c[0]), Long(c[1]), (int)Long(c[2]), Long(c[3])));
            }

            yield return new PlateInstance(head[1], stocks, items);
        }
    }

    private static long Long(string text) => long.Parse(text, CultureInfo.InvariantCulture);
}
