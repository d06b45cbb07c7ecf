using System.Globalization;
using System.Runtime.CompilerServices;
using Nest.Solve.Plates;

namespace Nest.Tests.Plates.Free;

/// <summary>Reads the published instances under Data/plates-free; the files' heads name their sources.</summary>
internal static class PublishedPlates
{
    public static IEnumerable<(string Name, PlateProblem Problem, long Plates)> Read(string file, bool turn, [CallerFilePath] string here = "")
    {
        var path = Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "Data", "plates-free", file);
        var rows = new Queue<string[]>(File.ReadLines(path).Where(l => l.Length > 0 && l[0] != '#').Select(l => l.Split(' ')));
        while (rows.TryDequeue(out var head))
        {
            var n = head[2..].Select(t => long.Parse(t, CultureInfo.InvariantCulture)).ToArray();
            var items = Enumerable.Range(0, (int)n[2]).Select(_ => rows.Dequeue().Select(t => int.Parse(t, CultureInfo.InvariantCulture)).ToArray());
            yield return (head[1], new PlateProblem
            {
                Stocks = [new PlateStock(n[0], n[1], 1)],
                Items = [.. items.Select(i => new PlateItem(i[0], i[1], i[2], turn))],
                Cutting = new PlateCutting { Free = true },
            }, n[3]);
        }
    }
}
