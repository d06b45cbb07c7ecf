using System.Collections.Immutable;

namespace Nest.Solve.Bars;

/// <summary>A plan in the model's types: layouts with their counts.</summary>
internal sealed class BarPlan
{
    public BarPlan(IEnumerable<(BarPattern Pattern, int Count)> bars)
    {
        var merged = new Dictionary<BarPattern, int>();
        var order = new List<BarPattern>();
        foreach ((BarPattern pattern, int count) in bars)
        {
            if (count == 0)
            {
                continue;
            }

            if (!merged.TryAdd(pattern, count))
            {
                merged[pattern] += count;
            }
            else
            {
                order.Add(pattern);
            }
        }

        Bars = [.. order.Select(p => (p, merged[p]))];
        Cost = Bars.Sum(b => b.Pattern.Cost * b.Count);
    }

    public ImmutableArray<(BarPattern Pattern, int Count)> Bars { get; }

    public long Cost { get; }

    /// <summary>Number of bars.</summary>
    public int Count => Bars.Sum(b => b.Count);

    /// <summary>Takes surplus pieces out; never dearer (see <see cref="BarModel"/>). Null when demand or stock limits are not kept.</summary>
    public static BarPlan? Exact(BarModel model, IEnumerable<(BarPattern Pattern, int Count)> bars)
    {
        var list = bars.Where(b => b.Count > 0).ToList();
        var surplus = new int[model.Types];
        var used = new long[model.Stocks];
        for (int i = 0; i < model.Types; i++)
        {
            surplus[i] = -model.Demand[i];
        }

        foreach ((BarPattern pattern, int count) in list)
        {
            used[pattern.Stock] += count;
            for (int k = 0; k < pattern.Items.Length; k++)
            {
                surplus[pattern.Items[k]] += pattern.Counts[k] * count;
            }
        }

        if (surplus.Any(s => s < 0))
        {
            return null;
        }

        var result = new List<(BarPattern, int)>();

        // Bars with few pieces first: they may become empty altogether.
        foreach ((BarPattern pattern, int count) in list.OrderBy(b => b.Pattern.Used))
        {
            int left = count;
            while (left > 0)
            {
                int[] take = [.. pattern.Items.Select((i, k) => Math.Min(surplus[i], pattern.Counts[k]))];
                if (take.All(t => t == 0))
                {
                    result.Add((pattern, left));
                    break;
                }

                left--;
                var counts = new int[model.Types];
                for (int k = 0; k < take.Length; k++)
                {
                    surplus[pattern.Items[k]] -= take[k];
                    counts[pattern.Items[k]] = pattern.Counts[k] - take[k];
                }

                if (counts.Any(c => c > 0))
                {
                    result.Add((BarPattern.Make(model, pattern.Stock, counts)
                        ?? throw new InvalidOperationException("A layout without its surplus pieces broke a rule."), 1));
                }
                else
                {
                    used[pattern.Stock]--;
                }
            }
        }

        for (int s = 0; s < model.Stocks; s++)
        {
            if (used[s] > (model.Stock(s).Limit ?? int.MaxValue))
            {
                return null;
            }
        }

        return new BarPlan(result);
    }

    /// <summary>The plan in the problem's items, in a fixed order (stock, then longest pieces first).</summary>
    public ImmutableArray<BarLayout> Layouts(BarModel model)
    {
        var left = new int[model.Problem.Items.Length];
        for (int i = 0; i < left.Length; i++)
        {
            left[i] = model.Problem.Items[i].Demand;
        }

        var result = new List<BarLayout>();
        foreach ((BarPattern pattern, int count) in Ordered())
        {
            int todo = count;
            while (todo > 0)
            {
                var counts = new int[left.Length];
                int repeat = todo;
                for (int k = 0; k < pattern.Items.Length; k++)
                {
                    int need = pattern.Counts[k];
                    int[] members = model.Members[pattern.Items[k]];
                    foreach (int i in members)
                    {
                        int take = Math.Min(need, left[i]);
                        if (take > 0)
                        {
                            counts[i] = take;
                            need -= take;
                            repeat = Math.Min(repeat, left[i] / take);
                        }
                    }

                    counts[members[0]] += need;
                }

                for (int i = 0; i < left.Length; i++)
                {
                    left[i] = Math.Max(0, left[i] - (counts[i] * repeat));
                }

                result.Add(new BarLayout(pattern.Stock, ImmutableArray.Create(counts), repeat));
                todo -= repeat;
            }
        }

        return [.. result];
    }

    private IEnumerable<(BarPattern Pattern, int Count)> Ordered() => Bars
        .OrderBy(b => b.Pattern.Stock)
        .ThenBy(b => b.Pattern, Comparer<BarPattern>.Create(Compare));

    private static int Compare(BarPattern a, BarPattern b)
    {
        for (int k = 0; k < Math.Min(a.Items.Length, b.Items.Length); k++)
        {
            int c = a.Items[k].CompareTo(b.Items[k]);
            c = c == 0 ? b.Counts[k].CompareTo(a.Counts[k]) : c;
            if (c != 0)
            {
                return c;
            }
        }

        return b.Items.Length.CompareTo(a.Items.Length);
    }
}
