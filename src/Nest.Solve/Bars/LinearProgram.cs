using Google.OrTools.LinearSolver;

namespace Nest.Solve.Bars;

/// <summary>A linear programme min c·x, rows A x (≥ | ≤ | =) b, x ≥ 0, to which columns and rows are added all the time.</summary>
/// <remarks>
/// The library's simplex (GLOP), which begins each time where it ended. Rows have artificial columns at a high cost, so there is always a
/// solution. Columns can be switched off (upper bound 0). Guarantee: none. The numbers are floating point and only steer the
/// search; every bound is computed again from integers.
/// Without the library's reductions and scaling: with them half as many instances of hard28 are proven in the same time (7 and 12 of 14 in 10 s,
/// 29 November 2026), as each small change of the programme begins anew.
/// </remarks>
internal sealed class LinearProgram : IDisposable
{
    private const string Parameters = "use_preprocessing: false use_scaling: false use_dual_simplex: ";

    /// <summary>Steps of the simplex method after which it is given up.</summary>
    private const int MostSteps = 20_000;

    private readonly List<(RowSense Sense, double Rhs)> rows = [];
    private readonly List<(int Row, double Value)[]> entries = [];
    private readonly List<double> costs = [];
    private readonly List<bool> off = [];
    private readonly List<int> artificials = [];
    private readonly double dear;
    private double[] dual = [];
    private double[] level = [];
    private long entryCount;

    // Of the library, made when it is first solved: copies that are never solved hold nothing there.
    private Solver? solver;
    private readonly List<Variable?> variables = [];
    private int told;
    private readonly List<Constraint> constraints = [];

    /// <summary>Whether columns have come since it was solved.</summary>
    private bool entered = true;

    /// <summary>Rows with their right sides and the cost of the artificial column of each.</summary>
    public LinearProgram(RowSense[] senses, double[] rhs, double[] artificialCost)
    {
        dear = artificialCost.Max();
        for (int r = 0; r < senses.Length; r++)
        {
            rows.Add((senses[r], rhs[r]));
            AddArtificial(r, artificialCost[r]);
        }

        FirstColumn = costs.Count;
        (dual, level) = (new double[rows.Count], new double[costs.Count]);
    }

    private LinearProgram(LinearProgram other)
    {
        FirstColumn = other.FirstColumn;
        (rows, entries, costs, off, artificials) = ([.. other.rows], [.. other.entries], [.. other.costs], [.. other.off], [.. other.artificials]);
        (dear, entryCount) = (other.dear, other.entryCount);
        (dual, level) = ([.. other.dual], [.. other.level]);
        (Objective, Steps) = (other.Objective, other.Steps);
    }

    /// <summary>Number of the first column that the user added; before it lie artificials.</summary>
    public int FirstColumn { get; }

    public int Columns => costs.Count;

    /// <summary>Of each row, when it was solved last.</summary>
    public ReadOnlySpan<double> Dual => dual;

    /// <summary>Elementary steps since the start, estimated.</summary>
    public long Steps { get; private set; }

    public double Objective { get; private set; }

    public LinearProgram Clone() => new(this);

    /// <summary>Level of a column when it was solved last.</summary>
    public double Value(int column) => column < level.Length ? level[column] : 0;

    /// <summary>Sum of the artificial columns' levels.</summary>
    public double Artificial() => artificials.Sum(j => Math.Max(0, Value(j)));

    /// <returns>The number of the column.</returns>
    public int AddColumn(ReadOnlySpan<int> at, ReadOnlySpan<double> values, double price)
    {
        var column = new (int, double)[at.Length];
        for (int k = 0; k < column.Length; k++)
        {
            column[k] = (at[k], values[k]);
        }

        entered = true;
        return Add(column, price);
    }

    /// <summary>Adds rows over the present columns, each with an artificial column of its own.</summary>
    public void AddRows(IReadOnlyList<(RowSense Sense, double Rhs, Func<int, double> Coefficient)> added)
    {
        int known = costs.Count;
        foreach (var (sense, rhs, coefficient) in added)
        {
            int r = rows.Count;
            rows.Add((sense, rhs));
            if (solver is not null)
            {
                Tell(r);
            }

            for (int j = 0; j < known; j++)
            {
                double value = coefficient(j);
                if (value != 0)
                {
                    entries[j] = [.. entries[j], (r, value)];
                    entryCount++;
                    if (solver is not null && variables[j] is { } variable)
                    {
                        constraints[r].SetCoefficient(variable, value);
                    }
                }
            }

            AddArtificial(r, dear);
        }

        // Until it is solved the new rows are worth nothing: the time may be over before that.
        Array.Resize(ref dual, rows.Count);
    }

    public void SetRhs(int row, double value)
    {
        rows[row] = (rows[row].Sense, value);
        if (solver is not null)
        {
            var (low, high) = Range(row);
            constraints[row].SetBounds(low, high);
        }
    }

    /// <summary>Switches a column off or on.</summary>
    public void Switch(int column, bool isOff)
    {
        if (off[column] != isOff)
        {
            off[column] = isOff;
            if (variables.Count > column && variables[column] is { } variable)
            {
                variable.SetUb(Most(column));
            }
            else if (solver is not null && !isOff)
            {
                TellColumn(column);
            }
        }
    }

    /// <summary>Lets the library forget columns that are switched off, where they are most of those that it knows: it copies all of them at each call.</summary>
    public void Slim()
    {
        if (told > 2 * off.Count(o => !o))
        {
            Release();
        }
    }

    /// <summary>Multiplies the costs of the first rows' artificial columns.</summary>
    public void RaiseArtificialCost(double factor)
    {
        for (int j = 0; j < FirstColumn; j++)
        {
            costs[j] *= factor;
            if (solver is not null && variables[j] is { } variable)
            {
                solver.Objective().SetCoefficient(variable, costs[j]);
            }
        }
    }

    /// <summary>Solves it. False when the time or the steps are over or the numbers gave out: duals and levels stay as they were.</summary>
    public bool Solve(double seconds)
    {
        solver ??= Build();

        // With new columns the old solution stays feasible; with other rows or right sides its duals do.
        var status = Run(Parameters + (entered ? "false" : "true"), seconds);
        entered = false;
        if (status is Solver.ResultStatus.ABNORMAL or Solver.ResultStatus.INFEASIBLE or Solver.ResultStatus.UNBOUNDED)
        {
            // Once more from nothing, with all that the library has against bad numbers.
            Release();
            solver = Build();
            status = Run("", seconds);
        }

        if (status != Solver.ResultStatus.OPTIMAL)
        {
            return false;
        }

        Steps += 20 * entryCount + (solver.Iterations() * rows.Count * (long)rows.Count);
        Objective = solver.Objective().Value();
        Array.Resize(ref level, costs.Count);
        Array.Resize(ref dual, rows.Count);
        for (int j = 0; j < level.Length; j++)
        {
            level[j] = variables[j]?.SolutionValue() ?? 0;
        }

        for (int r = 0; r < dual.Length; r++)
        {
            dual[r] = constraints[r].DualValue();
        }

        return true;
    }

    public void Dispose() => Release();

    private void Release()
    {
        solver?.Dispose();
        solver = null;
        variables.Clear();
        constraints.Clear();
        told = 0;
    }

    private Solver.ResultStatus Run(string parameters, double seconds)
    {
        solver!.SetSolverSpecificParametersAsString($"{parameters} max_number_of_iterations: {MostSteps}");
        solver.SetTimeLimit((long)Math.Clamp(seconds * 1000, 1, int.MaxValue));
        return solver.Solve();
    }

    private Solver Build()
    {
        entered = true;
        solver = Glop.Create();
        solver.Objective().SetMinimization();
        for (int r = 0; r < rows.Count; r++)
        {
            Tell(r);
        }

        variables.AddRange(new Variable?[costs.Count]);
        for (int j = 0; j < costs.Count; j++)
        {
            if (!off[j])
            {
                TellColumn(j);
            }
        }

        return solver;
    }

    private void AddArtificial(int row, double price)
    {
        var sense = rows[row].Sense;
        if (sense != RowSense.AtMost)
        {
            artificials.Add(Add([(row, 1)], price));
        }

        if (sense == RowSense.Equal)
        {
            artificials.Add(Add([(row, -1)], price));
        }
    }

    private int Add((int Row, double Value)[] column, double price)
    {
        entries.Add(column);
        costs.Add(price);
        off.Add(false);
        entryCount += column.Length;
        if (solver is not null)
        {
            variables.Add(null);
            TellColumn(costs.Count - 1);
        }

        return costs.Count - 1;
    }

    private double Most(int column) => off[column] ? 0 : double.PositiveInfinity;

    private (double Low, double High) Range(int row)
    {
        var (sense, rhs) = rows[row];
        return (sense == RowSense.AtMost ? double.NegativeInfinity : rhs, sense == RowSense.AtLeast ? double.PositiveInfinity : rhs);
    }

    private void Tell(int row)
    {
        var (low, high) = Range(row);
        constraints.Add(solver!.MakeConstraint(low, high));
    }

    private void TellColumn(int column)
    {
        var variable = solver!.MakeNumVar(0, Most(column), "");
        solver.Objective().SetCoefficient(variable, costs[column]);
        foreach (var (row, value) in entries[column])
        {
            constraints[row].SetCoefficient(variable, value);
        }

        variables[column] = variable;
        told++;
        entered = true;
    }
}
