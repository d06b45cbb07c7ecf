using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>The layouts that are known of plates' loads, and what they cost with their settings.</summary>
/// <param name="withTree">A load with the tree that it was listed with.</param>
internal sealed class LoadLayouts(ExactJob job, Func<Load, Load> withTree)
{
    private readonly Dictionary<string, List<Load>> _more = new(StringComparer.Ordinal);

    /// <summary>Takes in a layout of a load that was found beside the one that it was listed with.</summary>
    public void Add(Load layout)
    {
        if (!_more.TryGetValue(layout.Key, out var all))
        {
            all = _more[layout.Key] = [];
        }

        all.Add(layout);
    }

    /// <summary>Looks for a layout of a load that has none.</summary>
    public void LookFor(Load load, ExactMeter meter)
    {
        if (!withTree(load).HasLayout)
        {
            job.Sources[load.Stock].Found.LookFor(load, meter);
        }
    }

    /// <summary>Cost of the cheapest one, in grains, beside the stock's price; infinite: none is known.</summary>
    public double Known(Load load)
    {
        var least = Of(load).Select(layout => CostOf(layout)).DefaultIfEmpty(double.PositiveInfinity).Min();
        return job.Sources[load.Stock].Found.Of(load) is { } found ? Math.Min(least, CostOf(load, found, 1)) : least;
    }

    /// <summary>Cost of a layout, in grains, beside the stock's price.</summary>
    public double CostOf(Load layout) => CostOf(layout, 1);

    /// <summary>The cheapest one where it is cut so often; the load as it is where none is known.</summary>
    public Load Cheapest(Load load, int count)
    {
        if (job.Sources[load.Stock].Frame.IsBar)
        {
            return load;
        }

        var best = Of(load).MinBy(layout => CostOf(layout, count));
        return best ?? (job.Sources[load.Stock].Found is { ArePlain: true } found && found.Of(load) is not null ? load with { Real = true, IsBare = false } : withTree(load));
    }

    private IEnumerable<Load> Of(Load load)
    {
        var own = withTree(load);
        var more = _more.TryGetValue(load.Key, out var all) ? all : [];
        return own.HasLayout ? more.Prepend(own) : more;
    }

    private double CostOf(Load layout, int count) =>
        CostOf(layout, ExactPlan.ColumnsOf(job, job.Sources[layout.Stock].ComponentIndex, [(layout, 1)])[0].Column, count);

    private double CostOf(Load load, Column column, int count)
    {
        var source = job.Sources[load.Stock];
        return (((column.Cost - source.Frame.Stock.PiecePrice.Units) * count) + column.SetUp(source.Kinds.Component)) * (double)Grain.PerUnit;
    }
}
