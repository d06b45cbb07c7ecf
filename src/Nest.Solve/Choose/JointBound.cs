using System.Collections.Immutable;
using System.Globalization;
using Google.OrTools.Sat;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A lower bound for a job with purchase terms that knows both that stock comes in whole pieces and what orders cost.</summary>
/// <remarks>
/// The relaxations of <see cref="StockCountBound"/> of all components in one model, with the suppliers' terms on the whole pieces of
/// stock instead of their price: every plan uses y_s pieces of stock s, its layouts cost at least what the relaxation says less the
/// price per piece that it was made with, and the orders cost exactly what <see cref="OrderTerms"/> says. CP-SAT works in whole
/// numbers, so its bound is safe. Guarantee: bound, for all sets of suppliers at once.
/// </remarks>
internal static class JointBound
{
    /// <summary>A component with what column generation proved of its layouts.</summary>
    internal sealed record Share(Component Component, IReadOnlyList<(long[] Values, long[] Best)> Cuts);

    // Lower costs a few units below zero are taken as zero: that is given back.
    private const long Clamped = 4;

    /// <param name="shares">All components of the job, at the prices that their lower costs were made with.</param>
    public static Money Of(Job job, IReadOnlyList<Share> shares, double deterministicTime, double seconds, CancellationToken cancel)
    {
        if (seconds <= 0.01 || shares.Any(share => !share.Component.LowerCosts.Valid))
        {
            return Money.Zero;
        }

        var model = new CpModel();
        var objective = LinearExpr.NewBuilder();
        var terms = new OrderTerms(job, model, objective);
        foreach (var (component, cuts) in shares.Select(share => (share.Component, share.Cuts)))
        {
            var demand = component.Demand;
            var whole = StockCountBound.AddTo(model, component, demand.AsSpan(), cuts, objective);
            for (var s = 0; s < whole.Length; s++)
            {
                if (whole[s] is { } count)
                {
                    var clamped = component.LowerCosts.Stock[s] == 0 ? Clamped : 0;
                    objective.AddTerm(count, -component.Stocks[s].Stock.PiecePrice.Units - clamped);
                    terms.Used(component.Stocks[s], demand.Sum()).Add(count);
                }
            }
        }

        terms.Build();
        model.Minimize(objective);
        return Money.FromUnits(StockCountBound.Solve(model, deterministicTime, seconds, cancel));
    }
}
