namespace Nest.Solve.Plates.ThroughCut;

/// <summary>A layout as a column of the master problem.</summary>
/// <param name="Counts">Items on it with their numbers.</param>
internal sealed record Column(int Stock, (int Item, int Count)[] Counts, long Cost, CutSheet Sheet)
{
    public static Column Of(ThroughModel model, CutSheet sheet)
    {
        var counts = new int[model.ItemCount];
        sheet.AddCounts(counts);
        return new Column(
            sheet.Stock,
            [.. Enumerable.Range(0, counts.Length).Where(i => counts[i] > 0).Select(i => (i, counts[i]))],
            CutPlan.SheetCost(model, sheet),
            sheet.Clone());
    }
}

/// <summary>Layouts found so far, each multiset of pieces once per kind of plate.</summary>
internal sealed class ColumnPool(ThroughModel model, int most)
{
    private readonly HashSet<(int, ulong)> _seen = [];

    public List<Column> Columns { get; } = [];

    public bool Add(CutSheet sheet)
    {
        if (sheet.Pieces == 0 || Columns.Count >= most || !_seen.Add((sheet.Stock, sheet.Key)))
        {
            return false;
        }

        Columns.Add(Column.Of(model, sheet));
        return true;
    }
}
