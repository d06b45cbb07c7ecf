using Google.OrTools.LinearSolver;

namespace Nest.Solve.Exact;

/// <summary>Which whole numbers of each stock could still make a plan cheaper than the best: a programme over the counts alone.</summary>
/// <remarks>
/// minimise terms(n) + settings(n) + Σ θ_c over the components c, subject to θ_c ≥ worth_t − Σ n_s · best_st for every set of values t of the component
/// (<see cref="ValueCut"/>), θ_c + price of single pieces ≥ cost of c at P unless n differs from P, for counts P of its stock that are closed
/// (<see cref="PartProof"/>), more of some stock than each of the counts that can't hold a component's blanks (<see cref="CountRoom"/>), n whole, and n ≠ P for each choice of all counts that is closed (its best plan's cost is taken aside). Every plan
/// gives a solution that costs no more, so the least of its bound and of the closed choices' costs is a bound for the job. This branches on whole
/// pieces of stock, which the linear bound buys in parts; its answer is the next choice of counts to look at (logic-based Benders, Hooker 2000).
/// </remarks>
/// <param name="parts">By component of the job.</param>
/// <param name="lines">Stock costs what its lines cost, with no orders around them; null: with all terms.</param>
/// <param name="settings">What counts cost in settings; null: nothing.</param>
internal sealed class CountMaster(ExactJob job, IReadOnlyList<PartProof> parts, LineTerms? lines = null, SettingTerms? settings = null)
{
    private readonly List<int[]> _closed = [];
    private readonly List<(int[] Counts, double More)> _more = [];
    private readonly int[] _most = [.. job.Sources.Select(ExactJob.MostOf)];

    /// <summary>Takes a choice of counts out.</summary>
    public void Close(int[] counts) => _closed.Add(counts);

    /// <summary>Just these counts cost so much more in settings, in currency units.</summary>
    public void Raise(int[] counts, double more) => _more.Add((counts, more));

    /// <summary>Statements that the programme holds.</summary>
    public int Rows => parts.Sum(part => part.Values.Cuts.Count + part.Closed.Count);

    /// <summary>The answers hold for plans below this cost, in grains: counts that only dearer plans have were left out.</summary>
    public double HoldsBelow => parts.Min(part => part.Values.HoldsBelow);

    /// <param name="Counts">The best counts, by source; null: none is left.</param>
    /// <param name="Bound">In grains; no plan with counts that are not closed costs less.</param>
    /// <param name="Cost">Of these counts, in grains.</param>
    internal readonly record struct Answer(int[]? Counts, double Bound, double Cost, bool Closed);

    /// <param name="gap">Share of the cost by which the answer may miss the least.</param>
    /// <param name="shares">With lines alone: share of the goods that counts, by source; not a number where it may not be bought.</param>
    public Answer Solve(ProgramLimits limits, double gap = 0, double[]? shares = null)
    {
        using var program = new MixedProgram();
        var counts = Build(program.Solver, shares);
        var answer = program.Minimize(limits, gap);
        if (!answer.Found)
        {
            return new(null, answer.Closed ? double.PositiveInfinity : double.NegativeInfinity, double.PositiveInfinity, answer.Closed);
        }

        return new([.. counts.Select(count => (int)Math.Round(count.SolutionValue()))], answer.Bound * Grain.PerCurrency, answer.Cost * Grain.PerCurrency, answer.Closed);
    }

    /// <summary>A bound without whole numbers: one linear programme.</summary>
    /// <returns>In grains.</returns>
    public double Relaxed(double[] shares)
    {
        using var solver = Glop.Create();
        _ = Build(solver, shares);
        return solver.Solve() == Solver.ResultStatus.OPTIMAL ? MixedProgram.Lowered(solver.Objective().Value()) * Grain.PerCurrency : double.NegativeInfinity;
    }

    private Variable[] Build(Solver solver, double[]? shares = null)
    {
        foreach (var part in parts)
        {
            foreach (var source in part.Job.Sources.Where(source => part.Values.Dropped[source.Number]))
            {
                _most[First(part) + source.Number] = 0;
            }
        }

        var counts = _most.Select(n => solver.MakeIntVar(0, n, "")).ToArray();
        if (lines is null)
        {
            _ = new WholeTerms(job, solver, counts);
        }
        else
        {
            Lines(solver, counts, shares!);
        }

        settings?.Add(solver, counts);

        foreach (var part in parts)
        {
            var theta = solver.MakeNumVar(double.NegativeInfinity, double.PositiveInfinity, "");
            solver.Objective().SetCoefficient(theta, 1);

            // Every piece of stock holds a blank at least.
            var total = solver.MakeConstraint(0, part.Job.Demand.Sum());
            foreach (var source in part.Job.Sources)
            {
                total.SetCoefficient(counts[First(part) + source.Number], 1);
            }

            foreach (var cut in part.Values.Cuts)
            {
                var row = solver.MakeConstraint(cut.Constant / Grain.PerCurrency, double.PositiveInfinity);
                row.SetCoefficient(theta, 1);
                foreach (var source in part.Job.Sources)
                {
                    row.SetCoefficient(counts[First(part) + source.Number], cut.Per(source.Number) / Grain.PerCurrency);
                }
            }

            foreach (var closing in part.Closed)
            {
                Cost(solver, part, theta, counts, closing);
            }

            foreach (var few in part.TooFew)
            {
                More(solver, part, counts, few);
            }
        }

        foreach (var (own, more) in _more)
        {
            var cost = solver.MakeNumVar(0, more, "");
            solver.Objective().SetCoefficient(cost, 1);
            var row = solver.MakeConstraint(more, double.PositiveInfinity);
            row.SetCoefficient(cost, 1);
            var other = solver.MakeBoolVar("");
            row.SetCoefficient(other, more);
            Differ(solver, counts, job, 0, own, 0).SetCoefficient(other, -1);
        }

        foreach (var closed in _closed)
        {
            Differ(solver, counts, job, 0, closed, 1);
        }

        return counts;
    }

    private void Lines(Solver solver, Variable[] counts, double[] shares)
    {
        foreach (var source in job.Sources)
        {
            if (double.IsNaN(shares[source.Number]))
            {
                counts[source.Number].SetUb(0);
            }
            else
            {
                lines!.Add(solver, source, counts[source.Number], shares[source.Number]);
            }
        }
    }

    /// <summary>A part's first source here: this may be the programme of the part alone.</summary>
    private int First(PartProof part) => ReferenceEquals(job, part.Job) ? 0 : part.First;

    /// <summary>What a part costs at counts that are closed, unless a count differs.</summary>
    private void Cost(Solver solver, PartProof part, Variable theta, Variable[] counts, PartProof.Closing closing)
    {
        // As far below that as a part can be: all its stock as rests.
        var far = closing.Cost + (part.Job.Demand.Sum() * (double)part.Values.Bare.Prepend(0).Max());

        var other = solver.MakeBoolVar("");
        var row = solver.MakeConstraint(closing.Cost / Grain.PerCurrency, double.PositiveInfinity);
        row.SetCoefficient(theta, 1);
        row.SetCoefficient(other, Math.Max(0, far) / Grain.PerCurrency);
        Differ(solver, counts, part.Job, First(part), closing.Counts, 0).SetCoefficient(other, -1);
        foreach (var source in part.Job.Sources.Where(source => source.IsSingle))
        {
            row.SetCoefficient(counts[First(part) + source.Number], source.Price / Grain.PerCurrency);
        }
    }

    /// <summary>More of some stock than these counts of a part, single pieces among them.</summary>
    private void More(Solver solver, PartProof part, Variable[] counts, int[] few)
    {
        var any = solver.MakeConstraint(1, double.PositiveInfinity);
        for (var s = 0; s < few.Length; s++)
        {
            More(solver, any, counts[First(part) + s], _most[First(part) + s], few[s]);
        }
    }

    /// <summary>A variable in the row "any" that may be 1 where the count is more than this.</summary>
    private static void More(Solver solver, Constraint any, Variable count, int most, int than)
    {
        if (than < most)
        {
            var more = solver.MakeBoolVar("");
            any.SetCoefficient(more, 1);
            var row = solver.MakeConstraint(0, double.PositiveInfinity);
            row.SetCoefficient(count, 1);
            row.SetCoefficient(more, -(than + 1));
        }
    }

    /// <summary>A row for so many at least of the counts of a job, or of a part whose sources begin here, that differ from these.</summary>
    private Constraint Differ(Solver solver, Variable[] counts, ExactJob some, int first, int[] closed, double least)
    {
        var any = solver.MakeConstraint(least, double.PositiveInfinity);
        foreach (var source in some.Sources.Where(source => !source.IsSingle))
        {
            Differs(solver, any, counts[first + source.Number], _most[first + source.Number], closed[source.Number]);
        }

        return any;
    }

    /// <summary>Two variables in the row "any" that may be 1 where the count is more, or fewer, than this.</summary>
    private static void Differs(Solver solver, Constraint any, Variable count, int most, int closed)
    {
        if (closed > most)
        {
            // It differs anyway.
            any.SetCoefficient(solver.MakeNumVar(1, 1, ""), 1);
            return;
        }

        More(solver, any, count, most, closed);
        if (closed > 0)
        {
            var fewer = solver.MakeBoolVar("");
            any.SetCoefficient(fewer, 1);
            var row = solver.MakeConstraint(double.NegativeInfinity, most);
            row.SetCoefficient(count, 1);
            row.SetCoefficient(fewer, most - closed + 1);
        }
    }
}
