using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Choose;

/// <summary>The last step where the others leave something out: the exact method over the whole job, at the leftovers' own prices and with what settings cost.</summary>
/// <remarks>The other steps solve leftovers that are carried below what they bring as scrap at their scrap value, so their bound has the whole saving taken off, and the plan that is
/// cheapest there need not be so here (<see cref="StockTwins"/>). Where nothing ties the components they are solved without settings. The exact method needs no layout to cost anything, and
/// counts settings by counts of stock (<see cref="Exact.SettingTerms"/>). It begins with their plan, and adds nothing where it does not fit.</remarks>
internal sealed class WholeProof
{
    private readonly ImmutableArray<Component> _components;
    private readonly JointPlan _best;
    private readonly JointProof _proof;

    /// <param name="twins">At their own prices.</param>
    /// <param name="components">Of its merged job.</param>
    /// <param name="parts">The best plan so far at these prices, with nothing left out.</param>
    /// <param name="bound">No plan costs less, settings not counted.</param>
    /// <param name="improved">Told a better plan or a higher bound.</param>
    public WholeProof(
        StockTwins twins, ImmutableArray<Component> components, ImmutableArray<Chosen> parts, ImmutableArray<(StockFrame Frame, int Count)> extras, Bound bound, SolveLimits limits,
        Action<WholeProof>? improved, CancellationToken cancel)
    {
        (_components, Bound) = (components, bound);
        _best = new(twins.Merged, components);
        _best.Offer(parts, extras);
        _proof = new(twins.Merged, components, withSettings: true, limits, cancel)
        {
            Best = () => _best is { Cost: { } cost, Missing: 0 } ? ((_proof!.CountsSettings ? cost + _best.SetUps : cost).Units, [.. _best.Parts.Select(part => part!)]) : null,
            Take = (plan, some) =>
            {
                if (_best.Offer([.. plan.Select((columns, c) => Surplus.TakeOut(_components[c], columns, _components[c].Demand.AsSpan()))], some))
                {
                    improved?.Invoke(this);
                }
            },
            Raise = higher => Bound = Bound.Higher(Bound, higher),
            RaiseWithSettings = higher =>
            {
                WithSettings = Bound.Higher(WithSettings, higher);
                improved?.Invoke(this);
            },
        };
    }

    public ImmutableArray<Chosen> Parts => [.. _best.Parts.Select(part => part!)];

    public ImmutableArray<(StockFrame Frame, int Count)> Extras => _best.Extras;

    /// <summary>Cost of the best plan with settings; nothing is carried over.</summary>
    public Core.Quantities.Money Cost => _best.Cost!.Value + _best.SetUps;

    /// <summary>Of plans' costs without settings.</summary>
    public Bound Bound { get; private set; }

    /// <summary>Of plans' costs with settings less what is carried over; none where they cost nothing.</summary>
    public Bound WithSettings { get; private set; }

    public void Run(double seconds) => _proof.Run(seconds);
}
