namespace Nest.Solve.Exact;

/// <summary>A proven statement for one set of values: every plan that uses n_s pieces of stock s costs, beside what the stock itself costs, at
/// least <see cref="Worth"/> − Σ n_s · Best_s.</summary>
/// <remarks>
/// Lemma. For any values π ≥ 0: each load of stock s costs at least Σ π·counts − Best_s, where Best_s is the most that a load of s is worth
/// beyond its cost; summed over a plan with exactly the demand this is the statement. (Lagrange; any π will do.)
/// Lemma. Best_s is convex in π, so at θπ it is at most θ·Best_s(π) + (1 − θ)·Best_s(0): with the largest θ for which no unlimited stock is
/// worth more than its price the statement is below the linear optimum but holds with any counts (Farley 1990, with offcuts of value).
/// </remarks>
/// <param name="Values">π by kind, in grains.</param>
/// <param name="Best">By source, in grains; may be below zero.</param>
internal sealed record ValueCut(int[] Values, long[] Best)
{
    /// <summary>Σ π · demand.</summary>
    public long Worth { get; private init; }

    /// <summary>Share θ of the values.</summary>
    public double Share { get; private init; } = 1;

    /// <summary>Values of no blank: what a piece of stock is worth as a rest.</summary>
    public long[]? Bare { get; private init; }

    public static ValueCut Of(ExactJob job, int[] values, long[] best) => new(values, best) { Worth = WorthOf(job, values) };

    /// <summary>The statement for the largest share of the values at which no unlimited stock is worth more than its price.</summary>
    /// <param name="bare"><see cref="Best"/> at values of zero.</param>
    public static ValueCut Scaled(ExactJob job, int[] values, long[] best, long[] bare)
    {
        double share = 1;
        foreach (var source in job.Sources)
        {
            var s = source.Number;
            if (source.Limit is null && best[s] > source.Price)
            {
                share = best[s] == bare[s] ? 0 : Math.Min(share, Math.Max(0, (source.Price - bare[s]) / (double)(best[s] - bare[s])));
            }
        }

        return Of(job, values, best) with { Share = share * (1 - 1e-12), Bare = bare };
    }

    /// <summary>Constant part and, by source, what a piece of stock takes off, in grains.</summary>
    public double Constant => Share * Worth;

    /// <inheritdoc cref="Constant"/>
    public double Per(int source) => Bare is null ? Best[source] : (Share * Best[source]) + ((1 - Share) * Bare[source]);

    private static long WorthOf(ExactJob job, int[] values)
    {
        long worth = 0;
        for (var k = 0; k < values.Length; k++)
        {
            worth += (long)values[k] * job.Demand[k];
        }

        return worth;
    }
}
