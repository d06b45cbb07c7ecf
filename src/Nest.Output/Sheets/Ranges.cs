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

            parts.Add(Text(sorted[index], sorted[until]));
            index = until + 1;
        }

        return string.Join(", ", parts);
    }

    /// <summary><c>4–12</c>; the number alone where both are one.</summary>
    public static string Text(int first, int last) => first == last ? SheetContext.Text(first) : $"{SheetContext.Text(first)}–{SheetContext.Text(last)}";
}
