namespace Nest.Solve.Bars;

/// <summary>Lists layouts of one stock by depth-first search with a completion bound: the best few, or all above a threshold.</summary>
/// <remarks>
/// Problem: layouts with Σ value_i a_i + S·Leftover ≥ threshold. Method: items in falling order of value per weight; a branch is left
/// when its value plus <see cref="SuffixTable"/> stays below the threshold. Leftover values enter the bound through their linear upper
/// estimate (rate × length) and are exact at each layout. With an exact table the work is proportional to the number of layouts
/// listed. Guarantee: complete unless the step or count limit is hit, which the result says.
/// </remarks>
internal sealed class LayoutSearch
{
    private const int AskEvery = 1 << 16;

    private readonly BarModel model;
    private readonly int stock;
    private readonly long[] value;
    private readonly long scale;
    private readonly int[] copies;
    private readonly int[] order;
    private readonly long[] gain;
    private readonly long constant;
    private readonly SuffixTable table;
    private readonly int[] chosen;
    private long threshold;
    private int keep;
    private long stepLimit;
    private readonly Leftovers leftovers;
    private readonly long capacity;
    private bool all;
    private bool stopped;
    private Func<bool>? over;

    public LayoutSearch(
        BarModel model, int stock, Leftovers leftovers, long[] value, long scale, int[] copies, bool listing = false, long cells = 6_000_000)
    {
        this.leftovers = leftovers;
        capacity = leftovers == Leftovers.Kept ? model.KeptCapacity[stock] : model.Capacity[stock];
        this.model = model;
        this.stock = stock;
        this.value = value;
        this.scale = scale;
        this.copies = copies;
        BarStock bar = model.Stock(stock);
        LeftoverValue worth = bar.Leftover;
        gain = new long[model.Types];

        // Leftover(x) ≤ rate·x: give every item its value less the rate of the metal it takes (rounded up), and all bars the rate of
        // their whole length and one kerf (the leftover is 0, not negative, when the last piece ends within a kerf of the end).
        // A kept leftover is never negative.
        Int128 rate = leftovers == Leftovers.Scrap ? worth.ScrapNumerator : Int128.Max(worth.KeepNumerator, worth.ScrapNumerator);
        long length = leftovers == Leftovers.Kept ? bar.Length : bar.Length + model.Problem.Kerf;
        constant = (long)((((Int128)scale * rate * length) + worth.Denominator - 1) / worth.Denominator);
        for (int i = 0; i < model.Types; i++)
        {
            gain[i] = value[i] - (long)((Int128)scale * rate * model.Weight[i] * model.Unit / worth.Denominator);
        }

        // A piece that adds nothing is left out, unless all layouts are to be listed, the clamp may need it, or the leftover is to be scrap: such
        // a piece may fill the bar so far.
        bool rule = bar.ShortestHeld > 0;
        order = [.. Enumerable.Range(0, model.Types)
            .Where(i => copies[i] > 0 && model.MostCopies[stock][i] > 0 && (listing || gain[i] > 0 || leftovers == Leftovers.Scrap || (rule && model.Length[i] >= bar.ShortestHeld)))
            .OrderByDescending(i => (double)gain[i] / model.Weight[i]).ThenBy(i => i)];
        table = new SuffixTable(order, model.Weight, copies, gain, capacity, cells);
        chosen = new int[model.Types];
        RootBound = constant + table.At(0, capacity);
        Steps = table.Steps;
    }

    /// <summary>The classes of layouts to search on a stock: one where leftovers have no jump in value, else two.</summary>
    public static Leftovers[] Classes(BarModel model, int stock) =>
        model.GroupOf[stock] < 0 ? [Leftovers.Any] : [Leftovers.Scrap, Leftovers.Kept];

    /// <summary>No layout has a larger value (a price of the kept leftover not counted).</summary>
    public long RootBound { get; }

    public long Steps { get; private set; }

    /// <summary>Layouts found; best first after <see cref="Best"/>.</summary>
    public List<(BarPattern Pattern, long Value)> Found { get; } = [];

    /// <summary>Keeps the best layouts with a value above the floor. True when the first of them (or none) is proven best.</summary>
    public bool Best(long floor, int count, long steps)
    {
        threshold = floor + 1;
        keep = count;
        stepLimit = steps;
        Descend(0, capacity, 0, 0);
        Found.Sort((a, b) => b.Value.CompareTo(a.Value));
        return !stopped;
    }

    /// <summary>Lists all layouts with a value of at least the threshold. False when there were too many.</summary>
    /// <remarks>For a search constructed for listing.</remarks>
    /// <param name="ends">Asked now and then: whether the time is over.</param>
    public bool All(long least, int count, long steps, Func<bool> ends)
    {
        (all, over) = (true, ends);
        threshold = least;
        keep = count;
        stepLimit = steps;
        Descend(0, capacity, 0, 0);
        return !stopped;
    }

    private void Descend(int k, long room, long sum, int pieces)
    {
        if (++Steps > stepLimit || (Steps % AskEvery == 0 && over is not null && over()))
        {
            stopped = true;
        }

        if (stopped || constant + sum + table.At(k, room) < threshold)
        {
            return;
        }

        if (k == order.Length)
        {
            Leaf();
            return;
        }

        int i = order[k];
        long w = model.Weight[i];
        long most = Math.Min(Math.Min(copies[i], room / w), (long)model.MostPieces[stock] - pieces);
        for (int n = (int)most; n >= 0 && !stopped; n--)
        {
            chosen[i] = n;
            Descend(k + 1, room - (n * w), sum + (n * gain[i]), pieces + n);
        }

        chosen[i] = 0;
    }

    private void Leaf()
    {
        if (BarPattern.Make(model, stock, chosen) is not { } pattern || (leftovers == Leftovers.Scrap && pattern.Group >= 0))
        {
            return;
        }

        long v = scale * model.LeftoverValue(stock, pattern.Used);
        for (int k = 0; k < pattern.Items.Length; k++)
        {
            v += pattern.Counts[k] * value[pattern.Items[k]];
        }

        if (v < threshold)
        {
            return;
        }

        Found.Add((pattern, v));
        if (all)
        {
            stopped = Found.Count > keep;
            return;
        }

        // Only better ones are of interest from here on; the last few are the best few of those passed.
        threshold = v + 1;
        if (Found.Count > 4 * keep)
        {
            Found.RemoveRange(0, Found.Count - keep);
        }
    }
}
