namespace Nest.Solve.Choose;

/// <summary>Draws which layouts of a plan are emptied, and from which group each freed blank is then to come.</summary>
internal sealed class Neighbourhoods(Component component, FormSplits splits, Random random)
{
    /// <summary>What is to be solved again.</summary>
    /// <param name="Freed">Pieces of each blank that have no place.</param>
    /// <param name="Preferred">The group that each blank is to come from.</param>
    /// <param name="Limits">How many of each stock the kept layouts leave.</param>
    internal sealed record Draw(int[] Freed, int[] Preferred, int?[] Limits, List<(Column, int)> Kept);

    /// <param name="limits">How many of each stock there are; null: as many as wanted. Becomes part of the answer.</param>
    /// <param name="values">Of the blanks, in money units × <see cref="IStockPricer.Scale"/>; null: not known yet.</param>
    /// <returns>Null when there is nothing to empty.</returns>
    public Draw? Of(Chosen plan, int?[] limits, long[]? values)
    {
        var copies = plan.Columns.SelectMany(entry => Enumerable.Repeat(entry.Column, entry.Count)).ToList();
        if (copies.Count == 0 && plan.MissingCount == 0)
        {
            return null;
        }

        // Weak layouts (dear for what they cut) are emptied more often.
        var take = Math.Min(copies.Count, 1 + random.Next(Math.Clamp(copies.Count, 1, 5)));
        var ranked = copies.Select((column, at) => (at, key: Weakness(column, values) * (0.3 + random.NextDouble())))
            .OrderByDescending(entry => entry.key).Take(take).Select(entry => entry.at).ToHashSet();
        var freed = plan.Missing.ToArray();
        var kept = new List<(Column, int)>();
        for (var c = 0; c < copies.Count; c++)
        {
            if (ranked.Contains(c))
            {
                for (var i = 0; i < freed.Length; i++)
                {
                    freed[i] += copies[c].Counts[i];
                }
            }
            else
            {
                kept.Add((copies[c], 1));
                limits[copies[c].Stock] = limits[copies[c].Stock] is { } left ? Math.Max(0, left - 1) : null;
            }
        }

        var preferred = new int[component.Items];
        for (var i = 0; i < preferred.Length; i++)
        {
            preferred[i] = PickGroup(i, copies, ranked);
        }

        return new(freed, preferred, limits, kept);
    }

    private int PickGroup(int item, List<Column> copies, HashSet<int> emptied)
    {
        var serving = Enumerable.Range(0, component.Groups.Length)
            .Where(g => GroupSolver.Serves(component, component.Groups[g], item)).ToList();
        if (serving.Count == 1 || random.Next(3) == 0)
        {
            return serving[random.Next(serving.Count)];
        }

        // Mostly where it was: the neighbours of a good plan are good.
        foreach (var at in emptied.Order())
        {
            if (copies[at].Counts[item] > 0)
            {
                return splits.GroupOf(copies[at].Stock);
            }
        }

        return splits.Cheapest(item);
    }

    private static double Weakness(Column column, long[]? values) => values is null
        ? 1
        : Math.Max(1.0, column.Cost) / Math.Max(1.0, column.Worth(values) / IStockPricer.Scale);
}
