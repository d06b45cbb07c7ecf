namespace Nest.Judge.Runs;

/// <summary>Jobs on which the planner is known to be wrong, with the reason: <c>known.csv</c>. A seed is named as its job, a kept
/// contradiction as its folder. The file shrinks to nothing when all is mended.</summary>
public static class KnownJobs
{
    /// <summary>Reason by name.</summary>
    public static IReadOnlyDictionary<string, string> Read() =>
        File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "known.csv")).Skip(1)
            .Where(line => line.Length > 0)
            .Select(line => line.Split(',', 2))
            .ToDictionary(cells => cells[0], cells => cells[1], StringComparer.Ordinal);
}
