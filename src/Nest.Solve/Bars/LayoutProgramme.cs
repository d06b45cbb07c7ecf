namespace Nest.Solve.Bars;

/// <summary>The linear programme over the layouts known so far.</summary>
/// <remarks>Rows as in <see cref="MasterRows"/>, a column for each layout. Nothing here is safe: it steers.</remarks>
internal sealed class LayoutProgramme : IDisposable
{
    private readonly BarModel model;
    private readonly HashSet<BarPattern> known;
    private readonly LinearProgram lp;

    public LayoutProgramme(BarModel model, double[] rightSides)
    {
        this.model = model;
        (known, Patterns) = ([], []);
        lp = MasterRows.Programme(model, rightSides);
    }

    /// <summary>Columns, in the order of their coming.</summary>
    public List<BarPattern> Patterns { get; }

    /// <summary>Value when it was solved last.</summary>
    public double Objective { get; private set; }

    public void Dispose() => lp.Dispose();

    public double Level(int pattern) => lp.Value(lp.FirstColumn + pattern);

    public double Artificial() => lp.Artificial();

    public void RaiseArtificialCost(double factor) => lp.RaiseArtificialCost(factor);

    /// <summary>Adds a layout; false when it is known.</summary>
    public bool Add(BarPattern pattern)
    {
        if (!known.Add(pattern))
        {
            return false;
        }

        int n = pattern.Items.Length;
        int all = n + (pattern.Group < 0 ? 2 : 4);
        Span<int> rows = stackalloc int[all];
        Span<double> values = stackalloc double[all];
        for (int k = 0; k < n; k++)
        {
            rows[k] = pattern.Items[k];
            values[k] = pattern.Counts[k];
        }

        rows[n] = model.Types + pattern.Stock;
        rows[n + 1] = model.Types + model.Ranges + pattern.Stock;
        if (pattern.Group >= 0)
        {
            rows[n + 2] = model.Types + model.Stocks + pattern.Group;
            rows[n + 3] = model.Types + model.Ranges + model.Stocks + pattern.Group;
        }

        values[n..].Fill(1);
        lp.AddColumn(rows, values, pattern.Cost);
        Patterns.Add(pattern);
        return true;
    }

    /// <summary>Closes layouts with more of a piece than is wanted; set the right sides afterwards.</summary>
    public void CloseSurplus(int[] demand)
    {
        for (int p = 0; p < Patterns.Count; p++)
        {
            lp.Switch(lp.FirstColumn + p, !Fits(Patterns[p], demand));
        }

        lp.Slim();
    }

    /// <summary>Whether a layout has no more of any piece than is wanted.</summary>
    public static bool Fits(BarPattern pattern, int[] demand)
    {
        bool fits = true;
        for (int k = 0; k < pattern.Items.Length && fits; k++)
        {
            fits = pattern.Counts[k] <= demand[pattern.Items[k]];
        }

        return fits;
    }

    /// <summary>Right sides of this demand and these ranges, with noise by row (and whether it is a piece's).</summary>
    public void SetRightSides(int[] demand, int[] low, int[] high, Func<int, bool, double> noise)
    {
        for (int r = 0; r < MasterRows.Count(model); r++)
        {
            bool item = r < model.Types;
            int s = r - model.Types;
            double plain = item ? demand[r] : s < model.Ranges ? high[s] : low[s - model.Ranges];
            lp.SetRhs(r, plain + (item && demand[r] == 0 ? 0 : noise(r, item)));
        }
    }

    /// <summary>Bars of each stock in the linear programme, then bars with a kept leftover of each group.</summary>
    public double[] StockUse()
    {
        var use = new double[model.Ranges];
        for (int p = 0; p < Patterns.Count; p++)
        {
            use[Patterns[p].Stock] += Level(p);
            if (Patterns[p].Group >= 0)
            {
                use[model.Stocks + Patterns[p].Group] += Level(p);
            }
        }

        return use;
    }

    /// <summary>Reads the duals of the items (never negative), then the prices of kept leftovers.</summary>
    public void ReadDual(double[] dual)
    {
        ReadOnlySpan<double> y = lp.Dual;
        for (int i = 0; i < model.Types; i++)
        {
            dual[i] = Math.Max(0, y[i]);
        }

        for (int g = 0; g < model.Groups; g++)
        {
            int r = model.Types + model.Stocks + g;
            dual[model.Types + g] = y[r] + y[r + model.Ranges];
        }
    }

    public void Solve(WorkMeter meter)
    {
        long before = lp.Steps;
        lp.Solve(meter.SecondsLeft);
        meter.Steps(lp.Steps - before);
        Objective = lp.Objective;
    }

    /// <summary>Reduced cost of a layout at the present duals.</summary>
    public double Reduced(BarPattern p)
    {
        ReadOnlySpan<double> y = lp.Dual;
        double d = p.Cost - y[model.Types + p.Stock] - y[model.Types + model.Ranges + p.Stock];
        if (p.Group >= 0)
        {
            int r = model.Types + model.Stocks + p.Group;
            d -= y[r] + y[r + model.Ranges];
        }

        for (int k = 0; k < p.Items.Length; k++)
        {
            d -= p.Counts[k] * y[p.Items[k]];
        }

        return d;
    }
}
