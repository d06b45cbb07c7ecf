using System.Collections.Immutable;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>The chain that prices, chooses and proves: values of the blanks, whole counts of stock, then all loads within a growing gap.</summary>
/// <remarks>
/// (1) Column generation over all loads, component by component (<see cref="ValueGeneration"/>), for values; each set of values is a statement (<see cref="ValueCut"/>). With many stocks and purchase terms <see
/// cref="CaseSearch"/> then goes on case by case of who is ordered from, as far as that leads. (2) <see cref="CountMaster"/> picks the counts of stock that look cheapest with all purchase terms; where a component's counts
/// are new, and can hold the blanks at all (<see cref="CountRoom"/>), column generation with just these gives a stronger statement. (3) Counts that come back are closed component by component (<see cref="PartProof"/>): their least cost becomes a row. (4) Where that does not settle
/// it, as single pieces cut to size may have breaks and minimums, all loads of all components within a gap make one programme with the exact terms. The bound is the least of what the count master still allows and of the
/// closed counts' costs. Every link is valid by itself: stopped at any time, the bound holds.
/// </remarks>
internal sealed class ExactSearch
{
    private const long CountNodes = 4000;
    private const double MostCountSeconds = 15;

    /// <summary>With no more stocks the programme over all counts takes little, and it is exact where cases leave a gap.</summary>
    private const int FewStocks = 40;

    /// <summary>Pieces of stock that plans may use, up to which the cases of ordering are looked at one by one.</summary>
    private const double MostPiecesForCases = 200_000;

    /// <summary>Of the time left, for values of one component at any counts.</summary>
    private const double PartShare = 0.5;

    /// <summary>Of the time left, for all loads by values before lists within a gap.</summary>
    private const double ByValuesShare = 0.6;

    /// <summary>By which the choice of counts of several components may miss the least: to prove the last of it takes longest.</summary>
    private const double RoughGap = 0.003;

    private readonly ExactJob _job;
    private readonly double _enough;
    private readonly ImmutableArray<PartProof> _parts;
    private readonly CountMaster _counts;
    private readonly CaseSearch? _cases;
    private readonly JobClosing _closing;
    private readonly CountSettings? _beyond;
    private readonly FewLoads _fewLoads;
    private readonly LoadPlans _plans;
    private ExactMeter _meter = new(0, null, default);
    private double _closed = double.PositiveInfinity;
    private double _upper = double.PositiveInfinity;
    private int _settled;
    private bool _begun;
    private bool _generated;
    private bool _few;

    /// <summary>Takes a plan; returns the cost of the best plan so far, in grains (infinite: none yet).</summary>
    internal delegate double Offer(ImmutableArray<(Load Load, int Count)> plan, ImmutableArray<(StockFrame Frame, int Count)> extras);

    /// <param name="enough">By how much a plan may miss its bound and still be proven, in grains.</param>
    /// <param name="withSettings">Whether settings count: then they are in the costs of all plans, and in bounds.</param>
    public ExactSearch(ExactJob job, int threads, double enough, bool withSettings, Offer offer)
    {
        (_job, _enough, _fewLoads) = (job, enough, new(job, withSettings));
        _parts = [.. Enumerable.Range(0, job.Components.Length).Select(c =>
            new PartProof(job, c, threads, enough / job.Components.Length, Note, () => IsProven, DropsStock ? () => _plans!.Choose(_meter) : null))];
        _plans = new(job, _parts, Note, (plan, extras) => Upper = Math.Min(Upper, offer(plan, extras)));
        var settings = withSettings ? new SettingTerms(job, job) : null;
        _counts = new(job, _parts, settings: settings);
        _beyond = settings is null ? null : new(job, settings);
        _closing = new(job, _parts, settings, _beyond, enough, _plans, Note);
        if (job.IsTied && job.Sources.Length > FewStocks && job.Sources.Sum(source => (double)ExactJob.MostOf(source)) <= MostPiecesForCases)
        {
            _cases = new(job, _parts, withSettings, Note);
        }
    }

    /// <summary>No plan costs less, in grains; minus infinity: not known.</summary>
    public double Bound { get; private set; } = double.NegativeInfinity;

    /// <summary>Cost of the best plan, in grains.</summary>
    public double Upper
    {
        get => _upper;
        set
        {
            _upper = value;
            if (DropsStock)
            {
                _parts[0].Values.Upper = value;
            }
        }
    }

    /// <summary>Told each higher bound, in grains.</summary>
    public Action<double>? Told { get; init; }

    /// <summary>Told each load that was found, whether it is in a plan or not.</summary>
    public Action<Load>? Found { init => _plans.Found = value; }

    /// <summary>Cost of the best plan that was found by whomever, in grains.</summary>
    public Func<double>? BestElsewhere { get; set; }

    /// <summary>That plan by component.</summary>
    public Func<IReadOnlyList<Chosen>?>? Elsewhere { get; set; }

    /// <summary>Whether every load may be listed at once where these are few.</summary>
    public bool ListsAll { get; init; } = true;

    public bool IsProven => Upper - Bound < _enough;

    /// <summary>What was done, for traces and the bench.</summary>
    public List<string> Log { get; } = [];

    /// <summary>A plan's cost tells which stock no cheaper plan uses, where there is one component and nothing but prices.</summary>
    private bool DropsStock => _job is { IsTied: false, Components.Length: 1 };

    private bool IsOver => _meter.IsOver || IsProven;

    /// <summary>Begins, or goes on.</summary>
    public void Run(ExactMeter meter)
    {
        _meter = meter;
        if (!_job.IsValid || _job.Demand.Length == 0 || _few)
        {
            return;
        }

        if (!_begun)
        {
            _few = ListsAll && Few(_fewLoads.Solve(_meter), "all loads");
            _begun = !_few && !IsOver;
        }

        if (_begun && !_generated)
        {
            _generated = Generate();
            if (_cases is null || double.IsInfinity(BestElsewhere?.Invoke() ?? Upper))
            {
                _plans.Choose(_meter);
            }
        }

        ByValues(_fewLoads.ComeFirst ? ByValuesShare : 0);

        while (_generated && _cases is not null && !_few && !IsOver && CaseStep())
        {
        }

        while (_generated && !_few && !IsOver && Round())
        {
        }

        ByValues(1);
    }

    /// <summary>All loads by values, as far as a share of what is left goes.</summary>
    private void ByValues(double share)
    {
        if (ListsAll && _generated && !_few && !IsOver && share > 0)
        {
            FoundLayouts.TakeIn(_job, Elsewhere?.Invoke());
            var part = _meter.Part(share);
            _few = Few(_fewLoads.ByValues(_parts, part), "loads by values");
            _meter.Take(part);
        }
    }

    /// <summary>Values at any counts, the components one after the other; true when all have some.</summary>
    private bool Generate()
    {
        var whole = _meter;
        var all = true;
        for (var c = 0; c < _parts.Length; c++)
        {
            // What a component leaves of its share is for the next ones.
            var part = _parts[c];
            var share = PartShare * part.Weight / _parts.Skip(c).Sum(other => other.Weight);
            var values = whole.Part(_parts.Length == 1 ? 1 : share);
            all &= part.Values.Generate(null, values) is not null;
            whole.Take(values);
        }

        return all;
    }

    /// <summary>One step for the cheapest case of ordering; false when these have nothing more to say.</summary>
    private bool CaseStep()
    {
        Upper = Math.Min(Upper, BestElsewhere?.Invoke() ?? double.PositiveInfinity);
        var outcome = _cases!.Step(Upper, _meter);
        Raise(_cases.Bound);
        if (outcome == CaseSearch.Outcome.Closed)
        {
            _plans.Take(_cases.Counts!);
        }

        _plans.ChooseFromMore(_meter);
        return outcome != CaseSearch.Outcome.Ended;
    }

    /// <summary>Values at the best plan's counts: these come up sooner or later.</summary>
    private void LookElsewhere()
    {
        if (Elsewhere?.Invoke() is { } plan)
        {
            var known = _job.CountsOf(plan);
            _parts.Where(part => !part.IsSettled(part.Own(known))).ToList().ForEach(part => part.Settle(part.Own(known), _meter));
        }
    }

    /// <summary>One choice of counts: settled, closed, or proven; false when there is nothing more to do.</summary>
    private bool Round()
    {
        Upper = Math.Min(Upper, BestElsewhere?.Invoke() ?? double.PositiveInfinity);
        if (_parts.Length > 1)
        {
            LookElsewhere();
        }

        var answer = _counts.Solve(_meter.Limits(MostCountSeconds, CountNodes), _parts.Length > 1 ? RoughGap : 0);
        _meter.Add(3e6 + (2e5 * _counts.Rows));
        Raise(Math.Min(Math.Min(answer.Bound, _closed), Math.Min(_counts.HoldsBelow, _beyond?.HoldsBelow ?? double.PositiveInfinity)));
        if (answer.Counts is not { } counts || IsOver || answer.Bound > Upper - _enough)
        {
            Note($"counts: bound {answer.Bound / Grain.PerCurrency:0.000}, none left");
            return false;
        }

        Note($"counts {_job.TextOf(counts)}: bound {answer.Bound / Grain.PerCurrency:0.000}");
        if (!_parts.All(part => part.MayHold(part.Own(counts), _meter)))
        {
            return true;
        }

        var open = _parts.Where(part => !part.IsSettled(part.Own(counts))).ToList();
        if (_beyond?.Raise(_counts, counts, Upper) == true || open.Count > 0)
        {
            if (!open.TrueForAll(part => part.Settle(part.Own(counts), _meter)))
            {
                return false;
            }

            // Now and then.
            _settled += open.Count;
            if (_settled % 4 == 1)
            {
                _plans.Choose(_meter);
            }

            return true;
        }

        if (_parts.Where(part => part.ClosedAt(part.Own(counts)) is not { Done: true }).ToList() is { Count: > 0 } closable)
        {
            foreach (var part in closable)
            {
                part.Close(part.Own(counts), Upper - answer.Bound, _meter);
            }

            // A list that the time did not suffice for leaves nothing.
            _plans.Take(counts);
            _plans.Choose(_meter);
            return _parts.All(part => part.ClosedAt(part.Own(counts)) is not null);
        }

        if (_closing.Least(counts, Upper, _meter) is not { } reached)
        {
            return false;
        }

        _closed = Math.Min(_closed, reached);
        _counts.Close(counts);
        return true;
    }

    /// <returns>Whether there is nothing more to do.</returns>
    private bool Few(LoadMaster.Answer? answer, string by)
    {
        if (answer is null)
        {
            return false;
        }

        Note($"{by}: {answer.Cost / Grain.PerCurrency:0.000}, bound {answer.Bound / Grain.PerCurrency:0.000}");
        _plans.Take(answer.Plan, answer.Extras);
        Raise(Math.Min(answer.Bound, _counts.HoldsBelow));
        return answer.Closed;
    }

    private void Note(string text)
    {
        Log.Add($"{_meter.Seconds:0.000} {text}");
        ExactChain.Trace?.Invoke(Log[^1]);
    }

    private void Raise(double bound)
    {
        if (bound > Bound)
        {
            Bound = bound;
            Told?.Invoke(bound);
        }
    }
}
