namespace Nest.Output.Sheets;

/// <summary>Numbers in short: 1, 2, 3, 7 → 1–3, 7.</summary>
internal static class Ranges
{
    /// <param name="sorted">Ascending.</param>
    public static string Text(IReadOnlyList<int> sorted)
    {
        var parts = new List<string>();
        for (var index = 0; index < sorted.Count;)
        {
            var until = index;
            while (until + 1 < sorted.Count && sorted[until + 1] == sorted[until] + 1)
            {
                until++;
            }

            parts.Add(until == index ? SheetContext.Text(sorted[index]) : $"{SheetContext.Text(sorted[index])}–{SheetContext.Text(sorted[until])}");
            index = until + 1;
        }

        return string.Join(", ", parts);
    }
}
