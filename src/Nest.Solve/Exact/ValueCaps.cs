namespace Nest.Solve.Exact;

/// <summary>How high values of the blanks may be: in the linear programme, and in the tables, whose numbers must not overflow. In grains, by kind of the whole job.</summary>
internal sealed class ValueCaps(ExactJob job)
{
    /// <summary>What a missing piece costs in the linear programme at given counts: more than any piece of stock.</summary>
    public double MissingCost(int kind) => Serving(kind).Select(source => (3.0 * source.Price) + (10 * Grain.PerCurrency)).DefaultIfEmpty(0).Max();

    /// <summary>At free counts: more than the cheapest piece of stock for itself, so that values are never far too high.</summary>
    public double AloneCost(int kind)
    {
        var unlimited = Serving(kind).Where(source => source.Limit is null).Select(source => (1.5 * source.Price) + Grain.PerCurrency).ToList();
        return unlimited.Count > 0 ? unlimited.Min() : MissingCost(kind);
    }

    private IEnumerable<LoadSource> Serving(int kind) => job.Sources.Where(source =>
    {
        var own = kind - job.FirstKind[source.ComponentIndex];
        return own >= 0 && own < source.Kinds.Count && source.Kinds.Component.Fits[source.StockIndex, source.Kinds.Members[own][0]] is not null;
    });

    /// <summary>Greatest value of each kind at which no table overflows: a plate holds no more of it than by area.</summary>
    public int[] Greatest()
    {
        var cap = new int[job.Demand.Length];
        Array.Fill(cap, Grain.Most / 2);
        foreach (var source in job.Sources)
        {
            var component = source.Kinds.Component;
            for (var k = 0; k < source.Kinds.Count; k++)
            {
                if (component.Fits[source.StockIndex, source.Kinds.Members[k][0]] is { } fit && !source.Frame.IsBar)
                {
                    var pieces = Math.Max(1, Math.Ceiling((double)source.Frame.Usable.Area.SquareNanometres / (double)(fit.SizeX * fit.SizeY).SquareNanometres));
                    var at = job.FirstKind[source.ComponentIndex] + k;
                    cap[at] = (int)Math.Min(cap[at], Grain.Most / 2 / pieces);
                }
            }
        }

        return cap;
    }
}
