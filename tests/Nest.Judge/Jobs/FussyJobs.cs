using Nest.Core.Jobs;

namespace Nest.Judge.Jobs;

/// <summary>Tiny jobs with what the owner of a shop minds: fuss has a price, and parts keep to one stock or one size.</summary>
/// <remarks>The tiny job of the same seed, with draws of their own on top, so that a seed means the same metal in both. Where it has only one
/// stock a second one, thicker, is put to it: else there is nothing to choose.</remarks>
public static class FussyJobs
{
    public static Job Make(int seed)
    {
        var job = TinyJobs.Make(seed);
        var random = new JudgeRandom((ulong)seed + 1_000_003);
        var stocks = job.Stocks;
        if (random.Percent(60) && stocks.FirstOrDefault(stock => stock is { Form: Form.Plate, CutFor: null, IsLeftover: false }) is { } plate)
        {
            var thicker = MadeShop.Mm(random.Pick(2m, 5m));
            stocks = stocks.Add(plate with
            {
                Id = plate.Id + "-thick",
                Thickness = plate.Thickness + thicker,
                MinThickness = plate.MinThickness + thicker,
                PiecePrice = Core.Quantities.Money.FromAmount(decimal.Round(plate.PiecePrice.Amount * random.Pick(0.9m, 1m, 1.1m, 1.3m), 2)),
                UnitPrice = 0m,
                PriceBasis = PriceBasis.Piece,
                Terms = PriceTerms.None,
            });
        }

        return job with
        {
            Name = $"fussy-{seed}",
            Stocks = stocks,
            Saws = [.. job.Saws.Select(saw => saw with { LoadMinutes = random.Pick(0m, 1m, 3m, 8m) })],
            Fuss = new()
            {
                HourlyRate = random.Pick(0m, 30m, 48m),
                OrderLineMinutes = random.Pick(0m, 2m, 5m),
                SupplierMinutes = random.Pick(0m, 5m, 20m),
                FurtherSizeMinutes = random.Pick(0m, 0m, 2m, 10m, 30m),
            },
            Parts = [.. job.Parts.Select(part => part with { OneStock = random.Percent(15), OneSize = random.Percent(20) })],
        };
    }
}
