namespace Nest.Solve.Plates.Free;

/// <summary>Among plans of equal cost: how good the largest leftover is, and packing the weakest plate so that it is large.</summary>
/// <remarks>Method: the plate's own pieces filled again in many orders; the largest empty rectangle (with the gap at its own side)
/// decides. Guarantee: heuristic.</remarks>
internal static class LastPlate
{
    /// <summary>Area of the largest empty rectangle of a plate.</summary>
    public static double Rest(FreeModel model, FreePlate plate)
    {
        var spaces = new MaximalSpaces();
        spaces.Reset(model.Stocks[plate.Stock].Start);
        foreach (var p in plate.Placed)
        {
            var (w, h) = p.Turned ? (model.SizeY[p.Kind], model.SizeX[p.Kind]) : (model.SizeX[p.Kind], model.SizeY[p.Kind]);
            spaces.Take(p.X, p.Y, p.X + w, p.Y + h, 1, 1);
        }

        var best = 0.0;
        foreach (ref readonly var s in spaces.Spaces)
        {
            best = Math.Max(best, (double)s.SizeX * s.SizeY);
        }

        return best;
    }

    /// <summary>The largest rest of any plate of the plan.</summary>
    public static double Rest(FreeModel model, FreePlan plan) => plan.Plates.Count == 0 ? 0
        : plan.Plates.Max(p => (double)model.Stocks[p.Plate.Stock].Area - p.Plate.Area) is var free
            ? plan.Plates.Where(p => (double)model.Stocks[p.Plate.Stock].Area - p.Plate.Area >= 0.5 * free).Max(p => Rest(model, p.Plate)) : 0;

    /// <summary>The plan with its weakest plate packed anew where that leaves a larger rectangle.</summary>
    public static FreePlan Tidy(FreeModel model, FreePlan plan, PlateFiller filler, FreeBudget budget, FreeRandom random, int tries)
    {
        var at = Enumerable.Range(0, plan.Plates.Count)
            .MaxBy(i => (double)model.Stocks[plan.Plates[i].Plate.Stock].Area - plan.Plates[i].Plate.Area);
        var (plate, count) = plan.Plates[at];
        var kinds = plate.Placed.Select(p => p.Kind).Distinct().ToArray();
        var (best, rest) = (plate, Rest(model, plate));
        for (var t = 0; t < tries && !budget.Cancel.IsCancellationRequested; t++)
        {
            FreeOrder.Sort(model, kinds, t % FreeOrder.Senses, t < 50 ? 0 : 0.5, random);
            var copies = kinds.Select(k => plate.Placed.Count(p => p.Kind == k)).ToArray();
            var before = filler.Steps;
            filler.Fill(model.Stocks[plate.Stock], kinds, copies, (FillRule)(t / FreeOrder.Senses % 7));
            budget.AddSteps(filler.Steps - before);
            if (filler.Count < plate.Placed.Length)
            {
                continue;
            }

            var other = FreePlate.From(model, plate.Stock, filler.Placed);
            var otherRest = Rest(model, other);
            if (otherRest > rest)
            {
                (best, rest) = (other, otherRest);
            }
        }

        if (ReferenceEquals(best, plate))
        {
            return plan;
        }

        var plates = plan.Plates.ToList();
        plates[at] = (best, 1);
        if (count > 1)
        {
            plates.Insert(at, (plate, count - 1));
        }

        return new FreePlan(plates);
    }
}
