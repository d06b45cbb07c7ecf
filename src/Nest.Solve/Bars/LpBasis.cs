using System.Runtime.InteropServices;

namespace Nest.Solve.Bars;

/// <summary>The basis of a linear programme with its dense inverse, the levels of its columns and the duals.</summary>
/// <remarks>Rebuilt from the columns when rounding errors have grown; started anew from slacks and artificials when it became singular.</remarks>
internal sealed class LpBasis
{
    private readonly LpColumns columns;
    private readonly int firstColumn;
    private Simplex.Sense[] senses;

    /// <param name="firstColumn">Number of the first column that is neither slack nor artificial of the first rows.</param>
    public LpBasis(LpColumns columns, Simplex.Sense[] senses, double[] rhs, int[] basis, int firstColumn)
    {
        this.columns = columns;
        this.senses = senses;
        this.firstColumn = firstColumn;
        Rows = senses.Length;
        Rhs = (double[])rhs.Clone();
        Basis = basis;
        (Inverse, Level, Dual, Direction) = (new double[Rows * Rows], new double[Rows], new double[Rows], new double[Rows]);
        for (int r = 0; r < Rows; r++)
        {
            columns.Place[basis[r]] = r;
        }

        Rebuild();
    }

    /// <summary>A copy over a copy of the columns.</summary>
    public LpBasis(LpBasis other, LpColumns columns)
    {
        this.columns = columns;
        senses = other.senses;
        firstColumn = other.firstColumn;
        Rows = other.Rows;
        Pivots = other.Pivots;
        Rhs = (double[])other.Rhs.Clone();
        Inverse = (double[])other.Inverse.Clone();
        Basis = (int[])other.Basis.Clone();
        Level = (double[])other.Level.Clone();
        Dual = (double[])other.Dual.Clone();
        Direction = new double[Rows];
        SinceRebuild = other.SinceRebuild;
    }

    public int Rows { get; private set; }

    /// <summary>Right sides.</summary>
    public double[] Rhs { get; private set; }

    /// <summary>Row by row.</summary>
    public double[] Inverse { get; private set; }

    /// <summary>Column of each row.</summary>
    public int[] Basis { get; private set; }

    public double[] Level { get; private set; }

    public double[] Dual { get; private set; }

    /// <summary>The column last asked for by <see cref="SetDirection"/>, in terms of the basis.</summary>
    public double[] Direction { get; private set; }

    /// <summary>Pivots since the inverse was built.</summary>
    public int SinceRebuild { get; private set; }

    /// <summary>Elementary steps since the start.</summary>
    public long Steps { get; set; }

    public long Pivots { get; private set; }

    public double Objective
    {
        get
        {
            double z = 0;
            for (int r = 0; r < Rows; r++)
            {
                z += columns.Cost[Basis[r]] * Level[r];
            }

            return z;
        }
    }

    /// <summary>Appends rows over the present columns; their slacks enter the basis, so the duals stay feasible.</summary>
    public void AddRows(IReadOnlyList<(Simplex.Sense Sense, double Rhs, Func<int, double> Coefficient)> rows)
    {
        int old = Rows;
        int now = Rows + rows.Count;
        var basic = columns.AppendRows(old, [.. rows.Select(row => row.Coefficient)]);
        var newInverse = new double[now * now];
        for (int r = 0; r < old; r++)
        {
            Inverse.AsSpan(r * old, old).CopyTo(newInverse.AsSpan(r * now));
        }

        senses = [.. senses, .. rows.Select(row => row.Sense)];
        Rhs = [.. Rhs, .. rows.Select(row => row.Rhs)];
        Basis = [.. Basis, .. new int[rows.Count]];
        for (int k = 0; k < rows.Count; k++)
        {
            int r = old + k;
            double sign = rows[k].Sense == Simplex.Sense.AtLeast ? -1 : 1;
            Span<double> row = newInverse.AsSpan(r * now, now);
            foreach ((int at, double v) in basic[k])
            {
                DenseRows.AddScaled(row[..old], Inverse.AsSpan(at * old, old), -sign * v);
            }

            row[r] = sign;
        }

        Rows = now;
        Inverse = newInverse;
        (Level, Dual, Direction) = (new double[Rows], new double[Rows], new double[Rows]);
        for (int k = 0; k < rows.Count; k++)
        {
            int column = columns.Add([old + k], [rows[k].Sense == Simplex.Sense.AtLeast ? -1.0 : 1.0], 0);
            Basis[old + k] = column;
            columns.Place[column] = old + k;
        }

        Steps += (long)now * now;
        Refresh();
    }

    /// <summary>Levels and duals from the Inverse, after right sides or costs have changed.</summary>
    public void Refresh()
    {
        for (int r = 0; r < Rows; r++)
        {
            Level[r] = DenseRows.Dot(Inverse.AsSpan(r * Rows, Rows), Rhs);
        }

        Array.Clear(Dual);
        for (int r = 0; r < Rows; r++)
        {
            double c = columns.Cost[Basis[r]];
            if (c != 0)
            {
                DenseRows.AddScaled(Dual, Inverse.AsSpan(r * Rows, Rows), c);
            }
        }

        Steps += 2L * Rows * Rows / 4;
    }

    public double ReducedCost(int column)
    {
        ReadOnlySpan<int> at = CollectionsMarshal.AsSpan(columns.Index);
        ReadOnlySpan<double> by = CollectionsMarshal.AsSpan(columns.Coefficient);
        double d = columns.Cost[column];
        for (int k = columns.Start[column]; k < columns.Start[column + 1]; k++)
        {
            d -= Dual[at[k]] * by[k];
        }

        return d;
    }

    /// <summary>Inverse anew from the basis (Gauss-Jordan with row exchange).</summary>
    public void Rebuild()
    {
        var a = new double[Rows * Rows];
        for (int r = 0; r < Rows; r++)
        {
            for (int k = columns.Start[Basis[r]]; k < columns.Start[Basis[r] + 1]; k++)
            {
                a[(columns.Index[k] * Rows) + r] = columns.Coefficient[k];
            }
        }

        bool regular = DenseRows.Invert(a, Inverse, Rows, out long work);
        Steps += work;
        if (!regular)
        {
            StartAgain();
            return;
        }

        SinceRebuild = 0;
        Refresh();
    }

    /// <summary>Back to slacks and artificials, when rounding errors made the basis singular.</summary>
    private void StartAgain()
    {
        foreach (int j in Basis)
        {
            columns.Place[j] = -1;
        }

        Array.Clear(Inverse);
        var slack = new int[Rows];
        var artificial = new int[Rows];
        Array.Fill(slack, -1);
        Array.Fill(artificial, -1);
        for (int j = 0; j < columns.Count; j++)
        {
            bool own = columns.Start[j + 1] - columns.Start[j] == 1 && (j < firstColumn || columns.Cost[j] == 0);
            if (own && columns.Cost[j] == 0 && slack[columns.Index[columns.Start[j]]] < 0)
            {
                slack[columns.Index[columns.Start[j]]] = j;
            }
            else if (own && columns.Cost[j] > 0 && columns.Coefficient[columns.Start[j]] > 0 && artificial[columns.Index[columns.Start[j]]] < 0)
            {
                artificial[columns.Index[columns.Start[j]]] = j;
            }
        }

        for (int r = 0; r < Rows; r++)
        {
            bool useSlack = senses[r] == Simplex.Sense.AtMost || (senses[r] == Simplex.Sense.AtLeast && Rhs[r] <= 0);
            int j = useSlack ? slack[r] : artificial[r];
            if (j < 0 || (senses[r] == Simplex.Sense.AtMost && Rhs[r] < 0))
            {
                throw new InvalidOperationException("The basis of the linear programme became singular.");
            }

            Basis[r] = j;
            columns.Place[j] = r;
            Inverse[(r * Rows) + r] = columns.Coefficient[columns.Start[j]];
        }

        SinceRebuild = 0;
        Refresh();
    }

    /// <summary>Works out <see cref="Direction"/>.</summary>
    public void SetDirection(int column)
    {
        Span<double> direction = Direction;
        ReadOnlySpan<double> inverse = Inverse;
        direction.Clear();
        for (int k = columns.Start[column]; k < columns.Start[column + 1]; k++)
        {
            int c = columns.Index[k];
            double v = columns.Coefficient[k];
            unchecked
            {
                for (int r = 0, o = c; r < direction.Length; r++, o += direction.Length)
                {
                    direction[r] += inverse[o] * v;
                }
            }
        }
    }

    /// <summary>Exchanges the column of a row, by <see cref="Direction"/>.</summary>
    public void Pivot(int enter, int leave, double step)
    {
        double reduced = ReducedCost(enter);
        double pivot = Direction[leave];
        Span<double> row = Inverse.AsSpan(leave * Rows, Rows);
        DenseRows.Scale(row, 1 / pivot);
        for (int r = 0; r < Rows; r++)
        {
            double f = Direction[r];
            if (r != leave && f != 0)
            {
                Level[r] -= step * f;
                if (Math.Abs(f) > 1e-13)
                {
                    DenseRows.AddScaled(Inverse.AsSpan(r * Rows, Rows), row, -f);
                    Steps += Rows / 4;
                }
            }
        }

        Level[leave] = step;
        DenseRows.AddScaled(Dual, row, reduced);
        columns.Place[Basis[leave]] = -1;
        Basis[leave] = enter;
        columns.Place[enter] = leave;
        SinceRebuild++;
        Pivots++;
        Steps += Rows;
        if (SinceRebuild % 100 == 0 && (Residual() > 1e-8 || SinceRebuild >= 1000))
        {
            Rebuild();
        }
    }

    /// <summary>Largest relative error of a row or of a basic column's reduced cost.</summary>
    public double Residual()
    {
        var sum = new double[Rows];
        for (int r = 0; r < Rows; r++)
        {
            for (int k = columns.Start[Basis[r]]; k < columns.Start[Basis[r] + 1]; k++)
            {
                sum[columns.Index[k]] += columns.Coefficient[k] * Level[r];
            }
        }

        double worst = 0;
        for (int r = 0; r < Rows; r++)
        {
            worst = Math.Max(worst, Math.Abs(sum[r] - Rhs[r]) / (1 + Math.Abs(Rhs[r])));
            double d = columns.Cost[Basis[r]];
            worst = Math.Max(worst, Math.Abs(ReducedCost(Basis[r])) / (1 + Math.Abs(d)));
        }

        return worst;
    }
}
