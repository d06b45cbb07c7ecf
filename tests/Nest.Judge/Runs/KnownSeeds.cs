using System.Globalization;

namespace Nest.Judge.Runs;

/// <summary>Seeds on which the planner is known to be wrong, with the reason: <c>known.csv</c>. The file shrinks to nothing when all is
/// mended.</summary>
public static class KnownSeeds
{
    /// <summary>Reason by seed.</summary>
    public static IReadOnlyDictionary<int, string> Read() =>
        File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "known.csv")).Skip(1)
            .Where(line => line.Length > 0)
            .Select(line => line.Split(',', 2))
            .ToDictionary(cells => int.Parse(cells[0], CultureInfo.InvariantCulture), cells => cells[1]);
}
