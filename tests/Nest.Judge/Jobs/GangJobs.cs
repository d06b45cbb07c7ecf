using Nest.Core.Jobs;

namespace Nest.Judge.Jobs;

/// <summary>Tiny jobs of which a flat part may be milled several from one blank, now and then two parts.</summary>
/// <remarks>The fussy job of the same seed, with draws of their own on top.</remarks>
public static class GangJobs
{
    /// <summary>Null: it has no flat part with square ends, asked for more than once.</summary>
    public static Job? Make(int seed)
    {
        var job = FussyJobs.Make(seed);
        var random = new JudgeRandom((ulong)seed + 2_000_003);
        var left = random.Percent(75) ? 1 : 2;
        Part Open(Part part)
        {
            if (left == 0 || part.Round || part.Detail is not null || part.Ends is not null || job.DemandOf(part) < 2 || job.Stocks.Any(stock => stock.CutFor == part.Id))
            {
                return part;
            }

            left--;
            return part with
            {
                PerBlank = new()
                {
                    Counts = random.Pick<System.Collections.Immutable.ImmutableArray<int>>([1, 2], [2], [1, 2, 3], [1, 3], [2, 3]).Where(count => count <= job.DemandOf(part) || count < 3).ToArray() is var counts ? [.. counts] : [],
                    Gap = MadeShop.Mm(random.Pick(2m, 6m, 10m)),
                },
            };
        }

        job = job with
        {
            Name = $"gang-{seed}",
            Parts = [.. job.Parts.Select(Open)],
            Mill = job.Mill with
            {
                HourlyRate = random.Pick(0m, 40m, 80m),
                BlankMinutes = random.Pick(0m, 1m, 4m),
                ViseOpening = random.Percent(30) ? MadeShop.Mm(random.Pick(60m, 100m)) : null,
            },
        };
        return job.Parts.Any(part => part.PerBlank is not null) ? job : null;
    }
}
