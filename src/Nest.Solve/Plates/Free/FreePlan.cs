using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Solve.Plates.Free;

/// <summary>Plates that hold every piece, and how they become an answer.</summary>
internal sealed record FreePlan(List<(FreePlate Plate, int Count)> Plates)
{
    public long Cost => Plates.Sum(p => p.Plate.Cost * p.Count);

    public int Pieces => Plates.Sum(p => p.Count);

    public PlateSolution ToSolution(FreeModel model, long bound)
    {
        var cost = Cost;
        return new PlateSolution
        {
            Status = bound >= cost ? SolveStatus.Proven : SolveStatus.BestFound,
            Layouts = [.. Plates.Select(p => Layout(model, p.Plate, p.Count))],
            Cost = cost,
            Bound = Math.Min(bound, cost),
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
