namespace Nest.Solve.Exact;

/// <summary>Whether plates at given counts can hold the blanks of a component at all, whatever the layouts cost.</summary>
/// <remarks>
/// Pieces and waste of a plan fill its plates, areas grown by a kerf; so the waste of all layouts together is what the plates have more than the pieces, each taken where it is smallest. The plates are filled one after the other with
/// loads that leave no more than that (<see cref="FullLoads"/>). Where that can't be done no plan has these counts, nor fewer pieces of each of these stocks: values of the blanks alone mix layouts, and lists of loads tell it only as far
/// as their gap. Nothing is said where a bar or a cutter's plate is among the counts. O(loads ^ (plates − 1)) beside the loads, cut off.
/// </remarks>
internal sealed class CountRoom(ExactJob part)
{
    /// <summary>Share of waste beyond which nearly all pieces find room, and parts of layouts are too many.</summary>
    private const double MostWaste = 0.06;

    /// <summary>Pairs of partial loads that are looked at for each stock: some seconds.</summary>
    private const long MostPairs = 20_000_000;

    /// <summary>Of what is left of the limit.</summary>
    private const double MostShare = 0.35;

    /// <summary>Table steps that take as long as a pair.</summary>
    private const double StepsPerPair = 500;

    /// <summary>A piece of stock and the loads that fill it.</summary>
    private readonly record struct Plate(int Source, FullLoads Loads);

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

        if (waste < 0 || (double)waste > MostWaste * (double)whole || PackedLoads.Of(demand, _ => true) is not { } packed)
        {
            return waste >= 0;
        }

        var own = meter.Part(MostShare);
        var pairs = (long)Math.Min(MostPairs, own.StepsLeft / StepsPerPair / stocks.Count);
        var known = shapes.ConvertAll(shape => new FullLoads(shape, packed, (long)(waste / shape.Scale / shape.Scale), pairs, () => own.IsOver));
        var plates = stocks.SelectMany((source, s) => Enumerable.Repeat(new Plate(s, known[s]), counts[source.Number])).ToList();

        // What was broken off has not looked at everything: it says nothing.
        var holds = Covers(plates, 0, packed.Of(demand), ulong.MaxValue) || known.Exists(loads => loads.IsBrokenOff);
        own.Add(StepsPerPair * known.Sum(loads => pairs - loads.Left));
        meter.Take(own);
        return holds;
    }

    /// <summary>Whether the plates from this one on may hold the rest.</summary>
    /// <param name="before">What the plate before it holds: of equal ones the greater number comes first.</param>
    private static bool Covers(List<Plate> plates, int at, ulong rest, ulong before)
    {
        var plate = plates[at];
        if (at == plates.Count - 1)
        {
            return rest <= before && plate.Loads.MayHold(rest);
        }

        return plate.Loads.Within(rest).Any(load =>
            load <= before && plate.Loads.MayHold(load) && Covers(plates, at + 1, rest - load, plates[at + 1].Source == plate.Source ? load : ulong.MaxValue));
    }

    private static Int128 Area(PlateShape shape, long x, long y) => (Int128)((x + shape.Kerf) * shape.Scale) * ((y + shape.Kerf) * shape.Scale);
}
