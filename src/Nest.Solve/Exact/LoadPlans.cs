using System.Collections.Immutable;
using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>Plans of the loads that <see cref="ExactSearch"/> comes across: a programme over all of them now and then, and the plans of closed counts.</summary>
/// <param name="take">Takes a plan; it may be no better than the best.</param>
internal sealed class LoadPlans(
    ExactJob job, IReadOnlyList<PartProof> parts, Action<string> note, Action<ImmutableArray<(Load Load, int Count)>, ImmutableArray<(StockFrame Frame, int Count)>> take)
{
    /// <summary>Most loads in a programme for a plan.</summary>
    private const int MostLoads = 5000;

    /// <summary>So many times the loads of the last programme are worth another beside other steps that make plans.</summary>
    private const double EnoughLoads = 1.5;

    private const long Nodes = 500;
    private const double MostSeconds = 2;
    private const double Share = 0.15;

    private readonly List<Load> _loads = [];
    private int _chosenFrom;

    /// <summary>Told each load that was found, whether it is in a plan or not.</summary>
    public Action<Load>? Found { get; set; }

    /// <summary>A plan of the loads known so far.</summary>
    public void Choose(ExactMeter meter)
    {
        TakeIn();
        if (meter.IsOver || _loads.Count == _chosenFrom || _loads.Count > MostLoads)
        {
            return;
        }

        _chosenFrom = _loads.Count;
        var answer = LoadMaster.Solve(job, _loads, null, exactly: false, meter.Limits(Math.Min(MostSeconds, Share * meter.SecondsLeft), Nodes));
        meter.Add(1e7);
        note($"plan of {_loads.Count} loads: {answer.Cost / Grain.PerCurrency:0.000}");
        Take(answer.Plan, answer.Extras);
    }

    /// <summary>The same where so many loads have come that another plan is likely.</summary>
    public void ChooseFromMore(ExactMeter meter)
    {
        TakeIn();
        if (_chosenFrom == 0)
        {
            // The other steps have a plan.
            _chosenFrom = _loads.Count;
        }
        else if (_loads.Count >= EnoughLoads * _chosenFrom)
        {
            Choose(meter);
        }
    }

    /// <summary>Takes the plan of the parts' own plans at these counts, where each has one.</summary>
    public void Take(int[] counts)
    {
        var closings = parts.Select(part => part.ClosedAt(part.Own(counts))).ToList();
        if (closings.All(closing => closing is { Plan.IsEmpty: false }))
        {
            Take([.. closings.SelectMany(closing => closing!.Plan)], []);
        }
    }

    public void Take(ImmutableArray<(Load Load, int Count)> plan, ImmutableArray<(StockFrame Frame, int Count)> extras)
    {
        if (!plan.IsEmpty && plan.All(entry => entry.Load.Real))
        {
            take(plan, extras);
        }
    }

    /// <summary>Takes in the loads that the parts have found.</summary>
    private void TakeIn()
    {
        foreach (var load in parts.SelectMany(part => part.NewLoads().Where(load => load.Real).Select(part.InJob)))
        {
            _loads.Add(load);
            Found?.Invoke(load);
        }
    }
}
