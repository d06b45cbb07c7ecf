namespace Nest.Solve.Bars;

/// <summary>The columns of a linear programme, sparse, in one list after the other.</summary>
internal sealed class LpColumns
{
    public LpColumns()
    {
        (Start, Index, Coefficient) = ([0], [], []);
        (Cost, Weight, Off, Place) = ([], [], [], []);
    }

    public LpColumns(LpColumns other)
    {
        (Start, Index, Coefficient) = ([.. other.Start], [.. other.Index], [.. other.Coefficient]);
        (Cost, Weight, Off, Place) = ([.. other.Cost], [.. other.Weight], [.. other.Off], [.. other.Place]);
    }

    public int Count => Cost.Count;

    /// <summary>Where each column's entries begin in <see cref="Index"/> and <see cref="Coefficient"/>; one more at the end.</summary>
    public List<int> Start { get; private set; }

    /// <summary>Rows of the entries.</summary>
    public List<int> Index { get; private set; }

    public List<double> Coefficient { get; private set; }

    public List<double> Cost { get; }

    /// <summary>Devex reference weights.</summary>
    public List<double> Weight { get; }

    /// <summary>Switched off: upper bound 0.</summary>
    public List<bool> Off { get; }

    /// <summary>Row of the basis that a column stands in, or -1.</summary>
    public List<int> Place { get; }

    public int Add(ReadOnlySpan<int> rows, ReadOnlySpan<double> values, double price)
    {
        for (int k = 0; k < rows.Length; k++)
        {
            Index.Add(rows[k]);
            Coefficient.Add(values[k]);
        }

        Start.Add(Index.Count);
        Cost.Add(price);
        Weight.Add(1);
        Off.Add(false);
        Place.Add(-1);
        return Cost.Count - 1;
    }

    /// <summary>Appends rows: each column gets its new entries behind the old ones.</summary>
    /// <param name="old">Number of rows before.</param>
    /// <returns>Of each new row: the entries of the columns that are in the basis, by their places.</returns>
    public List<(int Place, double Value)>[] AppendRows(int old, IReadOnlyList<Func<int, double>> rows)
    {
        var newStart = new List<int>(Start.Count + rows.Count) { 0 };
        var newIndex = new List<int>(Index.Count);
        var newCoefficient = new List<double>(Index.Count);
        var basic = new List<(int Place, double Value)>[rows.Count];
        for (int k = 0; k < rows.Count; k++)
        {
            basic[k] = [];
        }

        for (int j = 0; j < Count; j++)
        {
            for (int k = Start[j]; k < Start[j + 1]; k++)
            {
                newIndex.Add(Index[k]);
                newCoefficient.Add(Coefficient[k]);
            }

            for (int k = 0; k < rows.Count; k++)
            {
                double v = rows[k](j);
                if (v != 0)
                {
                    newIndex.Add(old + k);
                    newCoefficient.Add(v);
                    if (Place[j] >= 0)
                    {
                        basic[k].Add((Place[j], v));
                    }
                }
            }

            newStart.Add(newIndex.Count);
        }

        (Start, Index, Coefficient) = (newStart, newIndex, newCoefficient);
        return basic;
    }
}
