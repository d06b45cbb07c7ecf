using Nest.Solve.Plates.Free;

namespace Nest.Solve.Plates.Bounds;

/// <summary>Lower bounds on the cost of a plate problem that hold for every layout, free or through-cut.</summary>
/// <remarks>
/// Method: each choice of dual feasible functions gives a cut Σ_s U_s·n_s ≥ Σ_i d_i·u_i on the numbers n_s of plates; the cheapest
/// whole n that meets all cuts and the limits is a bound on the plates' cost, to which every piece adds at least its smallest piece
/// cost. Guarantee: bound, whole numbers only.
/// </remarks>
public static class PlateBounds
{
    /// <summary>Answer when no plan can exist: limits of the plates are too small.</summary>
    public const long Impossible = long.MaxValue;

    /// <summary>The best bound found.</summary>
    /// <param name="stopAt">Cost of a known plan: a bound that reaches it ends the search.</param>
    public static long Best(PlateProblem problem, long? stopAt, SolveLimits limits, CancellationToken cancel = default) =>
        Best(new FreeModel(problem), stopAt, limits, cancel);

    internal static long Best(FreeModel model, long? stopAt, SolveLimits limits, CancellationToken cancel)
    {
        Int128 pieces = 0;
        for (var k = 0; k < model.Kinds; k++)
        {
            var least = Enumerable.Range(0, model.Stocks.Length).Where(s => model.Allowed[s, k])
                .Select(s => model.PieceCost(s, k)).DefaultIfEmpty(-1).Min();
            if (least < 0)
            {
                return Impossible;
            }

            pieces += (Int128)least * model.Demand[k];
        }

        var budget = new FreeBudget(limits, cancel);
        var cuts = ScaleCuts.For(model, budget);
        var plates = PlateCover.Cheapest(model, cuts, stopAt is { } stop ? (long)Int128.Max(0, stop - pieces) : null, budget);
        return plates == Impossible ? Impossible : (long)Int128.Min(plates + pieces, Impossible - 1);
    }
}
