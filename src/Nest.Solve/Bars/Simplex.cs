namespace Nest.Solve.Bars;

/// <summary>A small linear programme min c·x, rows A x (≥ | ≤ | =) b, x ≥ 0, to which columns are added all the time.</summary>
/// <remarks>
/// Method: revised primal and dual simplex with an explicit dense inverse (a few hundred rows, columns with a handful of entries), warm
/// from solve to solve, rebuilt when the residual grows. Rows that need one have an artificial column at a high cost, so a basis
/// always exists. Columns can be switched off (upper bound 0). Guarantee: none. The numbers are floating point and only steer the
/// search; every bound is computed again from integers.
/// </remarks>
internal sealed class Simplex
{
    public enum Sense
    {
        AtLeast,
        AtMost,
        Equal,
    }

    private readonly LpColumns columns;
    private readonly LpBasis lp;
    private readonly PivotRules rules;

    /// <summary>Rows with their right sides and the cost of the artificial column of each.</summary>
    public Simplex(Sense[] senses, double[] rhs, double[] artificialCost)
    {
        columns = new LpColumns();
        var basis = new int[senses.Length];
        int[] one = new int[1];
        double[] sign = new double[1];
        for (int r = 0; r < senses.Length; r++)
        {
            one[0] = r;
            int slack = -1;
            if (senses[r] != Sense.Equal)
            {
                sign[0] = senses[r] == Sense.AtLeast ? -1 : 1;
                slack = AddColumn(one, sign, 0);
            }

            sign[0] = 1;
            int plus = senses[r] == Sense.AtMost ? -1 : AddColumn(one, sign, artificialCost[r]);
            if (senses[r] == Sense.Equal)
            {
                sign[0] = -1;
                AddColumn(one, sign, artificialCost[r]);
            }

            basis[r] = senses[r] == Sense.AtMost || (senses[r] == Sense.AtLeast && rhs[r] <= 0) ? slack : plus;
        }

        FirstColumn = columns.Count;
        lp = new LpBasis(columns, senses, rhs, basis, FirstColumn);
        rules = new PivotRules(columns, lp);
    }

    private Simplex(Simplex other)
    {
        columns = new LpColumns(other.columns);
        lp = new LpBasis(other.lp, columns);
        rules = new PivotRules(columns, lp);
        FirstColumn = other.FirstColumn;
    }

    /// <summary>Number of the first column that the user added; before it lie slacks and artificials.</summary>
    public int FirstColumn { get; }

    public int Columns => columns.Count;

    public ReadOnlySpan<double> Dual => lp.Dual;

    /// <summary>Elementary steps since the start.</summary>
    public long Steps => lp.Steps;

    public double Objective => lp.Objective;

    public long Pivots => lp.Pivots;

    public Simplex Clone() => new(this);

    public double Value(int column) => columns.Place[column] < 0 ? 0 : lp.Level[columns.Place[column]];

    /// <summary>Sum of the artificial columns' levels.</summary>
    public double Artificial()
    {
        double sum = 0;
        for (int r = 0; r < lp.Rows; r++)
        {
            if (lp.Basis[r] < FirstColumn && columns.Cost[lp.Basis[r]] > 0)
            {
                sum += Math.Max(0, lp.Level[r]);
            }
        }

        return sum;
    }

    public int AddColumn(ReadOnlySpan<int> rows, ReadOnlySpan<double> values, double price) => columns.Add(rows, values, price);

    public double Cost(int column) => columns.Cost[column];

    /// <summary>Adds rows over the present columns; their slacks enter the basis, so the duals stay feasible and
    /// <see cref="SolveDual"/> repairs the levels.</summary>
    public void AddRows(IReadOnlyList<(Sense Sense, double Rhs, Func<int, double> Coefficient)> rows) => lp.AddRows(rows);

    public void SetRhs(int row, double value) => lp.Rhs[row] = value;

    public double Rhs(int row) => lp.Rhs[row];

    /// <summary>Switches a column off or on; call <see cref="Refresh"/> and <see cref="SolveDual"/> afterwards.</summary>
    public void Switch(int column, bool isOff) => columns.Off[column] = isOff;

    public bool IsOff(int column) => columns.Off[column];

    public void SetArtificialCost(double factor)
    {
        for (int j = 0; j < FirstColumn; j++)
        {
            columns.Cost[j] *= factor;
        }

        Refresh();
    }

    /// <summary>Levels and duals from the inverse, after right sides or costs have changed.</summary>
    public void Refresh() => lp.Refresh();

    public double ReducedCost(int column) => lp.ReducedCost(column);

    /// <summary>Primal simplex from the present (feasible) basis. False when it stopped early.</summary>
    public bool SolvePrimal(int pivots)
    {
        int stalled = 0;
        for (int n = 0; n < pivots; n++)
        {
            int enter = rules.BestEntering();
            if (enter < 0)
            {
                if (lp.SinceRebuild > 0 && lp.Residual() > 1e-7)
                {
                    lp.Rebuild();
                    continue;
                }

                return true;
            }

            lp.SetDirection(enter);
            int leave = rules.PrimalLeaving();
            if (leave < 0 || Math.Abs(lp.Direction[leave]) < 1e-8)
            {
                if (lp.SinceRebuild > 0)
                {
                    lp.Rebuild();
                    if (++stalled < 5)
                    {
                        continue;
                    }
                }

                return false;
            }

            rules.UpdateWeights(enter, leave);
            lp.Pivot(enter, leave, Math.Max(0, lp.Level[leave] / lp.Direction[leave]));
        }

        return false;
    }

    /// <summary>Dual simplex from a dual feasible basis: after right sides changed or columns were switched off.</summary>
    public bool SolveDual(int pivots)
    {
        for (int n = 0; n < pivots; n++)
        {
            int leave = -1;
            double worst = 1e-7;
            bool above = false;
            for (int r = 0; r < lp.Rows; r++)
            {
                if (-lp.Level[r] > worst)
                {
                    (worst, leave, above) = (-lp.Level[r], r, false);
                }
                else if (columns.Off[lp.Basis[r]] && lp.Level[r] > worst)
                {
                    (worst, leave, above) = (lp.Level[r], r, true);
                }
            }

            if (leave < 0)
            {
                return true;
            }

            int enter = rules.DualEntering(leave, above);
            if (enter < 0)
            {
                return false;
            }

            lp.SetDirection(enter);
            if (Math.Abs(lp.Direction[leave]) < 1e-8)
            {
                if (lp.SinceRebuild == 0)
                {
                    return false;
                }

                lp.Rebuild();
                continue;
            }

            lp.Pivot(enter, leave, lp.Level[leave] / lp.Direction[leave]);
        }

        return false;
    }
}
