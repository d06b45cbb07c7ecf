using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Jobs;

/// <summary>What stock a made job has.</summary>
public enum JobClass
{
    Plates,
    Bars,
    Mixed,
}

/// <summary>Tiny jobs from a seed: one to four pieces of one or two kinds, one to three plates or bars, everything on at once.</summary>
public static class TinyJobs
{
    /// <summary>Half of the seeds are plates, a quarter bars, a quarter mixed.</summary>
    public static JobClass ClassOf(int seed) => (seed % 4) switch { 2 => JobClass.Bars, 3 => JobClass.Mixed, _ => JobClass.Plates };

    public static Job Make(int seed)
    {
        var random = new JudgeRandom((ulong)seed);
        var kind = ClassOf(seed);
        var shop = MadeShop.Tiny(random, kind);
        var kinds = random.Percent(55) ? 2 : 1;
        var parts = new List<Part>();
        var left = 4;
        for (var i = 0; i < kinds; i++)
        {
            var pieces = random.From(1, left - (kinds - 1 - i));
            left -= pieces;
            parts.Add(MadeParts.Part(random, shop, $"P{i + 1}", pieces));
        }

        var stocks = new List<Stock>();
        var count = random.From(1, 3);
        for (var i = 0; i < count; i++)
        {
            var bar = kind == JobClass.Bars || (kind == JobClass.Mixed && (i == 0 || (i == 2 && random.Percent(50))));
            stocks.Add(MadeStocks.Stock(random, shop, bar, i + 1, parts));
        }

        if (random.Percent(15) && !shop.Round)
        {
            var cut = MadeStocks.CutToSize(random, shop, parts[0], kind == JobClass.Bars);
            if (cut.Form != Form.Plate || cut.MinThickness <= Length.Min(cut.MinLength, cut.MinWidth))
            {
                // A plate thicker than wide is refused by the lists.
                stocks.Add(cut);
            }
        }

        return shop.Job($"tiny-{seed}", random, parts, stocks);
    }
}
