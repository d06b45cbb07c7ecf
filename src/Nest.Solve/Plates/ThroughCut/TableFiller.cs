namespace Nest.Solve.Plates.ThroughCut;

/// <summary>Dense sheets for jobs with many equal pieces: patterns of a value table, brought within the copies left and filled up.</summary>
/// <remarks>The table knows no limits of copies; values of pieces it takes too often are lowered step by step (sequential value
/// correction), its pattern loses the surplus, and <see cref="SheetFiller"/> fills the gaps. Heuristic.</remarks>
internal sealed class TableFiller(ThroughModel model, int stock, SheetFiller filler)
{
    private const double TableSteps = 2.5e7;

    private readonly IValueTable _table = ValueTables.Within(model, stock, TableSteps, true);

    /// <summary>Work of one search in units of roughly a microsecond.</summary>
    public long Work(int rounds, int steps) => rounds * ((long)(_table.Steps / 1500) + (12L * steps));

    public void Search(double[] values, int[] left, int rounds, int steps, Action<CutSheet, double> found)
    {
        if (!model.Problem.Stocks[stock].KeepOuts.IsDefaultOrEmpty)
        {
            return;
        }

        var worth = (double[])values.Clone();
        var scale = (1L << 30) / Math.Max(1e-9, values.Max());
        var counts = new int[model.ItemCount];
        var items = new List<int>();
        for (var round = 0; round < rounds; round++)
        {
            var whole = new long[worth.Length];
            for (var i = 0; i < whole.Length; i++)
            {
                whole[i] = left[i] > 0 ? (long)Math.Max(0, worth[i] * scale) : 0;
            }

            _table.Fill(whole);
            var sheet = model.Blank[stock][0].Clone();
            if (!sheet.Build(model, _table.Pattern()) || sheet.Pieces == 0)
            {
                return;
            }

            Array.Clear(counts);
            sheet.AddCounts(counts);
            var over = false;
            for (var i = 0; i < counts.Length; i++)
            {
                if (counts[i] > left[i])
                {
                    over = true;
                    worth[i] *= Math.Max(0.5, Math.Pow((double)left[i] / counts[i], 0.3));
                }
            }

            for (var n = 0; over && n < sheet.Nodes.Length; n++)
            {
                var item = sheet.Nodes[n].Item;
                if (item >= 0 && counts[item] > left[item])
                {
                    counts[item]--;
                    sheet.Take(model, n, items);
                }
            }

            filler.Search(values, left, steps, found, sheet);
            if (!over)
            {
                return;
            }
        }
    }
}
