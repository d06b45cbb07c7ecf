using System.Collections.Immutable;
using Google.OrTools.LinearSolver;
using Nest.Solve.Bars;
using Nest.Solve.Plates;
using Nest.Solve.Plates.Free;
using Nest.Solve.Plates.ThroughCut;

namespace Nest.Solve.Choose;

/// <summary>What one piece of stock holds at most, as rows Σ w_i·a_i + w·b ≤ most over its layouts' counts a (b = 1 where an offcut worth
/// keeping is left), found where a relaxation puts more onto a stock than fits.</summary>
/// <remarks>
/// For counts z on n pieces of a stock, of which q leave an offcut to keep: weights such that Σ w_i z_i + w·q &gt; n·most(w), where most(w) is
/// the pricers' proven upper bound. The offcut counts as one more item of the smallest size that is kept: a larger one holds such a piece.
/// First the weights by size; then a linear program (GLOP) over the layouts that pricing has found proposes weights at which each of them
/// is worth at most 1 and (z, q) as much as possible, as in fractional packing of (z, q) alone. Weights are whole numbers, so floating
/// point only proposes. Every layout keeps a row, so sums of layouts on y pieces keep Σ w_i z_i + w·q ≤ most·y.
/// The saw's rules are left out (plates: any through-cuts): what they forbid beyond only makes rows weaker.
/// Guarantee: valid rows for this demand and every smaller one. Not thread safe.
/// </remarks>
internal sealed class LayoutCaps(Component component)
{
    /// <param name="Weights">Of each of the component's items, at least 0.</param>
    /// <param name="Keep">Of an offcut to keep.</param>
    internal sealed record Cap(int Stock, long[] Weights, long Keep, long Most);

    /// <summary>Weight of a piece as large as the stock.</summary>
    private const long Scale = 1 << 16;
    private const int Rounds = 12;
    private const int Layouts = 6;
    private const int PriceSteps = 300;

    private delegate (IEnumerable<IReadOnlyList<int>> Counts, long Most) Pricer(long[] weights);

    private readonly Dictionary<int, (Pricer Price, long[] Sizes)> _pricers = [];
    private readonly List<Cap> _rows = [];
    private readonly HashSet<int> _keeps = [];

    public IReadOnlyList<Cap> Rows => _rows;

    /// <summary>Stocks on which not every layout that a relaxation wanted can leave an offcut to keep.</summary>
    public IReadOnlySet<int> Keeps => _keeps;

    /// <summary>Looks for rows that a relaxation's solution breaks; returns whether there is something new.</summary>
    public bool Separate(JointBound.Relaxed found, CancellationToken cancel)
    {
        var more = false;
        for (var s = 0; s < component.Stocks.Length && !cancel.IsCancellationRequested; s++)
        {
            // A piece that comes cut to size has nothing to find.
            if (found.Whole[s] > 0 && component.Stocks[s].Stock.CutFor is null)
            {
                var at = s;
                int[] counts = [.. Enumerable.Range(0, component.Items).Select(i => found.From[at, i])];
                if (Separate(s, found.Whole[s], counts, _keeps.Contains(s) ? found.Keeping[s] : 0))
                {
                    more = true;
                }
                else if (MayKeep(s) && !_keeps.Contains(s) && Separate(s, found.Whole[s], counts, found.Whole[s]))
                {
                    _keeps.Add(s);
                    more = true;
                }
            }
        }

        return more;
    }

    /// <summary>Looks for a row that these counts on so many pieces of the stock break; returns whether there is a new one.</summary>
    /// <param name="kept">How many of the pieces of stock leave an offcut to keep.</param>
    public bool Separate(int s, int pieces, ReadOnlySpan<int> counts, int kept)
    {
        if (!_pricers.TryGetValue(s, out var known))
        {
            _pricers[s] = known = (component.Stocks[s].IsBar ? Bar(s) : Plate(s), BySize(s));
        }

        int[] wanted = [.. counts, kept];
        using var solver = Glop.Create();
        var weights = new Variable?[wanted.Length];
        var objective = solver.Objective();
        objective.SetMaximization();
        for (var i = 0; i < wanted.Length; i++)
        {
            if (wanted[i] > 0)
            {
                weights[i] = solver.MakeNumVar(0, 1, "");
                objective.SetCoefficient(weights[i], wanted[i]);
            }
        }

        var now = known.Sizes;
        for (var round = 0; round < Rounds; round++)
        {
            var (layouts, most) = known.Price(now);
            if (now.Select((weight, i) => (Int128)weight * wanted[i]).Aggregate((Int128)0, (sum, worth) => sum + worth) > (Int128)most * pieces)
            {
                _rows.Add(new(s, now[..^1], now[^1], most));
                return true;
            }

            foreach (var layout in layouts)
            {
                var row = solver.MakeConstraint(0, 1);
                for (var i = 0; i < wanted.Length; i++)
                {
                    if (weights[i] is { } weight && layout[i] > 0)
                    {
                        row.SetCoefficient(weight, layout[i]);
                    }
                }
            }

            if (solver.Solve() != Solver.ResultStatus.OPTIMAL || objective.Value() <= pieces + 1e-6)
            {
                // The layouts at hand hold all this, a part of each: no such row.
                return false;
            }

            now = [.. weights.Select(weight => weight is null ? 0 : (long)Math.Floor(Math.Clamp(weight.SolutionValue(), 0, 1) * Scale))];
        }

        return false;
    }

    private bool MayKeep(int s) => StockSize.KeepGain(component, s) > 0;

    private long[] BySize(int s)
    {
        var room = StockSize.Room(component, s);
        var sizes = new long[component.Items + 1];
        for (var i = 0; i < component.Items; i++)
        {
            sizes[i] = component.Fits[s, i] is null ? 0 : (long)(StockSize.Of(component, s, i) * Scale / room);
        }

        sizes[^1] = MayKeep(s) ? (long)(StockSize.LeastKept(component, s) * Scale / room) : 0;
        return sizes;
    }

    private Pricer Plate(int s)
    {
        int[] items = [.. Enumerable.Range(0, component.Items).Where(i => component.Fits[s, i] is not null)];
        var pieces = items.Select(i => GroupSolver.PlateItemOf(component, s, i, component.Blanks[i].Demand)).ToList();
        if (MayKeep(s))
        {
            var (length, width) = StockSize.SmallestKept(component, s);
            pieces.Add(new(length, width, 1, MayTurn: true));
        }

        var frame = component.Stocks[s];
        var plate = GroupSolver.PlateStockOf(component, s, null);
        var kerf = component.Units(frame.Saw.Kerf);
        // Free layouts keep a kerf to damage, through-cuts need none and may run through it: as a bound of these the plate counts as sound.
        var free = new FreePricer(frame.IsFree ? plate : plate with { KeepOuts = [] }, kerf, [.. pieces]);
        var through = frame.IsFree ? null : new ThroughCutPricer(plate, new(), kerf, [.. pieces]);
        return weights =>
        {
            var own = new long[pieces.Count];
            for (var k = 0; k < own.Length; k++)
            {
                own[k] = k < items.Length ? weights[items[k]] : weights[^1];
            }

            // Dual feasible functions bound free layouts, hence through-cuts too; they know the demand, the table does not.
            var answer = through?.Price(own, Layouts, PriceSteps) ?? free.Price(own, Layouts);
            var most = through is null ? answer.UpperBound : Math.Min(answer.UpperBound, free.Price(own, 0, 0).UpperBound);
            return (answer.Layouts.Select(entry => Counts(entry.Layout)), most);
        };

        IReadOnlyList<int> Counts(PlateLayout layout)
        {
            var counts = new int[component.Items + 1];
            foreach (var piece in layout.Pieces)
            {
                counts[piece.Item < items.Length ? items[piece.Item] : ^1]++;
            }

            return counts;
        }
    }

    private Pricer Bar(int s)
    {
        var keeps = MayKeep(s);
        var least = keeps ? StockSize.SmallestKept(component, s).Length : 0;
        var stock = GroupSolver.BarStockOf(component, s, null);
        // The smallest offcut may be shorter than what the clamp must hold, the real one longer; and it is no piece.
        stock = stock with
        {
            Leftover = LeftoverValue.None,
            MostPieces = null,
            ShortestHeld = keeps && least < stock.ShortestHeld ? 0 : stock.ShortestHeld,
        };
        var pricer = new BarPricer(
            stock, component.Units(component.Stocks[s].Saw.Kerf),
            [.. Enumerable.Range(0, component.Items).Select(i => component.SizeX(s, i)), least],
            [.. component.Demand, keeps ? 1 : 0]);
        return weights =>
        {
            var answer = pricer.Price(weights, 1, Layouts);
            return (answer.Layouts.Select(entry => (IReadOnlyList<int>)entry.Layout), answer.UpperBound);
        };
    }
}
