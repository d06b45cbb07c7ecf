namespace Nest.Solve.Bars;

/// <summary>The linear master over layouts, its columns, and the safe bound.</summary>
/// <remarks>
/// min Σ cost_p x_p, Σ a_ip x_p ≥ d_i, lo_s ≤ Σ_{p on s} x_p ≤ hi_s, x ≥ 0 (Gilmore and Gomory 1961), columns by exact pricing,
/// stabilised by smoothing the duals towards the best ones so far (Wentges 1997; Pessoa et al. 2018) and a perturbed right side.
/// Safe bound: for whole numbers π_i ≥ 0 (duals × S, rounded down) and exact V_s = max over layouts of Σ π_i a_i − S·cost(p) + S·Cost_s:
/// S·cost ≥ Σ d_i π_i + Σ_s (S·Cost_s − V_s)·(lo_s or hi_s), a Lagrangian bound in integers; or, with the duals shrunk so that no
/// layout on an unlimited stock prices out (Farley 1990). Floating point steers, integers prove.
/// </remarks>
internal sealed class BarMaster
{
    private readonly BarModel model;
    private readonly BarPricing pricing;
    private readonly HashSet<BarPattern> known;
    private readonly int[] low;
    private readonly int[] high;
    private readonly int[] demand;
    private Simplex lp;
    private double[]? center;
    private BarDual? last;

    public BarMaster(BarModel model, BarPricing pricing, int seed)
    {
        this.model = model;
        this.pricing = pricing;
        known = [];
        Patterns = [];
        low = new int[model.Ranges];
        high = [.. model.MostBars];
        demand = [.. model.Demand];
        var random = new Random(seed);
        int rows = model.Types + (2 * model.Ranges);
        var senses = new Simplex.Sense[rows];
        var rhs = new double[rows];
        var price = new double[rows];
        Noise = new double[rows];
        long dearest = 1;
        for (int s = 0; s < model.Stocks; s++)
        {
            dearest = Math.Max(dearest, model.Stock(s).Cost);
        }

        for (int r = 0; r < rows; r++)
        {
            bool item = r < model.Types;
            bool upper = !item && r < model.Types + model.Ranges;
            senses[r] = upper ? Simplex.Sense.AtMost : Simplex.Sense.AtLeast;
            Noise[r] = 1e-6 * (1 + random.NextDouble()) * (item || upper ? 1 : -1);
            price[r] = item ? 2.0 * Emergency(r, dearest) : 20.0 * dearest;
            rhs[r] = Noise[r] + (item ? model.Demand[r] : upper ? high[r - model.Types] : 0);
        }

        lp = new Simplex(senses, rhs, price);
    }

    private BarMaster(BarMaster other)
    {
        model = other.model;
        pricing = other.pricing;
        known = [.. other.known];
        Patterns = [.. other.Patterns];
        low = [.. other.low];
        high = [.. other.high];
        demand = [.. other.demand];
        Noise = other.Noise;
        lp = other.lp.Clone();
    }

    public int Rounds { get; private set; }

    public long Pivots => lp.Pivots;

    public double[] Noise { get; }

    /// <summary>Columns, in the order of their coming.</summary>
    public List<BarPattern> Patterns { get; }

    /// <summary>Value of the last linear programme (not safe).</summary>
    public double Objective { get; private set; }

    /// <summary>Pieces or stock rows that the linear programme could not serve (not safe).</summary>
    public double Unserved { get; private set; }

    /// <summary>Best safe bound so far for the present demand and stock ranges, in whole cost units, not rounded by granularity.</summary>
    public long Bound { get; private set; }

    /// <summary>The whole-number duals that give the best bound.</summary>
    public BarDual? BestDual { get; private set; }

    /// <summary>Other duals with good bounds: each can exclude layouts of its own.</summary>
    public List<BarDual> Duals { get; } = [];

    /// <summary>True when pricing found nothing more: the linear programme is solved.</summary>
    public bool Converged { get; private set; }

    public BarMaster Clone() => new(this);

    public double Level(int pattern) => lp.Value(lp.FirstColumn + pattern);

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
        Converged = false;
        return true;
    }

    /// <summary>Changes the demand, the ranges of bars and the columns allowed; the bound starts anew.</summary>
    public void Restrict(ReadOnlySpan<int> newDemand, ReadOnlySpan<int> newLow, ReadOnlySpan<int> newHigh, bool proper)
    {
        newDemand.CopyTo(demand);
        newLow.CopyTo(low);
        newHigh.CopyTo(high);
        for (int i = 0; i < model.Types; i++)
        {
            lp.SetRhs(i, demand[i] + (demand[i] > 0 ? Noise[i] : 0));
        }

        for (int s = 0; s < model.Ranges; s++)
        {
            int r = model.Types + s;
            lp.SetRhs(r, high[s] + Noise[r]);
            lp.SetRhs(r + model.Ranges, low[s] + Noise[r + model.Ranges]);
        }

        if (proper)
        {
            for (int p = 0; p < Patterns.Count; p++)
            {
                BarPattern pattern = Patterns[p];
                bool fits = true;
                for (int k = 0; k < pattern.Items.Length && fits; k++)
                {
                    fits = pattern.Counts[k] <= demand[pattern.Items[k]];
                }

                lp.Switch(lp.FirstColumn + p, !fits);
            }
        }

        lp.Refresh();
        center = null;
        BestDual = null;
        Duals.Clear();
        Bound = 0;
        Converged = false;
        if (!lp.SolveDual(5000))
        {
            Restart();
        }
    }

    /// <summary>Column generation until solved, until the bound (rounded up) reaches <paramref name="enough"/>, or the round limit.</summary>
    public void Generate(WorkMeter meter, int rounds, long enough, int perStock = 6)
    {
        var found = new List<(BarPattern Pattern, long Value)>();
        var dual = new double[model.Types + model.Groups];
        double smoothing = 0.8;
        int misses = 0;
        int raised = 0;
        StartCenter();
        for (int round = 0; round < rounds && !meter.Stop; round++)
        {
            SolveLp(meter);
            Rounds++;
            ReadDual(dual);
            double share = Math.Max(0, 1 - ((misses + 1) * (1 - smoothing)));
            bool smooth = center is not null && share > 0.01;
            var tried = dual;
            if (smooth)
            {
                tried = new double[dual.Length];
                for (int i = 0; i < tried.Length; i++)
                {
                    tried[i] = (share * center![i]) + ((1 - share) * dual[i]);
                }
            }

            found.Clear();
            PriceAt(tried, perStock, found, meter, false);
            if (model.RoundUp(Bound) >= enough)
            {
                return;
            }

            int added = AddImproving(found);
            if (smooth && misses == 0)
            {
                smoothing = Uphill(found, dual) ? Math.Max(0, smoothing - 0.1) : Math.Min(0.99, smoothing + (0.1 * (1 - smoothing)));
            }

            if (added > 0)
            {
                misses = 0;
                continue;
            }

            if (smooth)
            {
                // No column for the real duals: step closer to them, at last price the real ones.
                misses++;
                continue;
            }

            if (lp.Artificial() > 1e-4 && raised < 4)
            {
                lp.SetArtificialCost(8);
                raised++;
                center = null;
                misses = 0;
                continue;
            }

            Converged = true;
            return;
        }
    }

    /// <summary>Before any duals are known: the least price per weight, a dual solution that is always valid.</summary>
    private void StartCenter()
    {
        if (center is not null)
        {
            return;
        }

        double rate = double.PositiveInfinity;
        for (int s = 0; s < model.Stocks; s++)
        {
            if (high[s] > 0 && model.Capacity[s] > 0)
            {
                rate = Math.Min(rate, (double)model.LeastCost(s) / model.Capacity[s]);
            }
        }

        center = [.. model.Weight.Select(w => double.IsInfinity(rate) ? 0 : w * rate), .. new double[model.Groups]];
    }

    /// <summary>Whether the bound still grows in the direction of the real duals: then smoothing was too strong.</summary>
    private bool Uphill(List<(BarPattern Pattern, long Value)> found, double[] dual)
    {
        if (found.Count == 0 || center is null)
        {
            return true;
        }

        BarPattern best = found[0].Pattern;
        double bars = best.Cost > 0 ? Objective / best.Cost : 0;
        double slope = 0;
        for (int i = 0; i < model.Types; i++)
        {
            slope += demand[i] * (dual[i] - center[i]);
        }

        for (int k = 0; k < best.Items.Length; k++)
        {
            int i = best.Items[k];
            slope -= bars * best.Counts[k] * (dual[i] - center[i]);
        }

        return slope > 0;
    }

    /// <summary>Solves the true (unperturbed) programme on the present columns and prices exactly at its duals with a fine scale.</summary>
    public void Sharpen(WorkMeter meter)
    {
        SetRightSides(static (_, _) => 0);
        lp.SolveDual(2000);
        PriceToEnd(meter, 30, true);
        Collect();
        SetRightSides((r, _) => Noise[r]);
        lp.SolveDual(2000);
    }

    /// <summary>Other optimal duals: the right sides are moved a little at random and the programme solved to the end. The bounds that
    /// the new duals give for the true demand are as good; which layouts they exclude differs.</summary>
    public void Diversify(WorkMeter meter, Random random, double size, int count)
    {
        for (int n = 0; n < count && !meter.Stop; n++)
        {
            SetRightSides((r, item) => item && demand[r] > 0 ? size * ((2 * random.NextDouble()) - 1) : Noise[r]);
            lp.SolveDual(2000);
            PriceToEnd(meter, 40, true);
            Collect();
        }

        SetRightSides((r, _) => Noise[r]);
        lp.SolveDual(2000);
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

    private void PriceToEnd(WorkMeter meter, int rounds, bool fine)
    {
        var found = new List<(BarPattern Pattern, long Value)>();
        var dual = new double[model.Types + model.Groups];
        for (int round = 0; round < rounds && !meter.Stop; round++)
        {
            SolveLp(meter);
            ReadDual(dual);
            found.Clear();
            PriceAt(dual, 6, found, meter, fine);
            if (AddImproving(found) == 0)
            {
                break;
            }
        }
    }

    private void Collect()
    {
        if (last is not null && last.Bound + model.Granularity >= Bound && Duals.TrueForAll(d => d != last))
        {
            Duals.Add(last);
        }
    }

    private void SetRightSides(Func<int, bool, double> noise)
    {
        for (int r = 0; r < Noise.Length; r++)
        {
            bool item = r < model.Types;
            int s = r - model.Types;
            double plain = item ? demand[r] : s < model.Ranges ? high[s] : low[s - model.Ranges];
            lp.SetRhs(r, plain + (item && demand[r] == 0 ? 0 : noise(r, item)));
        }

        lp.Refresh();
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

    private double Emergency(int type, long dearest)
    {
        double best = double.PositiveInfinity;
        for (int s = 0; s < model.Stocks; s++)
        {
            if (model.MostCopies[s][type] > 0)
            {
                best = Math.Min(best, model.Stock(s).Cost + (double)model.PieceCost(s, type));
            }
        }

        return Math.Max(1, double.IsInfinity(best) ? dearest : best);
    }

    private void SolveLp(WorkMeter meter)
    {
        long before = lp.Steps;
        if (!lp.SolvePrimal(20000))
        {
            Restart();
            lp.SolvePrimal(20000);
        }

        meter.Steps(lp.Steps - before);
        Objective = lp.Objective;
        Unserved = lp.Artificial();
    }

    /// <summary>A fresh basis, for the case that rounding errors spoilt the old one.</summary>
    private void Restart()
    {
        int rows = Noise.Length;
        var senses = new Simplex.Sense[rows];
        var rhs = new double[rows];
        var price = new double[rows];
        long dearest = Enumerable.Range(0, model.Stocks).Max(s => Math.Max(1, model.Stock(s).Cost));
        for (int r = 0; r < rows; r++)
        {
            bool item = r < model.Types;
            senses[r] = !item && r < model.Types + model.Ranges ? Simplex.Sense.AtMost : Simplex.Sense.AtLeast;
            rhs[r] = lp.Rhs(r);
            price[r] = item ? 2.0 * Emergency(r, dearest) : 20.0 * dearest;
        }

        Simplex old = lp;
        lp = new Simplex(senses, rhs, price);
        var again = new List<BarPattern>(Patterns);
        Patterns.Clear();
        known.Clear();
        for (int p = 0; p < again.Count; p++)
        {
            bool off = old.IsOff(old.FirstColumn + p);
            Add(again[p]);
            lp.Switch(lp.FirstColumn + p, off);
        }
    }

    private int AddImproving(List<(BarPattern Pattern, long Value)> found)
    {
        int added = 0;
        foreach ((BarPattern pattern, _) in found)
        {
            bool fits = true;
            for (int k = 0; k < pattern.Items.Length && fits; k++)
            {
                fits = pattern.Counts[k] <= demand[pattern.Items[k]];
            }

            if (fits && Reduced(pattern) < -1e-8 * (1 + pattern.Cost) && Add(pattern))
            {
                added++;
            }
        }

        return added;
    }

    private double Reduced(BarPattern p)
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

    private void PriceAt(double[] dual, int perStock, List<(BarPattern, long)> found, WorkMeter meter, bool fine)
    {
        long scale = ScaleFor(dual, fine);
        var whole = new long[dual.Length];
        for (int i = 0; i < whole.Length; i++)
        {
            whole[i] = (long)Math.Floor(dual[i] * scale);
        }

        pricing.Price(whole, scale, demand, perStock, s => high[s] > 0, found, meter);
        Consider(whole, scale, dual);
    }

    /// <summary>A power of two such that all sums stay far from overflow: coarse ones allow the narrow table.</summary>
    private long ScaleFor(double[] dual, bool fine)
    {
        double largest = 1;
        for (int g = model.Types; g < dual.Length; g++)
        {
            largest = Math.Max(largest, Math.Abs(dual[g]));
        }

        for (int s = 0; s < model.Stocks; s++)
        {
            double density = 0;
            for (int i = 0; i < model.Types; i++)
            {
                density = Math.Max(density, demand[i] > 0 ? dual[i] / model.Weight[i] : 0);
                largest = Math.Max(largest, dual[i]);
            }

            largest = Math.Max(largest, Math.Max(density * model.Capacity[s] * 1.02, model.Stock(s).Cost));
        }

        double room = (fine ? Math.Pow(2, 50) : Math.Pow(2, 28.9)) / largest;
        if (!fine && room < 1 << 8)
        {
            room = Math.Pow(2, 50) / largest;
        }

        return 1L << Math.Max(0, (int)Math.Floor(Math.Log2(Math.Max(1, room))));
    }

    private void Consider(long[] whole, long scale, double[] dual)
    {
        var plain = new BarDual(model, whole, scale, pricing.Best, demand, low, high);

        // Farley: shrink the duals until no layout on a stock without a limit of its own prices out.
        long num = 1;
        long den = 1;
        bool shrink = false;
        for (int s = 0; s < model.Stocks; s++)
        {
            long over = pricing.Best[s] - (scale * model.Stock(s).Cost);
            long least = scale * model.LeastCost(s);
            if (over > 0 && model.Stock(s).Limit is null && least > 0 && high[s] > 0)
            {
                if (!shrink || (Int128)least * den < (Int128)num * (least + over))
                {
                    num = least;
                    den = least + over;
                }

                shrink = true;
            }
        }

        if (shrink)
        {
            var smaller = new long[whole.Length];
            for (int i = 0; i < whole.Length; i++)
            {
                // Towards less than nothing: no layout may gain by the rounding.
                Int128 product = (Int128)whole[i] * num;
                smaller[i] = (long)(product >= 0 ? product / den : -((-product + den - 1) / den));
            }

            var best = (long[])pricing.Best.Clone();
            for (int s = 0; s < model.Stocks; s++)
            {
                if (model.Stock(s).Limit is null && model.LeastCost(s) > 0)
                {
                    best[s] = Math.Min(best[s], scale * model.Stock(s).Cost);
                }
                else if (model.GroupOf[s] >= 0)
                {
                    // With a price of kept leftovers below zero, shrinking it can raise a layout's value, never above the empty bar's.
                    best[s] = Math.Max(best[s], scale * model.LeftoverValue(s, 0));
                }
            }

            var farley = new BarDual(model, smaller, scale, best, demand, low, high);
            if (farley.Scaled > plain.Scaled)
            {
                Keep(farley, dual);
                return;
            }
        }

        Keep(plain, dual);
    }

    private void Keep(BarDual found, double[] dual)
    {
        last = found;
        if (BestDual is null || found.Scaled * BestDual.Scale > BestDual.Scaled * found.Scale)
        {
            BestDual = found;
            Bound = Math.Max(Bound, found.Bound);
            center = (double[])dual.Clone();
        }
        else if (center is null)
        {
            center = (double[])dual.Clone();
        }
    }
}
