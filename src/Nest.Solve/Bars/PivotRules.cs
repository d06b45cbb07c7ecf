using System.Runtime.InteropServices;

namespace Nest.Solve.Bars;

/// <summary>Which column enters the basis and which leaves it.</summary>
internal sealed class PivotRules(LpColumns columns, LpBasis lp)
{
    private const double Tolerance = 1e-9;

    /// <summary>Primal: the column with the steepest fall by Devex weights; -1: none falls.</summary>
    public int BestEntering()
    {
        ReadOnlySpan<int> at = CollectionsMarshal.AsSpan(columns.Index);
        ReadOnlySpan<double> by = CollectionsMarshal.AsSpan(columns.Coefficient);
        ReadOnlySpan<int> first = CollectionsMarshal.AsSpan(columns.Start);
        ReadOnlySpan<double> price = CollectionsMarshal.AsSpan(columns.Cost);
        ReadOnlySpan<double> norm = CollectionsMarshal.AsSpan(columns.Weight);
        ReadOnlySpan<int> where = CollectionsMarshal.AsSpan(columns.Place);
        ReadOnlySpan<bool> closed = CollectionsMarshal.AsSpan(columns.Off);
        ReadOnlySpan<double> dual = lp.Dual;
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

        lp.Steps += at.Length * 2L;
        return best;
    }

    /// <summary>Primal: the row that blocks first, with a little slack for a large pivot (Harris 1973); -1: none.</summary>
    public int PrimalLeaving()
    {
        double limit = double.PositiveInfinity;
        for (int r = 0; r < lp.Rows; r++)
        {
            double d = lp.Direction[r];
            if (d > 1e-9)
            {
                limit = Math.Min(limit, (Math.Max(0, lp.Level[r]) + 1e-10) / d);
            }
            else if (d < -1e-9 && columns.Off[lp.Basis[r]])
            {
                limit = Math.Min(limit, 1e-10 / -d);
            }
        }

        int leave = -1;
        double size = 0;
        for (int r = 0; r < lp.Rows; r++)
        {
            double d = lp.Direction[r];
            bool blocks = d > 1e-9 ? Math.Max(0, lp.Level[r]) / d <= limit : d < -1e-9 && columns.Off[lp.Basis[r]] && limit >= 0;
            if (blocks && Math.Abs(d) > size)
            {
                size = Math.Abs(d);
                leave = r;
            }
        }

        return leave;
    }

    /// <summary>Dual: the column that keeps all reduced costs in order; -1: the row cannot be repaired.</summary>
    public int DualEntering(int leave, bool above)
    {
        ReadOnlySpan<int> at = CollectionsMarshal.AsSpan(columns.Index);
        ReadOnlySpan<double> by = CollectionsMarshal.AsSpan(columns.Coefficient);
        ReadOnlySpan<int> first = CollectionsMarshal.AsSpan(columns.Start);
        ReadOnlySpan<double> rowValues = lp.Inverse.AsSpan(leave * lp.Rows, lp.Rows);
        ReadOnlySpan<double> dual = lp.Dual;
        int best = -1;
        double ratio = double.PositiveInfinity;
        double size = 0;
        for (int j = 0; j < columns.Count; j++)
        {
            if (columns.Place[j] >= 0 || columns.Off[j])
            {
                continue;
            }

            double alpha = 0;
            double d = columns.Cost[j];
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

        lp.Steps += at.Length * 3L;
        return best;
    }

    /// <summary>Devex reference weights (Forrest and Goldfarb 1992): how far a column's reduced cost reaches.</summary>
    public void UpdateWeights(int enter, int leave)
    {
        ReadOnlySpan<int> at = CollectionsMarshal.AsSpan(columns.Index);
        ReadOnlySpan<double> by = CollectionsMarshal.AsSpan(columns.Coefficient);
        ReadOnlySpan<int> first = CollectionsMarshal.AsSpan(columns.Start);
        ReadOnlySpan<int> where = CollectionsMarshal.AsSpan(columns.Place);
        ReadOnlySpan<bool> closed = CollectionsMarshal.AsSpan(columns.Off);
        Span<double> norm = CollectionsMarshal.AsSpan(columns.Weight);
        ReadOnlySpan<double> row = lp.Inverse.AsSpan(leave * lp.Rows, lp.Rows);
        double pivot = lp.Direction[leave];
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

        norm[lp.Basis[leave]] = Math.Max(scale, 1);
        lp.Steps += at.Length;
        if (scale > 1e8)
        {
            norm.Fill(1);
        }
    }
}
