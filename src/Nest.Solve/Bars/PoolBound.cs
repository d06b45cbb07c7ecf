namespace Nest.Solve.Bars;

/// <summary>The safe bound of the programme over a pool, and what each layout costs beyond the values of what it cuts, in integers.</summary>
/// <remarks>
/// Duals rounded to whole numbers y (right sign for inequalities): S·cost ≥ Σ y_r b_r + Σ_p min(0, S·c_p − Σ_r y_r a_rp)·u_p with u_p the most
/// bars that layout p can have. Any y gives a valid bound, so rounding errors cost strength, never truth (weak duality).
/// </remarks>
/// <param name="senses">Of the rows for pieces and ranges of bars.</param>
internal sealed class PoolBound(BarModel model, List<BarPattern> pool, RowSense[] senses, int[] rightSides)
{
    private const long MostScale = 1L << 40;
    private const double MostDual = 1e17;

    /// <summary>S: units in a unit of cost.</summary>
    public long Scale { get; } = Math.Max(1, MostScale / (Enumerable.Range(0, model.Stocks).Max(s => model.Stock(s).Cost) + 1));

    /// <param name="duals">Of all rows, as the programme gives them.</param>
    /// <param name="rows">The rows beyond the fixed ones.</param>
    /// <param name="alive">Layouts that count.</param>
    /// <returns>S × the bound, and by layout S × its reduced cost.</returns>
    public (Int128 Sum, Int128[] Reduced) Of(ReadOnlySpan<double> duals, IReadOnlyList<PoolRow> rows, bool[] alive)
    {
        var dual = new long[senses.Length + rows.Count];
        Int128 sum = 0;
        for (int r = 0; r < dual.Length; r++)
        {
            var (sense, rightSide) = r < senses.Length ? (senses[r], rightSides[r]) : (rows[r - senses.Length].Sense, rows[r - senses.Length].Rhs);
            double v = Math.Clamp(duals[r] * Scale, -MostDual, MostDual);
            v = sense == RowSense.AtMost ? Math.Min(0, v) : sense == RowSense.AtLeast ? Math.Max(0, v) : v;
            dual[r] = double.IsNaN(v) ? 0 : (long)Math.Round(v);
            sum += (Int128)dual[r] * rightSide;
        }

        var reduced = new Int128[pool.Count];
        for (int p = 0; p < pool.Count; p++)
        {
            if (!alive[p])
            {
                continue;
            }

            reduced[p] = Reduced(pool[p], dual, rows, out int most);
            if (reduced[p] < 0)
            {
                sum += reduced[p] * most;
            }
        }

        return (sum, reduced);
    }

    /// <param name="most">The most bars that can be cut so.</param>
    private Int128 Reduced(BarPattern pattern, long[] dual, IReadOnlyList<PoolRow> rows, out int most)
    {
        Int128 d = ((Int128)Scale * pattern.Cost) - dual[model.Types + pattern.Stock] - dual[model.Types + model.Ranges + pattern.Stock];
        if (pattern.Group >= 0)
        {
            d -= dual[model.Types + model.Stocks + pattern.Group] + (Int128)dual[model.Types + model.Ranges + model.Stocks + pattern.Group];
        }

        most = int.MaxValue;
        for (int k = 0; k < pattern.Items.Length; k++)
        {
            int i = pattern.Items[k];
            d -= (Int128)pattern.Counts[k] * dual[i];
            most = Math.Min(most, model.Demand[i] / pattern.Counts[k]);
        }

        for (int r = 0; r < rows.Count; r++)
        {
            long price = dual[senses.Length + r];
            if (price != 0)
            {
                d -= (Int128)price * rows[r].Coefficient(pattern);
            }
        }

        return d;
    }
}
