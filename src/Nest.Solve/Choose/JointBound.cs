using System.Collections.Immutable;
using Google.OrTools.Sat;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A lower bound for a job with purchase terms that knows both that stock comes in whole pieces and what orders cost.</summary>
/// <remarks>
/// The relaxations of <see cref="StockCountBound"/> of all components in one model, with the suppliers' terms on the whole pieces of
/// stock instead of their price: every plan uses y_s pieces of stock s, its layouts cost at least what the relaxation says less the
/// price per piece that it was made with, and the orders cost exactly what <see cref="OrderTerms"/> says. CP-SAT works in whole
/// numbers, so its bound is safe. Guarantee: bound, for all sets of suppliers at once. Its solution is half a plan: which pieces come
/// from how many pieces of which stock (<see cref="RelaxedPlans"/>).
/// </remarks>
internal static class JointBound
{
    /// <summary>A component with what is known of its layouts.</summary>
    /// <param name="Cuts">Values with the most that a layout is worth at them.</param>
    internal sealed record Share(Component Component, IReadOnlyList<(long[] Values, long[] Best)> Cuts)
    {
        /// <summary>What a piece of stock holds at most.</summary>
        public IEnumerable<LayoutCaps.Cap> Caps { get; init; } = [];

        /// <summary>Stocks for which it matters how many pieces leave an offcut to keep.</summary>
        public IReadOnlySet<int>? Keeps { get; init; }

        /// <summary>Cost per piece of stock beyond what is proven, in money units; the answer is no bound then.</summary>
        public long[]? Guess { get; init; }
    }

    /// <summary>What the model found best for a component: pieces of each stock, and of each item from each stock.</summary>
    /// <param name="Keeping">Pieces of stock that leave an offcut to keep.</param>
    internal sealed record Relaxed(int[] Whole, int[,] From, int[] Keeping);

    /// <param name="Best">By component; default when no solution was found in time.</param>
    internal sealed record Answer(Bound Bound, ImmutableArray<Relaxed> Best);

    // Lower costs may be a few units below zero, and the model takes them as zero. So many units are taken off the bound for each piece of
    // stock, so that it stays a bound.
    private const long Clamped = 4;

    /// <param name="shares">All components of the job, at the prices that their lower costs were made with.</param>
    public static Bound Of(Job job, IReadOnlyList<Share> shares, double deterministicTime, double seconds, CancellationToken cancel) =>
        Solve(job, shares, deterministicTime, seconds, cancel).Bound;

    /// <inheritdoc cref="Of"/>
    public static Answer Solve(Job job, IReadOnlyList<Share> shares, double deterministicTime, double seconds, CancellationToken cancel)
    {
        if (seconds <= 0.01 || shares.Any(share => !share.Component.LowerCosts.Valid))
        {
            return new(Bound.None, default);
        }

        var model = new CpModel();
        var objective = LinearExpr.NewBuilder();
        var terms = new OrderTerms(job, model, objective);
        var counts = new List<StockCountBound.Counts>();
        foreach (var share in shares)
        {
            var component = share.Component;
            var demand = component.Demand;
            var own = StockCountBound.AddTo(model, component, demand.AsSpan(), share.Cuts, objective, share.Caps, share.Keeps, sizes: true);
            counts.Add(own);
            for (var s = 0; s < own.Whole.Length; s++)
            {
                if (own.Whole[s] is { } count)
                {
                    var clamped = component.LowerCosts.Stock[s] == 0 ? Clamped : 0;
                    objective.AddTerm(count, (share.Guess?[s] ?? 0) - component.Stocks[s].Stock.PiecePrice.Units - clamped);
                    terms.Used(component.Stocks[s], demand.Sum()).Add(count);
                }
            }
        }

        terms.Build();
        model.Minimize(objective);
        ImmutableArray<Relaxed> best = default;
        var bound = WholeBound.Of(model, deterministicTime, seconds, cancel, solver => best = [.. counts.Select(own => Read(own, solver))]);
        return new(bound is { } value ? Bound.Of(value, Methods.WholePiecesWithTerms) : Bound.None, best);
    }

    private static Relaxed Read(StockCountBound.Counts counts, CpSolver solver)
    {
        var from = new int[counts.From.GetLength(0), counts.From.GetLength(1)];
        for (var s = 0; s < from.GetLength(0); s++)
        {
            for (var i = 0; i < from.GetLength(1); i++)
            {
                from[s, i] = counts.From[s, i] is { } pieces ? (int)solver.Value(pieces) : 0;
            }
        }

        return new(Values(counts.Whole), from, Values(counts.Keeping));

        int[] Values(IntVar?[] some) => [.. some.Select(variable => variable is null ? 0 : (int)solver.Value(variable))];
    }
}
