namespace Nest.Solve.Bars;

/// <summary>One layout in the model's types: which pieces, on which stock, its exact cost.</summary>
internal sealed class BarPattern : IEquatable<BarPattern>
{
    private readonly int hash;

    private BarPattern(int stock, int[] items, int[] counts, long used, long cost, int group)
    {
        Group = group;
        Stock = stock;
        Items = items;
        Counts = counts;
        Used = used;
        Cost = cost;
        var h = new HashCode();
        h.Add(stock);
        for (int k = 0; k < items.Length; k++)
        {
            h.Add(items[k]);
            h.Add(counts[k]);
        }

        hash = h.ToHashCode();
    }

    public int Stock { get; }

    /// <summary>Group in which this bar counts as one with a kept leftover, or -1.</summary>
    public int Group { get; }

    /// <summary>Types in the layout, rising.</summary>
    public int[] Items { get; }

    public int[] Counts { get; }

    /// <summary>Scaled weight of the pieces.</summary>
    public long Used { get; }

    /// <summary>Exact cost of one such bar.</summary>
    public long Cost { get; }

    public int Pieces => Counts.Sum();

    /// <summary>Builds a pattern, or null when it breaks a rule of the model (then it is no layout).</summary>
    public static BarPattern? Make(BarModel model, int stock, ReadOnlySpan<int> counts)
    {
        int kinds = 0;
        foreach (int c in counts)
        {
            if (c > 0)
            {
                kinds++;
            }
        }

        var items = new int[kinds];
        var numbers = new int[kinds];
        int k = 0;
        for (int i = 0; i < counts.Length; i++)
        {
            if (counts[i] > 0)
            {
                items[k] = i;
                numbers[k++] = counts[i];
            }
        }

        return Make(model, stock, items, numbers);
    }

    /// <inheritdoc cref="Make(BarModel, int, ReadOnlySpan{int})"/>
    public static BarPattern? Make(BarModel model, int stock, int[] items, int[] counts)
    {
        BarStock bar = model.Stock(stock);
        long used = 0;
        long extra = 0;
        int pieces = 0;
        bool held = bar.ShortestHeld == 0;
        for (int k = 0; k < items.Length; k++)
        {
            int i = items[k];
            if (model.MostCopies[stock][i] == 0)
            {
                return null;
            }

            used += counts[k] * model.Weight[i];
            extra += counts[k] * model.PieceCost(stock, i);
            pieces += counts[k];
            held |= model.Length[i] >= bar.ShortestHeld;
        }

        if (pieces == 0 || used > model.Capacity[stock] || pieces > model.MostPieces[stock])
        {
            return null;
        }

        if (!held && model.LeftoverLength(stock, used) < bar.ShortestHeld)
        {
            return null;
        }

        return new BarPattern(stock, items, counts, used, bar.Cost + extra - model.LeftoverValue(stock, used), model.KeptGroup(stock, used));
    }

    public bool Equals(BarPattern? other) => other is not null && Stock == other.Stock && hash == other.hash
        && Items.AsSpan().SequenceEqual(other.Items) && Counts.AsSpan().SequenceEqual(other.Counts);

    public override bool Equals(object? obj) => Equals(obj as BarPattern);

    /// <summary>A fixed function of the contents within one run; never used for order.</summary>
    public override int GetHashCode() => hash;
}
