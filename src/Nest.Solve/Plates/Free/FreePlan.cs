using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Plates.Free;

/// <summary>Plates that hold every piece, and how they become an answer.</summary>
internal sealed record FreePlan(List<(FreePlate Plate, int Count)> Plates)
{
    public long Cost => Plates.Sum(p => p.Plate.Cost * p.Count);

    public int Pieces => Plates.Sum(p => p.Count);

    /// <summary>The plan without pieces beyond the demand and without plates that hold nothing then; equal plates stay together.</summary>
    public FreePlan WithoutSurplus(FreeModel model)
    {
        var surplus = model.Demand.Select(d => -(long)d).ToArray();
        foreach (var (plate, count) in Plates)
        {
            foreach (var p in plate.Placed)
            {
                surplus[p.Kind] += count;
            }
        }

        if (surplus.All(s => s <= 0))
        {
            return this;
        }

        // From the weakest plates first: they become emptier still.
        var result = new List<(FreePlate, int)>();
        foreach (var (plate, count) in Plates.OrderBy(p => p.Plate.Area / (double)model.Stocks[p.Plate.Stock].Area))
        {
            var left = count;
            while (left > 0 && plate.Placed.Any(p => surplus[p.Kind] > 0))
            {
                var kept = new List<FreePlaced>();
                foreach (var p in plate.Placed)
                {
                    if (surplus[p.Kind] > 0)
                    {
                        surplus[p.Kind]--;
                    }
                    else
                    {
                        kept.Add(p);
                    }
                }

                left--;
                if (kept.Count > 0)
                {
                    result.Add((FreePlate.From(model, plate.Stock, kept.ToArray()), 1));
                }
            }

            if (left > 0)
            {
                result.Add((plate, left));
            }
        }

        return new FreePlan(result);
    }

    public PlateSolution ToSolution(FreeModel model, long bound)
    {
        var cost = Cost;
        return new PlateSolution
        {
            Status = !Contradictions.Found(bound, cost, Methods.DualFeasibleFunctions) && bound >= cost ? SolveStatus.Proven : SolveStatus.BestFound,
            Layouts = [.. Plates.Select(p => Layout(model, p.Plate, p.Count))],
            Cost = cost,
            Bound = bound,
            BoundSource = Methods.DualFeasibleFunctions,
        };
    }

    public static PlateLayout Layout(FreeModel model, FreePlate plate, int count)
    {
        var pieces = plate.Placed
            .OrderBy(p => p.Y).ThenBy(p => p.X)
            .Select(p =>
            {
                var item = model.Problem.Items[p.Kind];
                var (x, y) = p.Turned ? (item.SizeY, item.SizeX) : (item.SizeX, item.SizeY);
                return new PlatePlacement(p.Kind, new PlateRect(p.X, p.Y, x, y), p.Turned);
            });
        return new PlateLayout(plate.Stock, count, [.. pieces], null);
    }
}
