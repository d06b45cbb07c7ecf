namespace Nest.Solve.Plates.Free;

/// <summary>Empties a few plates of a plan and fills plates of any kind again.</summary>
/// <remarks>Method: large-neighbourhood search by ruin and recreate (Schrimpf and others 2000) on whole plates, weak ones first more
/// often; changes that cost no more are kept, ties only when the filled area is more unequal. Guarantee: heuristic.</remarks>
internal sealed class PlateRenewal(FreeModel model, FreeConstructive constructive, FreeBudget budget, FreeRandom random)
{
    /// <summary>Runs until the share of the limits or the moves are used up or the cost reaches the goal; returns the plan, never a
    /// dearer one.</summary>
    public FreePlan Run(FreePlan plan, double share, int moves, long goal)
    {
        var plates = plan.Plates.SelectMany(p => Enumerable.Repeat(p.Plate, p.Count)).ToList();
        for (var m = 0; m < moves && plates.Sum(p => p.Cost) > goal && !budget.OutAt(share); m++)
        {
            budget.AddSteps(500);
            var gone = Choose(plates);
            var left = new int[model.Kinds];
            foreach (var k in gone.SelectMany(i => plates[i].Placed))
            {
                left[k.Kind]++;
            }

            var limits = model.Stocks.Select(s => s.Limit).ToArray();
            foreach (var i in Enumerable.Range(0, plates.Count).Except(gone))
            {
                limits[plates[i].Stock] -= limits[plates[i].Stock] == int.MaxValue ? 0 : 1;
            }

            var fresh = constructive.Build(
                left, limits, random.Below(FreeOrder.Senses), (FillRule)random.Below(PlateFiller.Rules), 0.1 + (0.7 * random.Unit()), 1 + random.Below(3), share);
            if (fresh is null)
            {
                continue;
            }

            var (before, after) = (gone.Sum(i => plates[i].Cost), fresh.Cost);
            if (after < before || (after == before && Uneven(fresh) >= gone.Sum(i => plates[i].Area * plates[i].Area)))
            {
                foreach (var i in gone.OrderDescending())
                {
                    plates.RemoveAt(i);
                }

                plates.AddRange(fresh.Plates.SelectMany(p => Enumerable.Repeat(p.Plate, p.Count)));
            }
        }

        return new FreePlan([.. plates.Select(p => (p, 1))]);
    }

    private static double Uneven(FreePlan plan) => plan.Plates.Sum(p => p.Count * p.Plate.Area * p.Plate.Area);

    private List<int> Choose(List<FreePlate> plates)
    {
        var count = Math.Min(plates.Count, 1 + random.Below(4));
        var gone = new List<int>();
        while (gone.Count < count)
        {
            // The weaker of two.
            var (a, b) = (random.Below(plates.Count), random.Below(plates.Count));
            var weaker = Share(plates[a]) <= Share(plates[b]) ? a : b;
            if (gone.Contains(weaker))
            {
                weaker = Enumerable.Range(0, plates.Count).First(i => !gone.Contains(i));
            }

            gone.Add(weaker);
        }

        return gone;
    }

    private double Share(FreePlate plate) => plate.Area / (double)model.Stocks[plate.Stock].Area;
}
