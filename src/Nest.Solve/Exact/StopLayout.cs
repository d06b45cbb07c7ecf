using System.Numerics;
using Nest.Core.Plans;
using Nest.Solve.Plates;

namespace Nest.Solve.Exact;

/// <summary>The best layout of one load on a plate whose cuts are made at given positions of the stop, in one direction or in both.</summary>
/// <remarks>
/// As in <see cref="LoadTable"/>, but where positions are given each cut measures one of them on the part that it leaves on one side, metal of a raw edge included. In a direction without given positions those of
/// <see cref="CutPositions"/> are enough, as its lemma moves cuts of one direction only. Damage and stages are not seen, nor what may be carried over: a layout that obeys them all is worth no more.
/// Positions may be fractions of a unit: everything is counted in so much finer units. <see cref="CutSearch"/> does the work.
/// </remarks>
internal sealed class StopLayout
{
    private const int Never = Grain.Never;
    private const long MostTries = 3_000_000;

    /// <summary>Parts of a unit up to which positions are counted.</summary>
    private const int MostFiner = 60;
    private const int MostSide = 1 << 20;

    /// <summary>Positions whose order is told apart, and loads.</summary>
    private const int MostPlaces = 8;
    private const int MostLoads = 1 << 18;

    /// <summary>Grains that rounding may take of a cut and its rest.</summary>
    private const int Rounding = 4;

    /// <summary>Table steps that a try is worth.</summary>
    private const double StepsPerTry = 30;

    /// <summary>Tries in a second, at least as a rule: no search goes far beyond the limit.</summary>
    private const double TriesPerSecond = 8e6;

    private readonly PlateShape _shape;
    private readonly LoadTable? _table;
    private readonly CoarseParts? _parts;
    private readonly int[][] _loads;
    private readonly (int A, int B)[][] _shares;

    /// <summary>The plate's rules in units so much finer, and bounds: made once for all positions of a load.</summary>
    private readonly Dictionary<int, CutRules> _rules = [];
    private readonly Dictionary<(int Finer, int Slack), LayoutBound> _bounds = [];

    /// <summary>What is known of layouts without given positions.</summary>
    private CutSearch? _any;

    /// <param name="shape">The plate; its pieces are wanted as often as a load has them at most.</param>
    /// <param name="table">What rectangles of the plate without raw edges are worth where cuts may be anywhere, with a row for every width; null: there is none.</param>
    /// <param name="parts">What is known in coarser units of the parts of the load that has all these pieces; null: nothing.</param>
    public StopLayout(PlateShape shape, LoadTable? table, CoarseParts? parts = null)
    {
        (_shape, _table, _parts) = (shape, table, parts);
        _rules[1] = new(shape);
        (_loads, _shares) = LoadShares.Of(shape, parts is null ? null : parts.IsListed);
    }

    /// <summary>Ways to cut a rectangle and share its load that were looked at so far.</summary>
    public long Tries { get; private set; }

    /// <summary>The most that the plate is worth beside the pieces with cuts at these positions, trims taken off.</summary>
    /// <param name="inX">Positions of crosscuts, in units of the shape, its raw edges whole units wide; null: any.</param>
    /// <param name="inY">Positions of rips; null: any.</param>
    /// <param name="setting">Price of a setting, in grains: a right or top edge that is cut off takes one, as nothing else measures the usable plate.</param>
    /// <param name="need">Layouts worth less are of no use.</param>
    /// <param name="cuts">Nor those with more cuts.</param>
    /// <param name="order">The place of each position, those of crosscuts first, where each is set only once: what a position has parted is cut by none before it. Null: any order.</param>
    /// <returns>Less than needed: no layout is worth more than that; with as much as needed a layout too where it is wanted and lies on the component's grid. Null: not known.</returns>
    public (int Worth, PlateNode? Tree)? Best(
        StopPositions.Set? inX, StopPositions.Set? inY, int setting, int need, long cuts, int[]? order, bool withTree, ExactMeter meter)
    {
        var finer = (inX?.Denominator ?? 1) * (inY?.Denominator ?? 1);
        if (finer > MostFiner || Math.Max(_shape.SizeX, _shape.SizeY) * finer >= MostSide || order?.Length > MostPlaces || _loads.Length > MostLoads || IsUnbounded)
        {
            return null;
        }

        var slack = finer == 1 || _table is null ? 0 : (int)Math.Ceiling((_shape.Prices.PerUnit + Rounding) * (cuts + 1));
        return Best(Search(Stops(inX, finer), Stops(inY, finer), (int)finer, slack, order), _loads.Length - 1, setting, need, MostTries, withTree, meter);
    }

    /// <summary>The same of one load with cuts anywhere.</summary>
    /// <param name="load">Number of the load.</param>
    /// <param name="tries">Ways that may be looked at.</param>
    public (int Worth, PlateNode? Tree)? Any(int load, int need, long tries, ExactMeter meter) =>
        _loads.Length > MostLoads || IsUnbounded ? null : Best(_any ??= Search(null, null, 1, 0, null), load, 0, need, tries, true, meter);

    private (int Worth, PlateNode? Tree)? Best(CutSearch search, int load, int setting, int need, long tries, bool withTree, ExactMeter meter)
    {
        var (best, bestRaw, before) = (Never, 0, search.Tries);
        search.Begin((long)Math.Min(tries, Math.Max(1, Math.Min(meter.StepsLeft / StepsPerTry, meter.SecondsLeft * TriesPerSecond))));
        foreach (var raw in _shape.Raw.Sets)
        {
            var worth = search.Worth(raw, load, Math.Max(need, best + 1) + Trims(raw)) - Trims(raw);
            (best, bestRaw) = worth > best ? (worth, raw) : (best, bestRaw);
        }

        meter.Add((search.Tries - before) * StepsPerTry);
        Tries += search.Tries - before;
        return search.IsLong ? null : (best, !withTree || best < need || search.Scale == 0 ? null : search.Tree(bestRaw, load));

        int Trims(int raw) => _shape.Raw.Trims[raw] + (setting * BitOperations.PopCount((uint)(_shape.Raw.Mask & ~raw)));
    }

    /// <summary>Without a table each cut has to cost something.</summary>
    private bool IsUnbounded => _table is null && _rules[1].Costs[1] < 1;

    private CutSearch Search(int[]? stopsX, int[]? stopsY, int finer, int slack, int[]? order)
    {
        if (!_rules.TryGetValue(finer, out var rules))
        {
            rules = _rules[finer] = new(_shape.Finer(finer));
        }

        if (!_bounds.TryGetValue((finer, slack), out var bound))
        {
            bound = _bounds[(finer, slack)] = new(rules, _loads, _shares, _table, finer, slack, _parts);
        }

        return new(rules, _loads, _shares, new(rules, stopsX, stopsY, order, given: _table is null), bound);
    }

    private static int[]? Stops(StopPositions.Set? set, long finer) =>
        set is { } some ? [.. some.Numerators.Select(n => (int)(n * (finer / some.Denominator)))] : null;
}
