using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Tests.Makers;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Ordering;

/// <summary>Jobs small enough to enumerate: one or two parts, two or three suppliers, bars, plates and pieces cut to size, price breaks
/// of both kinds, line minimum, minimum order, delivery, free delivery, leftovers, limited stock, a limit on the suppliers.</summary>
internal static class SmallOrders
{
    private static readonly string[] Names = ["Alder Metals (demo)", "Birch Stock (demo)", "Cedar Supply (demo)"];

    public static Job Random(int seed)
    {
        var random = new Random(seed);
        var parts = Enumerable.Range(0, random.Next(1, 3)).Select(i => Part(
            $"P{i}", random.Next(80, 260), random.Next(20, 44), 10, random.Next(1, 5)) with
        { MayTurn = false }).ToList();
        var stocks = new List<Stock>();
        var suppliers = Names[..random.Next(1, 4)];
        foreach (var name in suppliers)
        {
            var key = name[..1];
            if (random.Next(3) > 0)
            {
                stocks.Add(WithTerms(random, Bar($"{key}-bar", 50, 20, random.Next(4, 10) * 100, random.Next(12, 30)) with { Supplier = name }));
            }

            if (random.Next(3) > 0)
            {
                stocks.Add(WithTerms(random, Plate($"{key}-plate", random.Next(4, 8) * 100, random.Next(10, 20) * 10, 15, random.Next(15, 45)) with { Supplier = name }));
            }

            if (random.Next(3) == 0)
            {
                var part = parts[random.Next(parts.Count)];
                stocks.Add(WithTerms(random, CutPiece(part, $"{key}-cut", random.Next(7, 18)) with { Supplier = name }));
            }
        }

        if (stocks.Count == 0)
        {
            stocks.Add(WithTerms(random, Bar("A-bar", 50, 20, 600, 20) with { Supplier = Names[0] }));
        }

        if (random.Next(2) == 0)
        {
            stocks.Add(Bar("rack-bar", 50, 20, random.Next(200, 500), 3, 1) with { RackMark = "B1", Supplier = null });
        }

        // Plate layouts cost the same however they are cut, so that which counts fit is all that matters of them.
        var saw = PlateSaw with { HourlyRate = 0, ChargePerCut = 0, HandlingMinutes = 0, Trims = default };
        return Job(parts, stocks, BarSaw, saw) with
        {
            Materials = [Aluminium with { ScrapPricePerKilogram = 0 }],
            OffcutRules = [new() { Form = Form.FlatBar, KeepLength = Mm(150), Fraction = random.Next(2) * 0.6m }],
            Suppliers = [.. suppliers.Select(name => Terms(random, name))],
            MostSuppliers = random.Next(3) == 0 ? random.Next(1, suppliers.Length + 1) : null,
        };
    }

    /// <summary>The blank of a part from 15 mm plate, cut to size.</summary>
    private static Stock CutPiece(Part part, string id, decimal price) =>
        Plate(id, part.Length.ToMillimetres() + 3, part.Width.ToMillimetres() + 3, 15, price) with
        {
            CutFor = part.Id,
            CleanEdges = new(true, true, true, true),
        };

    private static Stock WithTerms(Random random, Stock stock)
    {
        var price = stock.PiecePrice.Amount;
        var breaks = new List<PriceBreak>();
        var from = 1;
        for (var step = 0; step < 2 && random.Next(2) == 0; step++)
        {
            from += random.Next(1, 3);
            price = decimal.Round(price * random.Next(60, 96) / 100m, 2);
            breaks.Add(new(from, Money.FromAmount(price)));
        }

        return stock with
        {
            Terms = new()
            {
                Rule = random.Next(2) == 0 ? BreakRule.AllUnits : BreakRule.Incremental,
                Breaks = [.. breaks],
                LineMinimum = random.Next(4) == 0 ? Money.FromAmount(random.Next(20, 60)) : Money.Zero,
            },
            Available = random.Next(6) == 0 ? random.Next(1, 4) : null,
        };
    }

    private static Supplier Terms(Random random, string name) => new()
    {
        Name = name,
        MinimumOrder = random.Next(3) == 0 ? Money.FromAmount(random.Next(20, 90)) : Money.Zero,
        Delivery = random.Next(3) > 0 ? Money.FromAmount(random.Next(5, 30)) : Money.Zero,
        FreeDeliveryFrom = random.Next(2) == 0 ? Money.FromAmount(random.Next(30, 120)) : null,
    };
}
