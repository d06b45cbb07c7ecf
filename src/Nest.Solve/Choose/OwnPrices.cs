using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Choose;

/// <summary>The last step where leftovers are carried below what they bring as scrap: the exact method, at their own prices.</summary>
/// <remarks>The other steps solve such leftovers at their scrap value, so their bound has the whole saving taken off, and the plan that is cheapest there
/// need not be so here (<see cref="StockTwins"/>). The exact method needs no layout to cost anything. It begins with their plan, and adds nothing where it
/// does not fit.</remarks>
internal sealed class OwnPrices
{
    private readonly ImmutableArray<Component> _components;
    private readonly JointPlan _best;
    private readonly JointProof _proof;

    /// <param name="twins">At their own prices.</param>
    /// <param name="components">Of its merged job.</param>
    /// <param name="parts">The best plan so far at these prices, with nothing left out.</param>
    /// <param name="bound">No plan costs less.</param>
    public OwnPrices(
        StockTwins twins, ImmutableArray<Component> components, ImmutableArray<Chosen> parts, ImmutableArray<(StockFrame Frame, int Count)> extras, Bound bound, SolveLimits limits, CancellationToken cancel)
    {
        (_components, Bound) = (components, bound);
        _best = new(twins.Merged, components);
        _best.Offer(parts, extras);
        _proof = new(twins.Merged, components, withSettings: false, limits, cancel)
        {
            Best = () => _best is { Cost: { } cost, Missing: 0 } ? (cost.Units, [.. _best.Parts.Select(part => part!)]) : null,
            Take = (plan, some) => _best.Offer([.. plan.Select((columns, c) => Surplus.TakeOut(_components[c], columns, _components[c].Demand.AsSpan()))], some),
            Raise = higher => Bound = Bound.Higher(Bound, higher),
        };
    }

    public ImmutableArray<Chosen> Parts => [.. _best.Parts.Select(part => part!)];

    public ImmutableArray<(StockFrame Frame, int Count)> Extras => _best.Extras;

    public Bound Bound { get; private set; }

    public void Run(double seconds) => _proof.Run(seconds);
}
