using Nest.Solve.Plates;

namespace Nest.Tests.Plates.Free;

/// <summary>Random tiny problems with everything in them: gaps, turning, several plates, limits, keep-outs, piece costs.</summary>
internal static class SmallPlateJobs
{
    public static PlateProblem Next(Random random)
    {
        var stocks = Enumerable.Range(0, random.Next(1, 4)).Select(_ =>
        {
            var (x, y) = (random.Next(4, 8), random.Next(4, 8));
            var keep = random.Next(4) > 0 ? [] : new[] { new PlateRect(random.Next(-1, x), random.Next(-1, y), random.Next(1, 3), random.Next(1, 3)) };
            return new PlateStock(x, y, random.Next(0, 9) * random.Next(1, 4), random.Next(3) == 0 ? random.Next(0, 3) : null) { KeepOuts = [.. keep] };
        }).ToArray();
        var items = new List<PlateItem>();
        for (var left = random.Next(1, 6); left > 0;)
        {
            var demand = random.Next(1, left + 1);
            left -= demand;
            items.Add(new PlateItem(random.Next(1, 6), random.Next(1, 6), demand, random.Next(2) == 0));
        }

        var costs = random.Next(2) == 0 ? null : new long[stocks.Length, items.Count];
        for (var s = 0; costs is not null && s < stocks.Length; s++)
        {
            for (var i = 0; i < items.Count; i++)
            {
                costs[s, i] = random.Next(5) == 0 ? PlateProblem.Forbidden : random.Next(0, 4);
            }
        }

        return new PlateProblem
        {
            Stocks = [.. stocks], Items = [.. items], Kerf = random.Next(3), PieceCost = costs, Cutting = new PlateCutting { Free = true },
        };
    }
}
