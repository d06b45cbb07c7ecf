using System.Collections.Immutable;
using Google.OrTools.LinearSolver;

namespace Nest.Solve.Exact;

/// <summary>The programme over listed loads: the cheapest plan that they make, with exact purchase terms.</summary>
/// <remarks>
/// minimise terms(n) + Σ cost · x subject to Σ counts · x = demand, n_s = Σ x over the loads of s, and n_s = P_s where counts are given, x whole.
/// Lemma. At counts P let B be the bound that one set of values gives (<see cref="ValueCut"/> with the terms of P). A plan at P costs at least
/// B + Σ (Best_s − worth of its load) over its pieces of stock, so a plan of at most B + G has only loads within G of their stock's best.
/// If the programme over all of these finds a plan of at most B + G it is the best at P; if it finds none, B + G is a bound at P.
/// </remarks>
internal static class LoadMaster
{
    /// <param name="Plan">Loads with their counts; empty: none was found.</param>
    /// <param name="Bound">No plan of these loads costs less, in grains; infinite when there is none.</param>
    /// <param name="Cost">Of the plan, in grains, terms included.</param>
    internal sealed record Answer(
        ImmutableArray<(Load Load, int Count)> Plan, ImmutableArray<(Choose.StockFrame Frame, int Count)> Extras, double Cost, double Bound, bool Closed);

    /// <summary>What counts of stock cost at least with exact purchase terms and no single pieces beside them, in grains.</summary>
    public static double LeastTerms(ExactJob job, int[] counts)
    {
        using var program = new MixedProgram();
        var whole = job.Sources.Select(source => source.IsSingle
            ? program.Solver.MakeIntVar(0, ExactJob.MostOf(source), "")
            : program.Solver.MakeIntVar(counts[source.Number], counts[source.Number], "")).ToArray();
        _ = new WholeTerms(job, program.Solver, whole);

        // Single pieces are in the parts' own bounds at their lowest price already.
        foreach (var source in job.Sources.Where(source => source.IsSingle))
        {
            var objective = program.Solver.Objective();
            objective.SetCoefficient(whole[source.Number], objective.GetCoefficient(whole[source.Number]) - (source.Price / Grain.PerCurrency));
        }

        return program.Minimize(new(10, 10_000, default)).Bound * Grain.PerCurrency;
    }

    /// <param name="counts">By source; null: free. Single pieces are always free.</param>
    /// <param name="exactly">Exactly the demand; else at least (for a heuristic plan: the surplus is taken out later).</param>
    /// <param name="below">Only plans of at most this cost are of use, in grains: to show that there is none takes far less than to find the best.</param>
    /// <param name="settings">What loads cost in settings; null: nothing.</param>
    public static Answer Solve(
        ExactJob job, IReadOnlyList<Load> loads, int[]? counts, bool exactly, ProgramLimits limits, double below = double.PositiveInfinity, LoadSettings? settings = null)
    {
        using var program = new MixedProgram();
        var solver = program.Solver;
        var whole = job.Sources.Select(source =>
        {
            var most = ExactJob.MostOf(source);
            return counts is not null && !source.IsSingle
                ? solver.MakeIntVar(counts[source.Number], counts[source.Number], "")
                : solver.MakeIntVar(0, most, "");
        }).ToArray();
        var terms = new WholeTerms(job, solver, whole);
        var uses = job.Sources.Select(_ => solver.MakeConstraint(0, 0)).ToArray();
        for (var s = 0; s < whole.Length; s++)
        {
            uses[s].SetCoefficient(whole[s], -1);
        }

        var cover = job.Demand.Select(demand => solver.MakeConstraint(demand, exactly ? demand : double.PositiveInfinity)).ToArray();
        var use = new Variable[loads.Count];
        for (var p = 0; p < use.Length; p++)
        {
            var load = loads[p];
            var source = job.Sources[load.Stock];
            var first = job.FirstKind[source.ComponentIndex];
            var most = int.MaxValue;
            for (var k = 0; k < load.Counts.Length; k++)
            {
                if (load.Counts[k] > 0)
                {
                    var fits = job.Demand[first + k] / load.Counts[k];
                    most = Math.Min(most, exactly ? fits : fits + 1);
                }
            }

            use[p] = solver.MakeIntVar(0, most, "");
            solver.Objective().SetCoefficient(use[p], load.Cost / Grain.PerCurrency);
            uses[load.Stock].SetCoefficient(use[p], 1);
            for (var k = 0; k < load.Counts.Length; k++)
            {
                if (load.Counts[k] > 0)
                {
                    cover[first + k].SetCoefficient(use[p], load.Counts[k]);
                }
            }
        }

        settings?.Add(solver, loads, use);
        Groups(job, solver, loads, use, exactly);
        if (double.IsFinite(below))
        {
            var cost = solver.MakeConstraint(double.NegativeInfinity, (below / Grain.PerCurrency * (1 + 1e-6)) + 1e-3);
            foreach (var variable in solver.variables())
            {
                cost.SetCoefficient(variable, solver.Objective().GetCoefficient(variable));
            }
        }

        var answer = program.Minimize(limits, mayBeEmpty: double.IsFinite(below));
        if (!answer.Found)
        {
            return new([], [], double.PositiveInfinity, answer.Bound, answer.Closed);
        }

        var plan = Enumerable.Range(0, use.Length).Select(p => (loads[p], (int)Math.Round(use[p].SolutionValue()))).Where(entry => entry.Item2 > 0).ToImmutableArray();
        return new(plan, terms.Extras(), answer.Cost * Grain.PerCurrency, answer.Bound * Grain.PerCurrency, answer.Closed);
    }

    /// <summary>Parts whose stocks are tied (<see cref="SizeGroups"/>): charges for further sizes, or one group only. They only add cost, so the
    /// lemma holds with them.</summary>
    private static void Groups(ExactJob job, Solver solver, IReadOnlyList<Load> loads, Variable[] use, bool exactly)
    {
        for (var c = 0; c < job.Components.Length; c++)
        {
            var (kinds, sizes) = (job.Kinds[c], job.Components[c].Sizes);
            for (var k = 0; k < kinds.Count; k++)
            {
                var item = kinds.Members[k][0];
                if (!job.IsTied || !sizes.Matters(item) || kinds.Demand[k] == 0)
                {
                    continue;
                }

                var charge = sizes.Charge / (double)Core.Quantities.Money.UnitsPerCurrency;
                var further = solver.MakeNumVar(0, double.PositiveInfinity, "");
                solver.Objective().SetCoefficient(further, sizes.OnlyOne[item] ? 0 : charge);

                // further ≥ Σ used − 1; where one group is all, Σ used ≤ 1.
                var number = solver.MakeConstraint(sizes.OnlyOne[item] ? double.NegativeInfinity : -1, sizes.OnlyOne[item] ? 1 : double.PositiveInfinity);
                number.SetCoefficient(further, sizes.OnlyOne[item] ? 0 : 1);
                for (var g = 0; g < sizes.Number[item]; g++)
                {
                    var used = solver.MakeBoolVar("");
                    number.SetCoefficient(used, sizes.OnlyOne[item] ? 1 : -1);
                    var row = solver.MakeConstraint(double.NegativeInfinity, 0);
                    row.SetCoefficient(used, -(double)kinds.Demand[k] * (exactly ? 1 : 2));
                    for (var p = 0; p < use.Length; p++)
                    {
                        var source = job.Sources[loads[p].Stock];
                        if (source.ComponentIndex == c && loads[p].Counts[k] > 0 && sizes.Of(source.StockIndex, item) == g)
                        {
                            row.SetCoefficient(use[p], loads[p].Counts[k]);
                        }
                    }
                }
            }
        }
    }
}
