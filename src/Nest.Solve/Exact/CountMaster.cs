using Google.OrTools.LinearSolver;

namespace Nest.Solve.Exact;

/// <summary>Which whole numbers of each stock could still make a plan cheaper than the best: a programme over the counts alone.</summary>
/// <remarks>
/// minimise terms(n) + θ subject to θ ≥ worth_t − Σ n_s · best_st for every set of values t (<see cref="ValueCut"/>), n whole, and n ≠ P for each
/// choice of counts P that is closed (its best plan's cost is known and taken aside). Every plan gives a solution that costs no more, so the
/// least of its bound and of the closed choices' costs is a bound for the job. This branches on whole pieces of stock, which the linear
/// bound buys in parts; its answer is the next choice of counts to look at (logic-based Benders, Hooker 2000).
/// </remarks>
/// <param name="dropped">By source: stock that is in no plan cheaper than the best; the answers hold for plans without it.</param>
internal sealed class CountMaster(ExactJob job, bool[] dropped)
{
    private readonly List<ValueCut> _cuts = [];
    private readonly List<int[]> _closed = [];

    public IReadOnlyList<ValueCut> Cuts => _cuts;

    public void Add(ValueCut cut) => _cuts.Add(cut);

    /// <summary>Takes a choice of counts out.</summary>
    public void Close(int[] counts) => _closed.Add(counts);

    /// <param name="Counts">The best counts, by source; null: none is left.</param>
    /// <param name="Bound">In grains; no plan with counts that are not closed costs less.</param>
    internal readonly record struct Answer(int[]? Counts, double Bound, bool Closed);

    public Answer Solve(double seconds, long? nodes)
    {
        using var program = new MixedProgram();
        var solver = program.Solver;
        var most = job.Sources.Select(source => dropped[source.Number] ? 0 : ExactJob.MostOf(source)).ToArray();
        var counts = job.Sources.Select(source => solver.MakeIntVar(0, most[source.Number], "")).ToArray();
        var theta = solver.MakeNumVar(double.NegativeInfinity, double.PositiveInfinity, "");
        solver.Objective().SetCoefficient(theta, 1);
        _ = new WholeTerms(job, solver, counts);

        // Every piece of stock holds a blank at least, and every kind needs a stock.
        var total = solver.MakeConstraint(0, job.Demand.Sum());
        foreach (var count in counts)
        {
            total.SetCoefficient(count, 1);
        }

        foreach (var cut in _cuts)
        {
            Row(solver, theta, counts, cut);
        }

        foreach (var closed in _closed)
        {
            Leave(solver, counts, most, closed);
        }

        var answer = program.Minimize(seconds, nodes);
        if (!answer.Found)
        {
            return new(null, answer.Closed ? double.PositiveInfinity : double.NegativeInfinity, answer.Closed);
        }

        return new([.. counts.Select(count => (int)Math.Round(count.SolutionValue()))], answer.Bound * Grain.PerCurrency, answer.Closed);
    }

    /// <summary>What one statement says of plans with just these counts, in currency units; single pieces are free.</summary>
    public double BoundAt(int[] counts, ValueCut cut)
    {
        using var program = new MixedProgram();
        var solver = program.Solver;
        var whole = job.Sources.Select(source => source.IsSingle
            ? solver.MakeIntVar(0, ExactJob.MostOf(source), "")
            : solver.MakeIntVar(counts[source.Number], counts[source.Number], "")).ToArray();
        _ = new WholeTerms(job, solver, whole);
        var theta = solver.MakeNumVar(double.NegativeInfinity, double.PositiveInfinity, "");
        solver.Objective().SetCoefficient(theta, 1);
        Row(solver, theta, whole, cut);
        return program.Minimize(10, 10_000).Bound;
    }

    private static void Row(Solver solver, Variable theta, Variable[] counts, ValueCut cut)
    {
        var row = solver.MakeConstraint(cut.Constant / Grain.PerCurrency, double.PositiveInfinity);
        row.SetCoefficient(theta, 1);
        for (var s = 0; s < counts.Length; s++)
        {
            row.SetCoefficient(counts[s], cut.Per(s) / Grain.PerCurrency);
        }
    }

    /// <summary>At least one count differs.</summary>
    private void Leave(Solver solver, Variable[] counts, int[] most, int[] closed)
    {
        var any = solver.MakeConstraint(1, double.PositiveInfinity);
        foreach (var source in job.Sources)
        {
            var s = source.Number;
            if (source.IsSingle)
            {
                continue;
            }

            if (closed[s] < most[s])
            {
                var more = solver.MakeBoolVar("");
                any.SetCoefficient(more, 1);
                var row = solver.MakeConstraint(0, double.PositiveInfinity);
                row.SetCoefficient(counts[s], 1);
                row.SetCoefficient(more, -(closed[s] + 1));
            }

            if (closed[s] > 0)
            {
                var fewer = solver.MakeBoolVar("");
                any.SetCoefficient(fewer, 1);
                var row = solver.MakeConstraint(double.NegativeInfinity, most[s]);
                row.SetCoefficient(counts[s], 1);
                row.SetCoefficient(fewer, most[s] - closed[s] + 1);
            }
        }
    }
}
