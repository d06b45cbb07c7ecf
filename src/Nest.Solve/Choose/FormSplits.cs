namespace Nest.Solve.Choose;

/// <summary>Ways to split quantities of the blanks between a component's groups of stock: [group][item].</summary>
internal sealed class FormSplits
{
    private readonly Component _component;
    private readonly int[] _groupOf;

    public FormSplits(Component component)
    {
        _component = component;
        _groupOf = new int[component.Stocks.Length];
        for (var g = 0; g < component.Groups.Length; g++)
        {
            foreach (var s in component.Groups[g].Stocks)
            {
                _groupOf[s] = g;
            }
        }
    }

    public int GroupOf(int stock) => _groupOf[stock];

    /// <summary>Preferred group per item: cheapest by estimate, all bars or all plates, then each group as far as it serves.</summary>
    public IEnumerable<int[]> Preferences()
    {
        var cheapest = Enumerable.Range(0, _component.Items).Select(Cheapest).ToArray();
        yield return cheapest;

        // As the one who always buys bars, or plates, would: the estimate knows nothing of how well pieces share a stock piece.
        foreach (var bars in (bool[])[true, false])
        {
            yield return [.. cheapest.Select((own, item) => Cheapest(item, bars) ?? own)];
        }

        for (var g = 0; g < _component.Groups.Length; g++)
        {
            var group = _component.Groups[g];
            var at = g;
            if (group.Stocks.Any(s => _component.Stocks[s].Stock.Available is null))
            {
                yield return [.. cheapest.Select((own, item) => GroupSolver.Serves(_component, group, item) ? at : own)];
            }
        }
    }

    /// <summary>The group with the cheapest unlimited stock for the item by estimate (limited ones only where nothing else serves).</summary>
    public int Cheapest(int item) => Cheapest(item, null) ?? 0;

    /// <summary>Every quantity from the preferred group of its item.</summary>
    public int[][] By(ReadOnlySpan<int> quantities, int[] preferred)
    {
        var split = Empty();
        for (var i = 0; i < quantities.Length; i++)
        {
            split[preferred[i]][i] = quantities[i];
        }

        return split;
    }

    /// <summary>What a plan takes from each group.</summary>
    public int[][] Of(Chosen plan)
    {
        var split = Empty();
        foreach (var (column, count) in plan.Columns)
        {
            for (var i = 0; i < _component.Items; i++)
            {
                split[_groupOf[column.Stock]][i] += column.Counts[i] * count;
            }
        }

        return split;
    }

    private int? Cheapest(int item, bool? bars) => Enumerable.Range(0, _component.Stocks.Length)
        .Where(s => bars is null || _component.Stocks[s].IsBar == bars)
        .Where(s => _component.Fits[s, item] is not null && _component.Stocks[s].Stock.Available != 0)
        .OrderBy(s => _component.Stocks[s].Stock.Available is null ? 0 : 1)
        .ThenBy(s => Estimates.PieceCost(_component, s, item))
        .ThenBy(s => _groupOf[s])
        .Select(s => (int?)_groupOf[s])
        .FirstOrDefault();

    private int[][] Empty() => [.. _component.Groups.Select(_ => new int[_component.Items])];
}
