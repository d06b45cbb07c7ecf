namespace Nest.Solve.Bars;

/// <summary>The linear master over layouts, its columns, and the safe bound.</summary>
/// <remarks>
/// min Σ cost_p x_p, Σ a_ip x_p ≥ d_i, lo_s ≤ Σ_{p on s} x_p ≤ hi_s, x ≥ 0 (Gilmore and Gomory 1961), columns by exact pricing,
/// stabilised by smoothing the duals towards the best ones so far (Wentges 1997; Pessoa et al. 2018) and a perturbed right side.
/// Safe bound: for whole numbers π_i ≥ 0 (duals × S, rounded down) and exact V_s = max over layouts of Σ π_i a_i − S·cost(p) + S·Cost_s:
/// S·cost ≥ Σ d_i π_i + Σ_s (S·Cost_s − V_s)·(lo_s or hi_s), a Lagrangian bound in integers; or, with the duals shrunk so that no
/// layout on an unlimited stock prices out (Farley 1990). Floating point steers, integers prove.
/// </remarks>
internal sealed class BarMaster : IDisposable
{
    private const double Raise = 8;
    private const int MostRaises = 4;

    private readonly BarModel model;
    private readonly BarPricing pricing;
    private readonly int[] low;
    private readonly int[] high;
    private readonly int[] demand;
    private readonly SafeBound bound;
    private readonly DualCenter center;
    private readonly LayoutProgramme lp;
    private readonly BarMaster? lender;
    private int raised;

    public BarMaster(BarModel model, BarPricing pricing, int seed)
    {
        this.model = model;
        this.pricing = pricing;
        low = new int[model.Ranges];
        high = [.. model.MostBars];
        demand = [.. model.Demand];
        Noise = MasterRows.Noise(model, seed);
        var rhs = new double[Noise.Length];
        for (int r = 0; r < rhs.Length; r++)
        {
            int s = r - model.Types;
            rhs[r] = Noise[r] + (s < 0 ? demand[r] : s < model.Ranges ? high[s] : 0);
        }

        lp = new LayoutProgramme(model, rhs);
        bound = new SafeBound(model, pricing, demand, low, high);
        center = new DualCenter(model, demand, high);
    }

    private BarMaster(BarMaster other)
    {
        model = other.model;
        pricing = other.pricing;
        low = [.. other.low];
        high = [.. other.high];
        demand = [.. other.demand];
        Noise = other.Noise;
        lender = other;
        lp = other.lp;
        bound = new SafeBound(model, pricing, demand, low, high);
        center = new DualCenter(model, demand, high);
    }

    public double[] Noise { get; }

    /// <summary>Columns, in the order of their coming.</summary>
    public List<BarPattern> Patterns => lp.Patterns;

    /// <summary>Value of the last linear programme (not safe).</summary>
    public double Objective => lp.Objective;

    /// <summary>Best safe bound so far for the present demand and stock ranges, in whole cost units, not rounded by granularity.</summary>
    public long Bound => bound.Value;

    /// <summary>The whole-number duals that give the best bound.</summary>
    public BarDual? BestDual => bound.Best;

    /// <summary>Other duals with good bounds: each can exclude layouts of its own.</summary>
    public List<BarDual> Duals { get; } = [];

    /// <summary>A master with a demand, ranges and bounds of its own over the same programme, which is this one's again when that is disposed of;
    /// the layouts that it found stay.</summary>
    public BarMaster Borrow() => new(this);

    public void Dispose()
    {
        if (lender is null)
        {
            lp.Dispose();
            return;
        }

        lp.CloseSurplus(model.Demand);
        lp.RaiseArtificialCost(Math.Pow(Raise, -raised));
        lender.SetNoisyRightSides();
    }

    public double Level(int pattern) => lp.Level(pattern);

    /// <summary>Adds a layout; false when it is known.</summary>
    public bool Add(BarPattern pattern) => lp.Add(pattern);

    /// <summary>Bars of each stock in the linear programme, then bars with a kept leftover of each group.</summary>
    public double[] StockUse() => lp.StockUse();

    /// <summary>Changes the demand, the ranges of bars and the columns allowed; the bound starts anew.</summary>
    public void Restrict(ReadOnlySpan<int> newDemand, ReadOnlySpan<int> newLow, ReadOnlySpan<int> newHigh, bool proper)
    {
        newDemand.CopyTo(demand);
        newLow.CopyTo(low);
        newHigh.CopyTo(high);
        if (proper)
        {
            lp.CloseSurplus(demand);
        }

        SetNoisyRightSides();
        center.Clear();
        bound.Clear();
        Duals.Clear();
    }

    /// <summary>Column generation until solved, until the bound (rounded up) reaches <paramref name="enough"/>, or the round limit.</summary>
    public void Generate(WorkMeter meter, int rounds, long enough, int perStock = 6)
    {
        var found = new List<(BarPattern Pattern, long Value)>();
        var dual = new double[model.Types + model.Groups];
        double smoothing = 0.8;
        int misses = 0;
        center.Start();
        for (int round = 0; round < rounds && !meter.Stop; round++)
        {
            lp.Solve(meter);
            lp.ReadDual(dual);
            double share = Math.Max(0, 1 - ((misses + 1) * (1 - smoothing)));
            bool smooth = center.At is not null && share > 0.01;
            var tried = dual;
            if (smooth)
            {
                tried = new double[dual.Length];
                for (int i = 0; i < tried.Length; i++)
                {
                    tried[i] = (share * center.At![i]) + ((1 - share) * dual[i]);
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
                smoothing = center.Uphill(found, dual, Objective) ? Math.Max(0, smoothing - 0.1) : Math.Min(0.99, smoothing + (0.1 * (1 - smoothing)));
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

            if (lp.Artificial() > 1e-4 && raised < MostRaises)
            {
                lp.RaiseArtificialCost(Raise);
                raised++;
                center.Clear();
                misses = 0;
                continue;
            }

            return;
        }
    }

    /// <summary>Solves the true (unperturbed) programme on the present columns and prices exactly at its duals with a fine scale.</summary>
    public void Sharpen(WorkMeter meter)
    {
        CollectAt(static (_, _) => 0, 30, meter);
    }

    /// <summary>Another dual, optimal or nearly so, at which a layout is worth as little as possible: right sides are lowered by so much of its pieces, and
    /// moved a little at random, and the programme is solved to the end. The bound that it gives for the true demand is valid.</summary>
    public void LookAgainst(BarPattern pattern, double size, double noise, Random random, WorkMeter meter)
    {
        double[] less = new double[model.Types];
        for (int k = 0; k < pattern.Items.Length; k++)
        {
            less[pattern.Items[k]] = size * pattern.Counts[k];
        }

        CollectAt((r, item) => item && demand[r] > 0 ? (noise * ((2 * random.NextDouble()) - 1)) - less[r] : Noise[r], 40, meter);
    }

    /// <summary>The mean of <see cref="Duals"/>, priced exactly.</summary>
    /// <remarks>With optimal duals their mean is optimal, and a layout has no reduced cost at it only where it has none at any of them: of layouts
    /// that are as good as the best at one of many optimal duals few are so at all (a point inside of the optimal face).</remarks>
    public BarDual? MeanDual(WorkMeter meter)
    {
        if (Duals.Count == 0)
        {
            return null;
        }

        var mean = new double[model.Types + model.Groups];
        for (int i = 0; i < mean.Length; i++)
        {
            mean[i] = Duals.Average(dual => (double)dual.Dual[i] / dual.Scale);
        }

        PriceAt(mean, 1, [], meter, true);
        return bound.Last;
    }

    private void PriceToEnd(WorkMeter meter, int rounds)
    {
        var found = new List<(BarPattern Pattern, long Value)>();
        var dual = new double[model.Types + model.Groups];
        for (int round = 0; round < rounds && !meter.Stop; round++)
        {
            lp.Solve(meter);
            lp.ReadDual(dual);
            found.Clear();
            PriceAt(dual, 6, found, meter, true);
            if (AddImproving(found) == 0)
            {
                break;
            }
        }
    }

    /// <summary>Solves to the end with this noise by row (and whether it is a piece's), and keeps the duals where they are good.</summary>
    private void CollectAt(Func<int, bool, double> noise, int rounds, WorkMeter meter)
    {
        lp.SetRightSides(demand, low, high, noise);
        PriceToEnd(meter, rounds);
        if (bound.Last is { } last && last.Bound + model.Granularity >= Bound && Duals.TrueForAll(d => d != last))
        {
            Duals.Add(last);
        }

        SetNoisyRightSides();
    }

    private void SetNoisyRightSides() => lp.SetRightSides(demand, low, high, (r, _) => Noise[r]);

    private int AddImproving(List<(BarPattern Pattern, long Value)> found)
    {
        int added = 0;
        foreach ((BarPattern pattern, _) in found)
        {
            if (LayoutProgramme.Fits(pattern, demand) && lp.Reduced(pattern) < -1e-8 * (1 + pattern.Cost) && Add(pattern))
            {
                added++;
            }
        }

        return added;
    }

    private void PriceAt(double[] dual, int perStock, List<(BarPattern, long)> found, WorkMeter meter, bool fine)
    {
        long scale = DualScale.Of(model, dual, demand, fine);
        var whole = new long[dual.Length];
        for (int i = 0; i < whole.Length; i++)
        {
            whole[i] = (long)Math.Floor(dual[i] * scale);
        }

        pricing.Price(whole, scale, demand, perStock, s => high[s] > 0, found, meter);
        center.Move(dual, bound.Consider(whole, scale));
    }
}
