namespace Nest.Solve.Bars;

/// <summary>The linear programme over a pool of layouts with equality rows, cuts and branching rows, and its safe bound.</summary>
/// <remarks>
/// min Σ c_p x_p, Σ a_ip x_p = d_i, stock ranges, rows of <see cref="PoolRow"/>, x ≥ 0, over the layouts still alive. Columns enter
/// the programme only when they price out (the pool is searched by plain scanning). Its bound is safe: see <see cref="PoolBound"/>.
/// </remarks>
internal sealed class PoolProgram : IDisposable
{
    private readonly BarModel model;
    private readonly List<BarPattern> pool;
    private readonly bool[] alive;
    private readonly int[] column;
    private readonly List<int> columnPattern;
    private readonly List<PoolRow> rows;
    private readonly int fixedRows;
    private readonly PoolBound bound;
    private readonly LinearProgram lp;

    public PoolProgram(BarModel model, List<BarPattern> pool, int[] low, int[] high, int seed)
    {
        this.model = model;
        this.pool = pool;
        alive = new bool[pool.Count];
        Array.Fill(alive, true);
        column = new int[pool.Count];
        Array.Fill(column, -1);
        columnPattern = [];
        rows = [];
        fixedRows = model.Types + (2 * model.Ranges);
        long dearest = Enumerable.Range(0, model.Stocks).Max(s => model.Stock(s).Cost) + 1;
        var random = new Random(seed);
        var senses = new RowSense[fixedRows];
        var rightSides = new int[fixedRows];
        var noisy = new double[fixedRows];
        var price = new double[fixedRows];
        for (int r = 0; r < fixedRows; r++)
        {
            int s = r - model.Types;
            senses[r] = s < 0 ? RowSense.Equal : s < model.Ranges ? RowSense.AtMost : RowSense.AtLeast;
            rightSides[r] = s < 0 ? model.Demand[r] : s < model.Ranges ? high[s] : low[s - model.Ranges];
            noisy[r] = rightSides[r] + (s < 0 ? 1e-7 * random.NextDouble() : 0);
            price[r] = 200.0 * dearest;
        }

        bound = new(model, pool, senses, rightSides);
        lp = new LinearProgram(senses, noisy, price);
        for (int p = 0; p < pool.Count && pool.Count <= 3000; p++)
        {
            Enter(p);
        }
    }

    private PoolProgram(PoolProgram other)
    {
        model = other.model;
        pool = other.pool;
        alive = (bool[])other.alive.Clone();
        column = (int[])other.column.Clone();
        columnPattern = [.. other.columnPattern];
        rows = [.. other.rows];
        fixedRows = other.fixedRows;
        bound = other.bound;
        lp = other.lp.Clone();
    }

    /// <summary>Safe bound in cost units, rounded up.</summary>
    public long Bound { get; private set; }

    /// <summary>Layouts still alive.</summary>
    public int Alive { get; private set; }

    public int Rows => rows.Count;

    public double Objective => lp.Objective;

    public long Steps => lp.Steps;

    public IReadOnlyList<BarPattern> Pool => pool;

    public PoolProgram Clone() => new(this);

    public void Dispose() => lp.Dispose();

    public double Level(int p) => column[p] < 0 ? 0 : lp.Value(column[p]);

    /// <summary>Patterns at a level above zero.</summary>
    public List<(int Pattern, double Level)> Active()
    {
        var result = new List<(int, double)>();
        foreach (int p in columnPattern)
        {
            double x = p < 0 ? 0 : Level(p);
            if (x > 1e-7)
            {
                result.Add((p, x));
            }
        }

        result.Sort();
        return result;
    }

    /// <summary>Excludes layouts.</summary>
    public void Exclude(Predicate<BarPattern> drop)
    {
        for (int p = 0; p < alive.Length; p++)
        {
            if (alive[p] && drop(pool[p]))
            {
                Kill(p);
            }
        }
    }

    public void AddRows(IReadOnlyList<PoolRow> added)
    {
        if (added.Count == 0)
        {
            return;
        }

        int first = lp.FirstColumn;
        lp.AddRows([.. added.Select(row => (row.Sense, (double)row.Rhs, (Func<int, double>)(j =>
            j >= first && columnPattern[j - first] >= 0 ? row.Coefficient(pool[columnPattern[j - first]]) : 0)))]);
        rows.AddRange(added);
        while (columnPattern.Count < lp.Columns - first)
        {
            columnPattern.Add(-1);
        }
    }

    /// <summary>Solves over all layouts alive; false when the numbers gave out. The bound and the exclusions are safe either way.</summary>
    public bool Solve(long target, WorkMeter meter)
    {
        bool clean = true;
        for (int round = 0; round < 200; round++)
        {
            if (meter.Stop)
            {
                return false;
            }

            long before = lp.Steps;
            clean = lp.Solve(meter.SecondsLeft);
            meter.Steps(lp.Steps - before);
            if (!clean || !EnterPriced())
            {
                break;
            }
        }

        Evaluate(target, meter);
        return clean;
    }

    private void Enter(int p)
    {
        BarPattern pattern = pool[p];
        int n = pattern.Items.Length;
        Span<int> at = stackalloc int[n + 4 + rows.Count];
        Span<double> by = stackalloc double[n + 4 + rows.Count];
        int k = 0;
        for (; k < n; k++)
        {
            at[k] = pattern.Items[k];
            by[k] = pattern.Counts[k];
        }

        (at[k], by[k++]) = (model.Types + pattern.Stock, 1);
        (at[k], by[k++]) = (model.Types + model.Ranges + pattern.Stock, 1);
        if (pattern.Group >= 0)
        {
            (at[k], by[k++]) = (model.Types + model.Stocks + pattern.Group, 1);
            (at[k], by[k++]) = (model.Types + model.Ranges + model.Stocks + pattern.Group, 1);
        }

        for (int r = 0; r < rows.Count; r++)
        {
            int c = rows[r].Coefficient(pattern);
            if (c != 0)
            {
                (at[k], by[k++]) = (fixedRows + r, c);
            }
        }

        column[p] = lp.AddColumn(at[..k], by[..k], pattern.Cost);
        columnPattern.Add(p);
    }

    private bool EnterPriced()
    {
        if (columnPattern.Count(p => p >= 0) == pool.Count)
        {
            return false;
        }

        ReadOnlySpan<double> y = lp.Dual;
        var list = new List<(double Reduced, int Pattern)>();
        for (int p = 0; p < pool.Count; p++)
        {
            if (!alive[p] || column[p] >= 0)
            {
                continue;
            }

            BarPattern pattern = pool[p];
            double d = pattern.Cost - y[model.Types + pattern.Stock] - y[model.Types + model.Ranges + pattern.Stock];
            if (pattern.Group >= 0)
            {
                d -= y[model.Types + model.Stocks + pattern.Group] + y[model.Types + model.Ranges + model.Stocks + pattern.Group];
            }

            for (int k = 0; k < pattern.Items.Length; k++)
            {
                d -= pattern.Counts[k] * y[pattern.Items[k]];
            }

            for (int r = 0; r < rows.Count; r++)
            {
                double price = y[fixedRows + r];
                if (price != 0)
                {
                    d -= price * rows[r].Coefficient(pattern);
                }
            }

            if (d < -1e-7 * (1 + pattern.Cost))
            {
                list.Add((d, p));
            }
        }

        list.Sort();
        foreach ((_, int p) in list.Take(150))
        {
            Enter(p);
        }

        return list.Count > 0;
    }

    private void Kill(int p)
    {
        alive[p] = false;
        if (column[p] >= 0)
        {
            lp.Switch(column[p], true);
        }
    }

    /// <summary>The safe bound, and exclusion of every layout that no plan within the target can contain.</summary>
    private void Evaluate(long target, WorkMeter meter)
    {
        meter.Steps((long)pool.Count * (10 + rows.Count));
        var (sum, reduced) = bound.Of(lp.Dual, rows, alive);
        Int128 cost = sum <= 0 ? 0 : (sum + bound.Scale - 1) / bound.Scale;
        Bound = cost > long.MaxValue / 4 ? long.MaxValue / 4 : model.RoundUp(cost);
        Int128 gap = ((Int128)target * bound.Scale) - sum;
        Alive = 0;
        for (int p = 0; p < pool.Count; p++)
        {
            if (alive[p])
            {
                if (reduced[p] > gap)
                {
                    Kill(p);
                }
                else
                {
                    Alive++;
                }
            }
        }
    }
}
