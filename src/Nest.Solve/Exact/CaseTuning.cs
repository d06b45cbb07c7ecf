using Google.OrTools.LinearSolver;

namespace Nest.Solve.Exact;

/// <summary>Multipliers for a case's smallest orders and thresholds, from the choices of each part that were met so far.</summary>
/// <remarks>The linear programme of Dantzig and Wolfe over one choice of counts a part: its duals are the multipliers at which these choices' bound is
/// highest. Few choices say little about multipliers far from those where they were met, so these may move only so far (a box step; Marsten, Hogan,
/// Blankenship 1975). Any multipliers in [0, 1] make a valid bound, so its floating point does no harm.</remarks>
internal static class CaseTuning
{
    /// <param name="costs">Cost of each choice of each part beside goods, in currency units.</param>
    /// <param name="around">Shares from which the new ones may differ by <paramref name="most"/>.</param>
    /// <returns>New shares of the goods, by supplier; null where there is no answer.</returns>
    public static double[]? Shares(OrderCase one, double[][] costs, double[] around, double most)
    {
        using var solver = Glop.Create();
        var objective = solver.Objective();
        objective.SetMinimization();
        var needs = new Constraint?[one.States.Length];
        var charged = new Constraint?[one.States.Length];
        for (var k = 0; k < needs.Length; k++)
        {
            if (one.States[k] == OrderCase.Closed)
            {
                continue;
            }

            // charged ≥ goods and, where a sum is needed, charged ≥ that. With free delivery the goods themselves must reach it; what is missing costs as much.
            var sum = solver.MakeNumVar(0, double.PositiveInfinity, "");
            objective.SetCoefficient(sum, one.States[k] == OrderCase.Either ? around[k] : 1);
            charged[k] = solver.MakeConstraint(0, double.PositiveInfinity);
            charged[k]!.SetCoefficient(sum, 1);
            if (one.Needed(k) > 0)
            {
                needs[k] = solver.MakeConstraint(one.Needed(k), double.PositiveInfinity);
                if (one.States[k] != OrderCase.Free)
                {
                    needs[k]!.SetCoefficient(sum, 1);
                }

                // What is missing, or is there beyond need, at prices between which the multiplier stays.
                Slack(needs[k]!, 1, Math.Min(1, 1 - around[k] + most));
                Slack(needs[k]!, -1, -Math.Max(0, 1 - around[k] - most));
            }
        }

        for (var p = 0; p < costs.Length; p++)
        {
            var only = solver.MakeConstraint(1, 1);
            for (var v = 0; v < costs[p].Length; v++)
            {
                var choice = one.Choices[p][v];
                var use = solver.MakeNumVar(0, double.PositiveInfinity, "");
                objective.SetCoefficient(use, costs[p][v]);
                only.SetCoefficient(use, 1);
                for (var k = 0; k < needs.Length; k++)
                {
                    charged[k]?.SetCoefficient(use, -choice.Goods[k]);
                    if (one.States[k] == OrderCase.Free)
                    {
                        needs[k]?.SetCoefficient(use, choice.Goods[k]);
                    }
                }
            }
        }

        return solver.Solve() != Solver.ResultStatus.OPTIMAL
            ? null
            : [.. needs.Select((need, k) => one.States[k] is OrderCase.Closed or OrderCase.Either ? around[k] : 1 - Math.Clamp(Math.Round(need?.DualValue() ?? 0, 6), 0, 1))];

        void Slack(Constraint need, double coefficient, double price)
        {
            var slack = solver.MakeNumVar(0, double.PositiveInfinity, "");
            objective.SetCoefficient(slack, price);
            need.SetCoefficient(slack, coefficient);
        }
    }
}
