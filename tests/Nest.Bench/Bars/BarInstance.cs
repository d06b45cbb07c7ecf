using System.Collections.Immutable;
using System.Globalization;
using Nest.Solve.Bars;

namespace Nest.Bench.Bars;

/// <summary>One published instance: the problem with the best bounds known.</summary>
/// <param name="Lower">Published lower bound (bars, or cost with several lengths).</param>
/// <param name="Upper">Published best value; equal to the lower bound where the optimum is known.</param>
internal sealed record BarInstance(string Suite, string Name, BarProblem Problem, long Lower, long Upper)
{
    public int Pieces => Problem.Items.Sum(i => i.Demand);

    /// <summary>Reads a file or all files of a folder, in the order of their names.</summary>
    public static IReadOnlyList<BarInstance> Read(string path)
    {
        IEnumerable<string> files = Directory.Exists(path)
            ? Directory.EnumerateFiles(path, "*.txt").Order(StringComparer.Ordinal)
            : [path];
        return [.. files.SelectMany(ReadFile)];
    }

    private static List<BarInstance> ReadFile(string file)
    {
        var result = new List<BarInstance>();
        string suite = Path.GetFileNameWithoutExtension(file);
        string[][] lines = [.. File.ReadLines(file)
            .Where(l => l.Length > 0 && l[0] != '#')
            .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            .Where(t => t.Length > 0)];
        int at = 0;
        while (at < lines.Length)
        {
            string[] head = lines[at++];
            if (head[0] != "INSTANCE" || head.Length != 6)
            {
                throw new FormatException($"{file}: 'INSTANCE name capacity types lb ub' expected, '{string.Join(' ', head)}' found.");
            }

            int types = int.Parse(head[3], CultureInfo.InvariantCulture);
            var stocks = new List<BarStock>();
            while (at < lines.Length && lines[at][0] == "S")
            {
                string[] s = lines[at++];
                stocks.Add(new BarStock(Whole(s[1]), Whole(s[2]), s[3] == "-" ? null : (int)Whole(s[3])));
            }

            if (stocks.Count == 0)
            {
                stocks.Add(new BarStock(Whole(head[2]), 1));
            }

            var items = ImmutableArray.CreateBuilder<BarItem>();
            for (int k = 0; k < types; k++, at++)
            {
                items.Add(new BarItem(Whole(lines[at][0]), (int)Whole(lines[at][1])));
            }

            var problem = new BarProblem { Stocks = [.. stocks], Items = items.ToImmutable() };
            result.Add(new BarInstance(suite, head[1], problem, Whole(head[4]), Whole(head[5])));
        }

        return result;
    }

    private static long Whole(string text) => long.Parse(text, CultureInfo.InvariantCulture);
}
