using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Solve.Choose;

namespace Nest.Solve.Batch;

/// <summary>One number of sets on its way to a point of the curve: its problem, its best plan so far, its bounds.</summary>
internal sealed class CurveNumber
{
    private readonly StockTwins _twins;

    public CurveNumber(Job job, int sets)
    {
        Sets = sets;
        var batch = job.ForBatch(sets);
        _twins = StockTwins.Of(batch, BlankSizer.Size(batch));
        Components = Choose.Components.Of(Job, Blanks);
        Lowest = Choose.Components.Of(Scenario.AllAtLowest(Job), Blanks);
        Best = new(Job, Components);
    }

    public int Sets { get; }

    /// <summary>With equal leftovers as one kind of stock.</summary>
    public Job Job => _twins.Merged;

    public ImmutableArray<Blank> Blanks => _twins.MergedBlanks;

    /// <summary>At listed prices.</summary>
    public ImmutableArray<Component> Components { get; }

    /// <summary>At the lowest prices that breaks give.</summary>
    public ImmutableArray<Component> Lowest { get; }

    public JointPlan Best { get; private set; }

    /// <summary>No plan for exactly this number costs less with its settings.</summary>
    public Bound WithSettings { get; private set; }

    /// <summary>No plan for exactly this number costs less.</summary>
    public Bound Exact { get; private set; }

    /// <summary>No plan for this number or more costs less: made from the linear relaxation, in which the demand may be exceeded.</summary>
    public Bound Cover { get; private set; }

    /// <summary>The better of the two: for exactly this number.</summary>
    public Bound Bound => Bound.Higher(Exact, Cover);

    /// <summary>Of what was found for the job with equal leftovers as one kind, what holds for the job as it was given.</summary>
    public Bound Own(Bound bound) => _twins.Own(bound);

    /// <summary>How often time was spent on this number alone.</summary>
    public int Tries { get; set; }

    /// <summary>Whether its own bound and choice were made.</summary>
    public bool Bounded { get; set; }

    /// <summary>Whether everything that can be placed at all is, as far as is known.</summary>
    public bool Complete => Best is { Cost: not null, Missing: 0 };

    /// <summary>How far it may be from the cheapest; 1 while pieces are left out. The numbers are searched in this order.</summary>
    public decimal Gap => Best.Cost is { } cost && Best.Missing == 0 ? Math.Min(Plan.GapOf(cost, Bound) ?? 1m, Plan.GapOf(cost + Best.SetUps, WithSettings) ?? 1m) : 1m;

    public bool Proven => Complete && (Bound.Proves(Best.Cost!.Value) || WithSettings.Proves(Best.Cost.Value + Best.SetUps));

    public void RaiseExact(Bound bound) => Exact = Bound.Higher(Exact, bound);

    public void RaiseWithSettings(Bound bound) => WithSettings = Bound.Higher(WithSettings, bound);

    public void RaiseCover(Bound bound) => Cover = Bound.Higher(Cover, bound);

    /// <summary>Takes another number's answer of the same size, or the one of a search.</summary>
    public bool Offer(ImmutableArray<Chosen> parts, ImmutableArray<(StockFrame Frame, int Count)> extras) => Best.Offer(parts, extras);

    /// <summary>Offers a plan that cuts at least this number's pieces; what is beyond is taken out.</summary>
    /// <returns>Whether it is better than the one before.</returns>
    public bool OfferMore(IReadOnlyList<IEnumerable<(Column Column, int Count)>> columns, ImmutableArray<(StockFrame Frame, int Count)> extras) =>
        Offer([.. columns.Select((some, c) => Surplus.TakeOut(Components[c], some, Components[c].Demand.AsSpan()))], extras);

    public Plan ToPlan(SolveLimits limits)
    {
        var plan = PlanAssembler.Assemble(
            _twins.Job, _twins, Components, [.. Best.Parts.Select(part => (part, Bound.None))], limits, Best.Extras, Bound, WithSettings);
        return plan with { PartCosts = CostSheet.PartCosts(_twins.Job, _twins.Blanks, plan.Layouts) };
    }
}
