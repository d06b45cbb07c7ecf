using Google.OrTools.LinearSolver;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>Settings of fence and stop that no plan with given counts of stock avoids, as part of a programme over the counts.</summary>
/// <remarks>
/// Bars: settings less those carried over are no fewer than the cuts at a mark and the different positions of the stop. Each layout of a bar without a clean end has a mark; a blank that is
/// cut from bars needs the positions that it has on all of them; it is cut from bars where no plate or piece cut to size that serves it is used, and a bar that is used is for one of its blanks.
/// Plates: at most the first stop of a layout is carried over to it, and to the first layout of all none. So the layouts of a stock that is used cost one setting less than there are different
/// positions in each of them, and one more comes for the saw: left and bottom trims, and one for each direction in which every blank is smaller than the plate behind the trim.
/// All layouts of a stock may be alike, so a stock counts once. Where each component has a programme of its own, a position that several share is divided among them. Nothing on cutters,
/// nor for pieces cut to size. Every plan gives a solution that costs no more (relaxation). O(kinds · stocks).
/// </remarks>
internal sealed class SettingTerms
{
    private readonly ExactJob _job;

    /// <summary>By source: cost of the settings that its layouts have by themselves, in currency units.</summary>
    private readonly double[] _own;

    /// <summary>By kind, numbered through the job: what it needs where it is cut from bars. Empty: nothing that is known.</summary>
    private readonly Need[][] _needs;

    /// <summary>By source: what its plates need; null: nothing.</summary>
    private readonly Need?[] _starts;

    private readonly Dictionary<Need, double> _prices = [];

    /// <param name="job">The job whose counts a programme chooses: all of <paramref name="whole"/>, or one component.</param>
    public SettingTerms(ExactJob job, ExactJob whole)
    {
        _job = job;
        _own = [.. job.Sources.Select(source => source.IsSingle ? 0 : OwnOf(source) * PriceOf(source.Frame.Saw))];
        _needs = [.. NeedsOf(job)];
        _starts = [.. job.Sources.Select(StartOf)];
        var saws = job.Job.Saws.ToDictionary(saw => saw.Id, PriceOf, StringComparer.Ordinal);
        var sharing = ReferenceEquals(job, whole)
            ? []
            : whole.Components.Select((_, c) => AllNeeds(whole, c).Distinct()).SelectMany(needs => needs).CountBy(need => need).ToDictionary();
        foreach (var need in _needs.SelectMany(needs => needs).Concat(_starts.OfType<Need>()).Distinct())
        {
            _prices[need] = saws[need.Saw] / sharing.GetValueOrDefault(need, 1);
        }
    }

    /// <summary>Something that is set once at least on a saw: a position of the stop for bars; null: whatever is set first for plates.</summary>
    private readonly record struct Need(string Saw, StopPosition? Position);

    /// <summary>Whether settings cost anything at all.</summary>
    public static bool Matter(IEnumerable<Component> components) => components.SelectMany(component => component.Stocks)
        .Any(frame => frame.Stock.CutFor is null && !frame.IsFree && SettingCosts.One(frame.Saw) > Money.Zero);

    /// <summary>Adds the settings to the objective.</summary>
    /// <param name="counts">By source, with what else they cost in the objective already.</param>
    public void Add(Solver solver, Variable[] counts)
    {
        var objective = solver.Objective();
        var set = new Dictionary<Need, Variable>();
        foreach (var (need, price) in _prices)
        {
            objective.SetCoefficient(set[need] = solver.MakeNumVar(0, 1, ""), price);
        }

        var fromBars = new Variable?[_needs.Length];
        for (var c = 0; c < _job.Components.Length; c++)
        {
            for (var k = 0; k < _job.Kinds[c].Count; k++)
            {
                var number = _job.FirstKind[c] + k;
                if (_needs[number].Length > 0)
                {
                    fromBars[number] = FromBars(solver, counts, c, k, _needs[number].Select(need => set[need]));
                }
            }
        }

        foreach (var source in _job.Sources)
        {
            var kinds = source.IsSingle || !source.Frame.IsBar ? [] : KindsOf(source).Select(k => fromBars[_job.FirstKind[source.ComponentIndex] + k]).ToList();
            var known = kinds.Count > 0 && kinds.TrueForAll(kind => kind is not null);
            var start = _starts[source.Number];
            if (counts[source.Number].Ub() < 1 || (_own[source.Number] == 0 && !known && start is null))
            {
                continue;
            }

            var used = Rows.Used(solver, counts[source.Number]);
            objective.SetCoefficient(used, objective.GetCoefficient(used) + _own[source.Number]);
            if (known)
            {
                var some = solver.MakeConstraint(0, double.PositiveInfinity);
                some.SetCoefficient(used, -1);
                foreach (var kind in kinds)
                {
                    some.SetCoefficient(kind!, 1);
                }
            }

            if (start is { } first)
            {
                Rows.AtLeast(solver, set[first], used);
            }
        }
    }

    /// <summary>The least that counts of stock cost in settings, with any number of pieces cut to size, in currency units: nothing is chosen, so a little less than in the programme.</summary>
    public double At(int[] counts)
    {
        var cost = 0.0;
        var needs = new HashSet<Need>();
        foreach (var source in _job.Sources.Where(source => counts[source.Number] > 0))
        {
            cost += _own[source.Number];
            if (_starts[source.Number] is { } start)
            {
                needs.Add(start);
            }
        }

        for (var c = 0; c < _job.Components.Length; c++)
        {
            for (var k = 0; k < _job.Kinds[c].Count; k++)
            {
                if (Others(c, k).All(source => !source.IsSingle && counts[source.Number] == 0))
                {
                    needs.UnionWith(_needs[_job.FirstKind[c] + k]);
                }
            }
        }

        return cost + needs.Sum(need => _prices[need]);
    }

    /// <summary>1 where a piece of the kind is cut from a bar: then all that it needs is set.</summary>
    private Variable FromBars(Solver solver, Variable[] counts, int c, int k, IEnumerable<Variable> needs)
    {
        var cut = solver.MakeNumVar(0, 1, "");
        var some = solver.MakeConstraint(1, double.PositiveInfinity);
        some.SetCoefficient(cut, 1);
        foreach (var source in Others(c, k))
        {
            some.SetCoefficient(counts[source.Number], 1);
        }

        foreach (var need in needs)
        {
            Rows.AtLeast(solver, need, cut);
        }

        return cut;
    }

    /// <summary>Price of one setting, in currency units.</summary>
    public static double PriceOf(Saw saw) => Grain.Amount(SettingCosts.One(saw));

    /// <summary>Settings that each layout of a stock has beside what <see cref="Need"/> counts.</summary>
    public static int OwnOf(LoadSource source)
    {
        var (frame, trims) = (source.Frame, source.Frame.Trims);
        return frame.IsFree ? 0
            : frame.IsBar ? (trims.Left > Length.Zero && !frame.Stock.CleanEdges.Right ? 1 : 0)
            : Math.Max(0, PositionsOf(source) - 1);
    }

    /// <summary>Different positions of the stop in any layout of a plate.</summary>
    public static int PositionsOf(LoadSource source)
    {
        var (frame, trims) = (source.Frame, source.Frame.Trims);
        var fits = KindsOf(source).Select(k => FitOf(source, k)).ToList();
        var inX = fits.TrueForAll(fit => Length.Max(fit.SizeX, fit.MayTurn ? fit.SizeY : Length.Zero) < frame.Stock.MinLength - trims.Left);
        var inY = fits.TrueForAll(fit => Length.Max(fit.SizeY, fit.MayTurn ? fit.SizeX : Length.Zero) < frame.Stock.MinWidth - trims.Bottom);
        return (trims.Left > Length.Zero ? 1 : 0) + (trims.Bottom > Length.Zero ? 1 : 0) + (inX ? 1 : 0) + (inY ? 1 : 0);
    }

    private static Need? StartOf(LoadSource source) =>
        source.IsSingle || source.Frame.IsBar || source.Frame.IsFree || PositionsOf(source) == 0 ? null : new(source.Frame.Saw.Id, null);

    /// <summary>The kinds that a stock serves, by number in the component.</summary>
    private static IEnumerable<int> KindsOf(LoadSource source) => Enumerable.Range(0, source.Kinds.Count).Where(k => Serves(source, k));

    /// <summary>Positions of the stop for a kind on a bar: at its length, and one for each angled end.</summary>
    public static IEnumerable<StopPosition> OnBar(ExactJob job, LoadSource source, int k)
    {
        var fit = FitOf(source, k);
        var square = new StopPosition(CutDirection.Crosscut, fit.SizeX, Angle.Square);
        return fit.Ends is { } ends ? LayoutSettings.OfEnds(fit.SizeX, ends, source.Frame.Saw, job.Job.Unit).Prepend(square) : [square];
    }

    /// <summary>A kind as the stock serves it.</summary>
    public static BlankFit FitOf(LoadSource source, int k) => source.Kinds.Component.Fits[source.StockIndex, source.Kinds.Members[k][0]]!;

    public static bool Serves(LoadSource source, int k) => source.Kinds.Component.Fits[source.StockIndex, source.Kinds.Members[k][0]] is not null;

    /// <summary>The stocks that serve a kind and are not cut as bars.</summary>
    private IEnumerable<LoadSource> Others(int c, int k) =>
        _job.Sources.Where(source => source.ComponentIndex == c && (source.IsSingle || !source.Frame.IsBar) && Serves(source, k));

    private static IEnumerable<Need[]> NeedsOf(ExactJob job)
    {
        for (var c = 0; c < job.Components.Length; c++)
        {
            for (var k = 0; k < job.Kinds[c].Count; k++)
            {
                yield return NeedsOf(job, c, k);
            }
        }
    }

    /// <summary>The positions that a kind has on every bar that serves it.</summary>
    private static Need[] NeedsOf(ExactJob job, int c, int k)
    {
        HashSet<Need>? common = null;
        foreach (var source in job.Sources.Where(source => source.ComponentIndex == c && !source.IsSingle && source.Frame.IsBar && Serves(source, k)))
        {
            var own = OnBar(job, source, k).Select(position => new Need(source.Frame.Saw.Id, position)).ToList();
            common ??= [.. own];
            common.IntersectWith(own);
        }

        return common is null ? [] : [.. common];
    }

    /// <summary>All that some counts of a component's stock may need.</summary>
    private static IEnumerable<Need> AllNeeds(ExactJob job, int c) =>
        Enumerable.Range(0, job.Kinds[c].Count).SelectMany(k => NeedsOf(job, c, k))
            .Concat(job.Sources.Where(source => source.ComponentIndex == c).Select(StartOf).OfType<Need>());
}
