using Nest.Core.Jobs;

namespace Nest.Judge.Jobs;

/// <summary>Tiny jobs in which a setting of fence or stop has a price.</summary>
/// <remarks>The tiny job of the same seed, with draws of their own on top. An hour at the saw is never free: else a setting would not be either.</remarks>
public static class SettledJobs
{
    public static Job Make(int seed)
    {
        var job = TinyJobs.Make(seed);
        var random = new JudgeRandom((ulong)seed + 2_000_003);
        return job with
        {
            Name = $"settled-{seed}",
            Saws = [.. job.Saws.Select(saw => saw with
            {
                SettingMinutes = random.Pick(0.5m, 1m, 2m, 5m), HourlyRate = saw.HourlyRate == 0m ? 42m : saw.HourlyRate, LoadMinutes = random.Pick(0m, 1m, 3m),
            })],
        };
    }
}
