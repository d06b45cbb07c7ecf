using System.Collections.Immutable;
using System.Diagnostics;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>Plans made from what <see cref="JointBound"/> finds best, and its bound raised by what does not fit.</summary>
/// <remarks>
/// The relaxation says how many pieces of each stock are bought and which pieces come from them; the kernels lay them out. Where that
/// cannot be, <see cref="LayoutCaps"/> gives rows that the relaxation must keep, and it is solved again: its bound rises. When no row is
/// found any more, it goes on with guesses instead of proofs – what a stock's layouts cost beyond the relaxation, how full they were –
/// for further plans; those answers are no bounds. With a limit in work the rounds are counted. Guarantee: valid bound, heuristic plans.
/// </remarks>
internal sealed class RelaxedPlans
{
    /// <summary>Deterministic time of one relaxation, for the first bound and plan, as a proof and with guesses, and of a choice among all layouts.</summary>
    private const double PlainTime = 0.4;
    private const double ProofTime = 1.0;
    private const double GuessTime = 0.2;
    private const double ChooseTime = 0.3;

    private const int MostRounds = 16;

    /// <summary>Rounds with guesses that may pass without a better plan.</summary>
    private const int Patience = 6;
    private const long LayoutWork = 20_000;

    private readonly Job _job;
    private readonly ImmutableArray<Component> _listed;
    private readonly ImmutableArray<Component> _lowest;
    private readonly SolveLimits _limits;
    private readonly CancellationToken _cancel;
    private readonly ColumnPool[] _pools;
    private readonly LayoutCaps[] _caps;
    private readonly List<LayoutCaps.Cap>[] _guessedCaps;
    private readonly long[][] _guess;
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly double _forFirst;

    /// <param name="listed">The components at listed prices, for plans.</param>
    /// <param name="lowest">The same at the lowest prices, for bounds.</param>
    /// <param name="forFirst">Seconds that the first relaxation may take, beyond the limits where the machine is busy: without it there is
    /// hardly a bound.</param>
    public RelaxedPlans(
        Job job, ImmutableArray<Component> listed, ImmutableArray<Component> lowest, SolveLimits limits, double forFirst, CancellationToken cancel)
    {
        _forFirst = forFirst;
        (_job, _listed, _lowest, _limits, _cancel) = (job, listed, lowest, limits, cancel);
        _pools = [.. listed.Select(_ => new ColumnPool())];
        _caps = [.. lowest.Select(component => new LayoutCaps(component))];
        _guessedCaps = [.. lowest.Select(_ => new List<LayoutCaps.Cap>())];
        _guess = [.. lowest.Select(component => new long[component.Stocks.Length])];
        Best = new(job, listed);
    }

    public JointPlan Best { get; }

    public Bound Bound { get; private set; }

    public IReadOnlyList<Column> ColumnsOf(int c) => _pools[c].Columns;

    /// <param name="told">Called after every round.</param>
    public void Run(Action told)
    {
        CutToSize();
        var proving = true;
        var idle = 0;
        for (var round = 0; round < Math.Max(2, _limits.WorkOf(MostRounds)) && idle < Patience && !Ends; round++)
        {
            // The first does without the question which pieces leave an offcut to keep: solved to the end it is higher than the larger
            // model when that is cut off.
            var time = _limits.Effort * (round == 0 ? PlainTime : proving ? ProofTime : GuessTime);
            var answer = JointBound.Solve(_job, [.. _lowest.Select((_, c) => Share(c, proving, plain: round == 0))], time, round == 0 ? Math.Max(Left, _forFirst) : Left, _cancel);

            // With more rows the model is harder: when it is cut off before it gets higher, more rows don't help.
            var before = Bound;
            Bound = proving ? Bound.Higher(Bound, answer.Bound) : Bound;
            var higher = Bound != before;

            if (answer.Best.IsDefault)
            {
                if (round == 0)
                {
                    continue;
                }

                return;
            }

            var costBefore = Best.Cost;
            LayOut(answer.Best);
            var more = round > 0 && proving && Separate(answer.Best) && higher;
            Choose();
            told();
            idle = proving || Best.Cost < costBefore ? 0 : idle + 1;
            proving = round == 0 || more;
        }
    }

    private double Left => Math.Max(0, _limits.Seconds - _clock.Elapsed.TotalSeconds);

    private bool Ends => _cancel.IsCancellationRequested || Left <= 0
        || (Best is { Cost: { } cost, Missing: 0 } && Bound.Proves(cost));

    private JointBound.Share Share(int c, bool proving, bool plain) => new(_lowest[c], [])
    {
        Caps = proving ? [.. _caps[c].Rows] : [.. _caps[c].Rows, .. _guessedCaps[c]],
        Keeps = plain ? null : _caps[c].Keeps,
        Guess = proving ? null : _guess[c],
    };

    private void Add(int c, IEnumerable<Column> columns)
    {
        foreach (var column in columns)
        {
            _pools[c].Add(column.At(_listed[c]));
        }
    }

    /// <summary>One piece by itself, from the supplier who cuts to size: every choice may need it.</summary>
    private void CutToSize()
    {
        for (var c = 0; c < _listed.Length; c++)
        {
            var component = _listed[c];
            foreach (var group in component.Groups)
            {
                foreach (var s in group.Stocks.Where(s => component.Stocks[s].Stock is { CutFor: not null, Available: not 0 }))
                {
                    var one = new int[component.Items];
                    one[Array.FindIndex([.. Enumerable.Range(0, one.Length)], i => component.Fits[s, i] is not null)] = 1;
                    Add(c, Solve(c, group, one, only => only == s).Columns.Select(entry => entry.Column));
                }
            }
        }
    }

    private GroupSolver.Answer Solve(int c, StockGroup group, int[] counts, Func<int, bool> open)
    {
        var component = _listed[c];
        int?[] most = [.. component.Stocks.Select((frame, s) => open(s) ? frame.Stock.Available : 0)];
        return GroupSolver.Solve(
            component, group, counts, most, _limits with { Seconds = Math.Max(0.05, Left), Threads = 1, Work = _limits.WorkOf(LayoutWork) }, null, _cancel);
    }

    /// <summary>Lays out what the relaxation wants: from the stocks that it wants, else from any of the group.</summary>
    private void LayOut(ImmutableArray<JointBound.Relaxed> wanted)
    {
        var plan = new Chosen?[_listed.Length];
        for (var c = 0; c < _listed.Length; c++)
        {
            var all = new List<(Column, int)>();
            var complete = true;
            foreach (var group in _listed[c].Groups)
            {
                var counts = new int[_listed[c].Items];
                foreach (var s in group.Stocks)
                {
                    for (var i = 0; i < counts.Length; i++)
                    {
                        counts[i] += wanted[c].From[s, i];
                    }
                }

                if (counts.Any(n => n > 0))
                {
                    var at = c;
                    var answer = Solve(c, group, counts, s => wanted[at].Whole[s] > 0);
                    if (answer.Columns.IsEmpty)
                    {
                        TooFull(c, group, wanted[c]);
                        answer = Solve(c, group, counts, _ => true);
                    }

                    complete &= !answer.Columns.IsEmpty;
                    all.AddRange(answer.Columns);
                    Add(c, answer.Columns.Select(entry => entry.Column));
                    Learn(c, answer.Columns);
                }
            }

            plan[c] = complete ? Surplus.TakeOut(_listed[c], all, _listed[c].Demand.AsSpan()) : null;
        }

        if (plan.All(chosen => chosen is not null))
        {
            Best.Offer([.. plan.Select(chosen => chosen!)], []);
        }
    }

    /// <summary>Next time a little less onto these plates.</summary>
    private void TooFull(int c, StockGroup group, JointBound.Relaxed wanted)
    {
        var component = _lowest[c];
        foreach (var s in group.Stocks.Where(s => wanted.Whole[s] > 0))
        {
            const long Scale = 1 << 20;
            const decimal Less = 0.97m;
            var room = StockSize.Room(component, s);
            var sizes = new long[component.Items];
            long used = 0;
            for (var i = 0; i < sizes.Length; i++)
            {
                sizes[i] = component.Fits[s, i] is null ? 0 : (long)(StockSize.Of(component, s, i) * Scale / room);
                used += sizes[i] * wanted.From[s, i];
            }

            _guessedCaps[c].Add(new(s, sizes, 0, (long)(Less * used / wanted.Whole[s])));
        }
    }

    /// <summary>What layouts of a stock cost beyond the relaxation: the mean of what was guessed and seen.</summary>
    private void Learn(int c, ImmutableArray<(Column Column, int Count)> columns)
    {
        var component = _lowest[c];
        foreach (var (column, _) in columns)
        {
            var s = column.Stock;
            var (perStock, perPiece) = StockSize.LeftoverRate(component, s);
            var relaxed = component.LowerCosts.Stock[s] - perStock;
            var bare = component.LowerCosts.BareStock[s];
            for (var i = 0; i < column.Counts.Length; i++)
            {
                relaxed += column.Counts[i] == 0 ? 0 : column.Counts[i] * (component.LowerCosts.Piece[s, i] + perPiece(i));
                bare += column.Counts[i] * component.LowerCosts.BarePiece[s, i];
            }

            if (!column.Layout.Offcuts.Any(offcut => offcut.Keep))
            {
                relaxed = Math.Max(relaxed, bare);
            }

            _guess[c][s] = (_guess[c][s] + Math.Max(0, column.At(component).Cost - relaxed)) / 2;
        }
    }

    /// <summary>Rows that this solution breaks; returns whether there is a new one.</summary>
    private bool Separate(ImmutableArray<JointBound.Relaxed> found)
    {
        var more = false;
        for (var c = 0; c < _lowest.Length; c++)
        {
            more |= _caps[c].Separate(found[c], _cancel);
        }

        return more;
    }

    /// <summary>The choosing model over all layouts so far.</summary>
    private void Choose()
    {
        if (Left <= 0.02)
        {
            return;
        }

        var model = new JointModel(
            _job, _listed, [.. _pools.Select(pool => pool.Columns.ToImmutableArray())], [.. _listed.Select(_ => false)]);
        if (model.Solve(ChooseTime * _limits.Effort, Left, _limits.Seed, Best.Hint, _cancel) is { } answer)
        {
            Best.Offer(
                [.. answer.Chosen.Select((chosen, c) => Surplus.TakeOut(_listed[c], chosen, _listed[c].Demand.AsSpan()))], answer.Extras);
        }
    }
}
