using Nest.Core.Jobs;

namespace Nest.Judge.Jobs;

/// <summary>Small jobs from a seed: 5 to 12 pieces of up to four kinds, up to three plates (or bars); all else as in <see cref="TinyJobs"/>.</summary>
public static class SmallJobs
{
    public static Job Make(int seed)
    {
        var random = new JudgeRandom((ulong)seed ^ 0x5A11UL << 32);
        var kind = TinyJobs.ClassOf(seed);
        var shop = MadeShop.Tiny(random, kind) with { MostSuppliers = null };
        var kinds = random.From(2, 4);
        var left = random.From(Math.Max(5, kinds), 12);
        var parts = new List<Part>();
        for (var i = 0; i < kinds; i++)
        {
            var later = kinds - 1 - i;
            var pieces = later == 0 ? left : random.From(1, Math.Max(1, Math.Min(left - later, 6)));
            left -= pieces;
            parts.Add(MadeParts.Part(random, shop, $"P{i + 1}", pieces));
        }

        var stocks = new List<Stock>();
        for (var i = 0; i < 3; i++)
        {
            var bar = kind == JobClass.Bars || (kind == JobClass.Mixed && i == 0);
            var stock = MadeStocks.Stock(random, shop, bar, i + 1, parts);

            // One kind at least can be bought as often as wanted.
            stocks.Add(i == 2 && !stock.IsLeftover ? stock with { Available = null } : stock);
        }

        return shop.Job($"small-{seed}", random, parts, stocks);
    }
}
