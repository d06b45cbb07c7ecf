using System.Numerics;
using System.Runtime.InteropServices;

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

    private const double Tolerance = 1e-9;

    private int m;
    private Sense[] senses;
    private double[] rhs;
    private double[] inverse;
    private int[] basis;
    private double[] level;
    private double[] dual;
    private double[] direction;
    private double[] rowValues;
    private List<int> start = [0];
    private List<int> index = [];
    private List<double> coefficient = [];
    private readonly List<double> cost = [];
    private readonly List<double> weight = [];
    private readonly List<bool> off = [];
    private readonly List<int> place = [];
    private int sinceRebuild;

    /// <summary>Rows with their right sides and the cost of the artificial column of each.</summary>
    public Simplex(Sense[] senses, double[] rhs, double[] artificialCost)
    {
        m = senses.Length;
        this.senses = senses;
        this.rhs = (double[])rhs.Clone();
        inverse = new double[m * m];
        basis = new int[m];
        level = new double[m];
        dual = new double[m];
        direction = new double[m];
        rowValues = new double[m];
        int[] one = new int[1];
        double[] sign = new double[1];
        for (int r = 0; r < m; r++)
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

        FirstColumn = start.Count - 1;
        for (int r = 0; r < m; r++)
        {
            place[basis[r]] = r;
        }

        Rebuild();
    }

    private Simplex(Simplex other)
    {
        m = other.m;
        senses = other.senses;
        Pivots = other.Pivots;
        rhs = (double[])other.rhs.Clone();
        inverse = (double[])other.inverse.Clone();
        basis = (int[])other.basis.Clone();
        level = (double[])other.level.Clone();
        dual = (double[])other.dual.Clone();
        direction = new double[m];
        rowValues = new double[m];
        start = [.. other.start];
        index = [.. other.index];
        coefficient = [.. other.coefficient];
        cost = [.. other.cost];
        weight = [.. other.weight];
        off = [.. other.off];
        place = [.. other.place];
        sinceRebuild = other.sinceRebuild;
        FirstColumn = other.FirstColumn;
    }

    /// <summary>Number of the first column that the user added; before it lie slacks and artificials.</summary>
    public int FirstColumn { get; }

    public int Columns => cost.Count;

    public ReadOnlySpan<double> Dual => dual;

    /// <summary>Elementary steps since the start.</summary>
    public long Steps { get; private set; }

    public double Objective
    {
        get
        {
            double z = 0;
            for (int r = 0; r < m; r++)
            {
                z += cost[basis[r]] * level[r];
            }

            return z;
        }
    }

    public long Pivots { get; private set; }

    public Simplex Clone() => new(this);

    public double Value(int column) => place[column] < 0 ? 0 : level[place[column]];

    /// <summary>Sum of the artificial columns' levels.</summary>
    public double Artificial()
    {
        double sum = 0;
        for (int r = 0; r < m; r++)
        {
            if (basis[r] < FirstColumn && cost[basis[r]] > 0)
            {
                sum += Math.Max(0, level[r]);
            }
        }

        return sum;
    }

    public int AddColumn(ReadOnlySpan<int> rows, ReadOnlySpan<double> values, double price)
    {
        for (int k = 0; k < rows.Length; k++)
        {
            index.Add(rows[k]);
            coefficient.Add(values[k]);
        }

        start.Add(index.Count);
        cost.Add(price);
        weight.Add(1);
        off.Add(false);
        place.Add(-1);
        return cost.Count - 1;
    }

    public double Cost(int column) => cost[column];

    /// <summary>Adds rows over the present columns; their slacks enter the basis, so the duals stay feasible and
    /// <see cref="SolveDual"/> repairs the levels.</summary>
    public void AddRows(IReadOnlyList<(Sense Sense, double Rhs, Func<int, double> Coefficient)> rows)
    {
        int old = m;
        int now = m + rows.Count;
        int columns = cost.Count;

        // Columns with the new entries behind the old ones.
        var newStart = new List<int>(start.Count + rows.Count) { 0 };
        var newIndex = new List<int>(index.Count);
        var newCoefficient = new List<double>(index.Count);
        var basic = new List<(int Place, double Value)>[rows.Count];
        for (int k = 0; k < rows.Count; k++)
        {
            basic[k] = [];
        }

        for (int j = 0; j < columns; j++)
        {
            for (int k = start[j]; k < start[j + 1]; k++)
            {
                newIndex.Add(index[k]);
                newCoefficient.Add(coefficient[k]);
            }

            for (int k = 0; k < rows.Count; k++)
            {
                double v = rows[k].Coefficient(j);
                if (v != 0)
                {
                    newIndex.Add(old + k);
                    newCoefficient.Add(v);
                    if (place[j] >= 0)
                    {
                        basic[k].Add((place[j], v));
                    }
                }
            }

            newStart.Add(newIndex.Count);
        }

        (start, index, coefficient) = (newStart, newIndex, newCoefficient);
        var newInverse = new double[now * now];
        for (int r = 0; r < old; r++)
        {
            inverse.AsSpan(r * old, old).CopyTo(newInverse.AsSpan(r * now));
        }

        Array.Resize(ref senses, now);
        Array.Resize(ref rhs, now);
        Array.Resize(ref basis, now);
        for (int k = 0; k < rows.Count; k++)
        {
            int r = old + k;
            double sign = rows[k].Sense == Sense.AtLeast ? -1 : 1;
            senses[r] = rows[k].Sense;
            rhs[r] = rows[k].Rhs;
            Span<double> row = newInverse.AsSpan(r * now, now);
            foreach ((int at, double v) in basic[k])
            {
                AddScaled(row[..old], inverse.AsSpan(at * old, old), -sign * v);
            }

            row[r] = sign;
        }

        m = now;
        inverse = newInverse;
        level = new double[m];
        dual = new double[m];
        direction = new double[m];
        rowValues = new double[m];
        for (int k = 0; k < rows.Count; k++)
        {
            int column = AddColumn([old + k], [rows[k].Sense == Sense.AtLeast ? -1.0 : 1.0], 0);
            basis[old + k] = column;
            place[column] = old + k;
        }

        Steps += (long)now * now;
        Refresh();
    }

    public void SetRhs(int row, double value) => rhs[row] = value;

    public double Rhs(int row) => rhs[row];

    /// <summary>Switches a column off or on; call <see cref="Refresh"/> and <see cref="SolveDual"/> afterwards.</summary>
    public void Switch(int column, bool isOff) => off[column] = isOff;

    public bool IsOff(int column) => off[column];

    public void SetArtificialCost(double factor)
    {
        for (int j = 0; j < FirstColumn; j++)
        {
            cost[j] *= factor;
        }

        Refresh();
    }

    /// <summary>Levels and duals from the inverse, after right sides or costs have changed.</summary>
    public void Refresh()
    {
        for (int r = 0; r < m; r++)
        {
            level[r] = Dot(inverse.AsSpan(r * m, m), rhs);
        }

        Array.Clear(dual);
        for (int r = 0; r < m; r++)
        {
            double c = cost[basis[r]];
            if (c != 0)
            {
                AddScaled(dual, inverse.AsSpan(r * m, m), c);
            }
        }

        Steps += 2L * m * m / 4;
    }

    public double ReducedCost(int column)
    {
        ReadOnlySpan<int> at = CollectionsMarshal.AsSpan(index);
        ReadOnlySpan<double> by = CollectionsMarshal.AsSpan(coefficient);
        double d = cost[column];
        for (int k = start[column]; k < start[column + 1]; k++)
        {
            d -= dual[at[k]] * by[k];
        }

        return d;
    }

    /// <summary>Primal simplex from the present (feasible) basis. False when it stopped early.</summary>
    public bool SolvePrimal(int pivots)
    {
        int stalled = 0;
        for (int n = 0; n < pivots; n++)
        {
            int enter = BestEntering();
            if (enter < 0)
            {
                if (sinceRebuild > 0 && Residual() > 1e-7)
                {
                    Rebuild();
                    continue;
                }

                return true;
            }

            Direction(enter);
            int leave = PrimalLeaving();
            if (leave < 0 || Math.Abs(direction[leave]) < 1e-8)
            {
                if (sinceRebuild > 0)
                {
                    Rebuild();
                    if (++stalled < 5)
                    {
                        continue;
                    }
                }

                return false;
            }

            UpdateWeights(enter, leave);
            Pivot(enter, leave, Math.Max(0, level[leave] / direction[leave]));
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
            for (int r = 0; r < m; r++)
            {
                if (-level[r] > worst)
                {
                    (worst, leave, above) = (-level[r], r, false);
                }
                else if (off[basis[r]] && level[r] > worst)
                {
                    (worst, leave, above) = (level[r], r, true);
                }
            }

            if (leave < 0)
            {
                return true;
            }

            int enter = DualEntering(leave, above);
            if (enter < 0)
            {
                return false;
            }

            Direction(enter);
            if (Math.Abs(direction[leave]) < 1e-8)
            {
                if (sinceRebuild == 0)
                {
                    return false;
                }

                Rebuild();
                continue;
            }

            Pivot(enter, leave, level[leave] / direction[leave]);
        }

        return false;
    }

    /// <summary>Inverse anew from the basis (Gauss-Jordan with row exchange).</summary>
    public void Rebuild()
    {
        var a = new double[m * m];
        for (int r = 0; r < m; r++)
        {
            for (int k = start[basis[r]]; k < start[basis[r] + 1]; k++)
            {
                a[(index[k] * m) + r] = coefficient[k];
            }
        }

        Array.Clear(inverse);
        for (int r = 0; r < m; r++)
        {
            inverse[(r * m) + r] = 1;
        }

        for (int c = 0; c < m; c++)
        {
            int p = c;
            for (int r = c + 1; r < m; r++)
            {
                if (Math.Abs(a[(r * m) + c]) > Math.Abs(a[(p * m) + c]))
                {
                    p = r;
                }
            }

            double pivot = a[(p * m) + c];
            if (Math.Abs(pivot) < 1e-11)
            {
                StartAgain();
                return;
            }

            if (p != c)
            {
                Exchange(a, p, c);
                Exchange(inverse, p, c);
            }

            Scale(a.AsSpan(c * m, m), 1 / pivot);
            Scale(inverse.AsSpan(c * m, m), 1 / pivot);
            for (int r = 0; r < m; r++)
            {
                double f = a[(r * m) + c];
                if (r != c && f != 0)
                {
                    AddScaled(a.AsSpan((r * m) + c, m - c), a.AsSpan((c * m) + c, m - c), -f);
                    AddScaled(inverse.AsSpan(r * m, m), inverse.AsSpan(c * m, m), -f);
                    Steps += m / 2;
                }
            }
        }

        sinceRebuild = 0;
        Refresh();
    }

    /// <summary>Back to slacks and artificials, when rounding errors made the basis singular.</summary>
    private void StartAgain()
    {
        foreach (int j in basis)
        {
            place[j] = -1;
        }

        Array.Clear(inverse);
        var slack = new int[m];
        var artificial = new int[m];
        Array.Fill(slack, -1);
        Array.Fill(artificial, -1);
        for (int j = 0; j < cost.Count; j++)
        {
            bool own = start[j + 1] - start[j] == 1 && (j < FirstColumn || cost[j] == 0);
            if (own && cost[j] == 0 && slack[index[start[j]]] < 0)
            {
                slack[index[start[j]]] = j;
            }
            else if (own && cost[j] > 0 && coefficient[start[j]] > 0 && artificial[index[start[j]]] < 0)
            {
                artificial[index[start[j]]] = j;
            }
        }

        for (int r = 0; r < m; r++)
        {
            bool useSlack = senses[r] == Sense.AtMost || (senses[r] == Sense.AtLeast && rhs[r] <= 0);
            int j = useSlack ? slack[r] : artificial[r];
            if (j < 0 || (senses[r] == Sense.AtMost && rhs[r] < 0))
            {
                throw new InvalidOperationException("The basis of the linear programme became singular.");
            }

            basis[r] = j;
            place[j] = r;
            inverse[(r * m) + r] = coefficient[start[j]];
        }

        sinceRebuild = 0;
        Refresh();
    }

    private int BestEntering()
    {
        ReadOnlySpan<int> at = CollectionsMarshal.AsSpan(index);
        ReadOnlySpan<double> by = CollectionsMarshal.AsSpan(coefficient);
        ReadOnlySpan<int> first = CollectionsMarshal.AsSpan(start);
        ReadOnlySpan<double> price = CollectionsMarshal.AsSpan(cost);
        ReadOnlySpan<double> norm = CollectionsMarshal.AsSpan(weight);
        ReadOnlySpan<int> where = CollectionsMarshal.AsSpan(place);
        ReadOnlySpan<bool> closed = CollectionsMarshal.AsSpan(off);
        int best = -1;
        double most = 0;
        unchecked
        {
            for (int j = 0; j < price.Length; j++)
            {
                if (where[j] >= 0 || closed[j])
                {
                    continue;
                }

                double d = price[j];
                int end = first[j + 1];
                for (int k = first[j]; k < end; k++)
                {
                    d -= dual[at[k]] * by[k];
                }

                if (d < -Tolerance * (1 + Math.Abs(price[j])) && d * d > most * norm[j])
                {
                    most = d * d / norm[j];
                    best = j;
                }
            }
        }

        Steps += at.Length * 2L;
        return best;
    }

    private int PrimalLeaving()
    {
        double limit = double.PositiveInfinity;
        for (int r = 0; r < m; r++)
        {
            double d = direction[r];
            if (d > 1e-9)
            {
                limit = Math.Min(limit, (Math.Max(0, level[r]) + 1e-10) / d);
            }
            else if (d < -1e-9 && off[basis[r]])
            {
                limit = Math.Min(limit, 1e-10 / -d);
            }
        }

        int leave = -1;
        double size = 0;
        for (int r = 0; r < m; r++)
        {
            double d = direction[r];
            bool blocks = d > 1e-9 ? Math.Max(0, level[r]) / d <= limit : d < -1e-9 && off[basis[r]] && limit >= 0;
            if (blocks && Math.Abs(d) > size)
            {
                size = Math.Abs(d);
                leave = r;
            }
        }

        return leave;
    }

    private int DualEntering(int leave, bool above)
    {
        ReadOnlySpan<int> at = CollectionsMarshal.AsSpan(index);
        ReadOnlySpan<double> by = CollectionsMarshal.AsSpan(coefficient);
        ReadOnlySpan<int> first = CollectionsMarshal.AsSpan(start);
        inverse.AsSpan(leave * m, m).CopyTo(rowValues);
        int best = -1;
        double ratio = double.PositiveInfinity;
        double size = 0;
        for (int j = 0; j < cost.Count; j++)
        {
            if (place[j] >= 0 || off[j])
            {
                continue;
            }

            double alpha = 0;
            double d = cost[j];
            for (int k = first[j]; k < first[j + 1]; k++)
            {
                alpha += rowValues[at[k]] * by[k];
                d -= dual[at[k]] * by[k];
            }

            double a = above ? alpha : -alpha;
            if (a < 1e-9)
            {
                continue;
            }

            double q = Math.Max(0, d) / a;
            if (q < ratio - 1e-12 || (q <= ratio + 1e-12 && a > size))
            {
                (ratio, size, best) = (q, a, j);
            }
        }

        Steps += at.Length * 3L;
        return best;
    }

    /// <summary>Devex reference weights (Forrest and Goldfarb 1992): how far a column's reduced cost reaches.</summary>
    private void UpdateWeights(int enter, int leave)
    {
        ReadOnlySpan<int> at = CollectionsMarshal.AsSpan(index);
        ReadOnlySpan<double> by = CollectionsMarshal.AsSpan(coefficient);
        ReadOnlySpan<int> first = CollectionsMarshal.AsSpan(start);
        ReadOnlySpan<int> where = CollectionsMarshal.AsSpan(place);
        ReadOnlySpan<bool> closed = CollectionsMarshal.AsSpan(off);
        Span<double> norm = CollectionsMarshal.AsSpan(weight);
        ReadOnlySpan<double> row = inverse.AsSpan(leave * m, m);
        double pivot = direction[leave];
        double scale = norm[enter] / (pivot * pivot);
        unchecked
        {
            for (int j = 0; j < norm.Length; j++)
            {
                if (where[j] >= 0 || closed[j])
                {
                    continue;
                }

                double alpha = 0;
                int end = first[j + 1];
                for (int k = first[j]; k < end; k++)
                {
                    alpha += row[at[k]] * by[k];
                }

                double reach = alpha * alpha * scale;
                if (reach > norm[j])
                {
                    norm[j] = reach;
                }
            }
        }

        norm[basis[leave]] = Math.Max(scale, 1);
        Steps += at.Length;
        if (scale > 1e8)
        {
            norm.Fill(1);
        }
    }

    private void Direction(int column)
    {
        Array.Clear(direction);
        for (int k = start[column]; k < start[column + 1]; k++)
        {
            int c = index[k];
            double v = coefficient[k];
            unchecked
            {
                for (int r = 0, o = c; r < m; r++, o += m)
                {
                    direction[r] += inverse[o] * v;
                }
            }
        }
    }

    private void Pivot(int enter, int leave, double step)
    {
        double reduced = ReducedCost(enter);
        double pivot = direction[leave];
        Span<double> row = inverse.AsSpan(leave * m, m);
        Scale(row, 1 / pivot);
        for (int r = 0; r < m; r++)
        {
            double f = direction[r];
            if (r != leave && f != 0)
            {
                level[r] -= step * f;
                if (Math.Abs(f) > 1e-13)
                {
                    AddScaled(inverse.AsSpan(r * m, m), row, -f);
                    Steps += m / 4;
                }
            }
        }

        level[leave] = step;
        AddScaled(dual, row, reduced);
        place[basis[leave]] = -1;
        basis[leave] = enter;
        place[enter] = leave;
        sinceRebuild++;
        Pivots++;
        Steps += m;
        if (sinceRebuild % 100 == 0 && (Residual() > 1e-8 || sinceRebuild >= 1000))
        {
            Rebuild();
        }
    }

    private double Residual()
    {
        var sum = new double[m];
        for (int r = 0; r < m; r++)
        {
            for (int k = start[basis[r]]; k < start[basis[r] + 1]; k++)
            {
                sum[index[k]] += coefficient[k] * level[r];
            }
        }

        double worst = 0;
        for (int r = 0; r < m; r++)
        {
            worst = Math.Max(worst, Math.Abs(sum[r] - rhs[r]) / (1 + Math.Abs(rhs[r])));
            double d = cost[basis[r]];
            worst = Math.Max(worst, Math.Abs(ReducedCost(basis[r])) / (1 + Math.Abs(d)));
        }

        return worst;
    }

    private void Exchange(double[] a, int p, int q)
    {
        for (int k = 0; k < m; k++)
        {
            (a[(p * m) + k], a[(q * m) + k]) = (a[(q * m) + k], a[(p * m) + k]);
        }
    }

    private static void Scale(Span<double> a, double f)
    {
        for (int k = 0; k < a.Length; k++)
        {
            a[k] *= f;
        }
    }

    private static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        double sum = 0;
        for (int k = 0; k < a.Length; k++)
        {
            sum += a[k] * b[k];
        }

        return sum;
    }

    private static void AddScaled(Span<double> to, ReadOnlySpan<double> from, double f)
    {
        int k = 0;
        var factor = new Vector<double>(f);
        for (; k <= to.Length - Vector<double>.Count; k += Vector<double>.Count)
        {
            (new Vector<double>(to[k..]) + (new Vector<double>(from[k..]) * factor)).CopyTo(to[k..]);
        }

        for (; k < to.Length; k++)
        {
            to[k] += from[k] * f;
        }
    }
}
