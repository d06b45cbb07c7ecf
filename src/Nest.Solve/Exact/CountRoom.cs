namespace Nest.Solve.Exact;

/// <summary>Whether plates at given counts can hold the blanks of a component at all, whatever the layouts cost.</summary>
/// <remarks>
/// Pieces and waste of a plan fill its plates, areas grown by a kerf; so the plates are no smaller than the pieces, each taken where it is smallest. What one plate has more than the pieces is its waste, and with little of that most
/// loads can't be cut (<see cref="FullLoads"/>). Where there is no room no plan has these counts, nor fewer pieces of each of these stocks: values of the blanks alone mix layouts, and lists of loads tell it only as far as their gap.
/// Nothing is said where a bar or a cutter's plate is among the counts. Several plates are held against the area alone: their waste is that of each, and on made jobs no look at their loads came to an end.
/// </remarks>
internal sealed class CountRoom(ExactJob part)
{
    /// <summary>Share of waste beyond which nearly all pieces find room, and parts of layouts are too many.</summary>
    private const double MostWaste = 0.06;

    /// <summary>Pairs of partial loads that are looked at: some seconds.</summary>
    private const long MostPairs = 20_000_000;

    /// <summary>Of what is left of the limit.</summary>
    private const double MostShare = 0.5;

    /// <summary>Table steps that take as long as a pair.</summary>
    private const double StepsPerPair = 500;

    /// <summary>False: no plan has these counts. True: some may.</summary>
    /// <param name="counts">By source of the part, pieces cut to size too.</param>
    public bool MayHold(int[] counts, ExactMeter meter)
    {
        var stocks = part.Sources.Where(source => !source.IsSingle && counts[source.Number] > 0).ToList();
        if (stocks.Count == 0 || stocks.Exists(source => source is not PlateLoads))
        {
            return true;
        }

        // What is cut to size needs no room.
        var demand = part.Demand.ToArray();
        foreach (var source in part.Sources.Where(source => source.IsSingle))
        {
            var kind = Enumerable.Range(0, demand.Length).First(k => SettingTerms.Serves(source, k));
            demand[kind] = Math.Max(0, demand[kind] - counts[source.Number]);
        }

        var shapes = stocks.ConvertAll(source => ((PlateLoads)source).Shape);
        var whole = stocks.Zip(shapes).Aggregate((Int128)0, (sum, stock) => sum + (counts[stock.First.Number] * Area(stock.Second, stock.Second.SizeX, stock.Second.SizeY)));
        var waste = whole;
        for (var k = 0; k < demand.Length; k++)
        {
            var areas = shapes.Where(shape => shape.Pieces[k].SizeX > 0).Select(shape => Area(shape, shape.Pieces[k].SizeX, shape.Pieces[k].SizeY)).ToList();
            if (areas.Count == 0 && demand[k] > 0)
            {
                return false;
            }

            waste -= demand[k] == 0 ? 0 : demand[k] * areas.Min();
        }

        if (waste < 0 || (double)waste > MostWaste * (double)whole || stocks.Sum(source => counts[source.Number]) > 1 || PackedLoads.Of(demand, _ => true) is not { } packed)
        {
            return waste >= 0;
        }

        var own = meter.Part(MostShare);
        var pairs = (long)Math.Min(MostPairs, own.StepsLeft / StepsPerPair);
        var loads = new FullLoads(shapes[0], packed, (long)(waste / shapes[0].Scale / shapes[0].Scale), pairs, () => own.IsOver);
        var holds = loads.MayHold(packed.Of(demand));
        own.Add(StepsPerPair * (pairs - loads.Left));
        meter.Take(own);
        return holds;
    }

    private static Int128 Area(PlateShape shape, long x, long y) => (Int128)((x + shape.Kerf) * shape.Scale) * ((y + shape.Kerf) * shape.Scale);
}
