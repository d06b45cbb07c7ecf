using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Jobs;

/// <summary>Stock of a made job: bought with all kinds of terms, or a leftover with clean edges, damage and any value.</summary>
internal static class MadeStocks
{
    private const decimal Density = 2700;

    public static Stock Stock(JudgeRandom random, MadeShop shop, bool bar, int number, IReadOnlyList<Part> parts)
    {
        var leftover = random.Percent(50);
        var damaged = !bar && leftover && random.Percent(30);
        var thickness = shop.Thickness + random.Pick(0m, 0m, 2m);
        var stock = bar ? Bar(random, shop, number, thickness, parts) : Plate(random, shop, number, thickness, damaged);
        if (random.Percent(20))
        {
            stock = stock with { Length = stock.Length + MadeShop.Mm(random.From(1, 4)), MinThickness = stock.Thickness - MadeShop.Mm(0.2m) };
        }

        stock = stock with { GoodFaces = random.Percent(20) };
        return leftover ? Leftover(random, shop, stock, damaged) : Bought(random, shop, stock);
    }

    /// <summary>A piece that comes as the blank of this part.</summary>
    public static Stock CutToSize(JudgeRandom random, MadeShop shop, Part part, bool bar)
    {
        var side = shop.Allowances.SideCleanUp * 2;
        var along = bar ? part.Length + ((part.Allowances?.EndCleanUp ?? shop.Allowances.EndCleanUp) * 2) : part.Length + side;
        var width = bar ? MadeShop.Mm(shop.BarWidth) : part.Width + side;
        var stock = New($"C1 cut for {part.Id}", bar ? Form.FlatBar : Form.Plate, along, width, MadeShop.Mm(shop.Thickness)) with
        {
            CutFor = part.Id,
            CleanEdges = new(true, true, true, true),
        };
        return Bought(random, shop, stock with { PiecePrice = Price(shop, stock, 1.6m) + Money.FromAmount(random.Pick(0m, 1m, 2.5m)) }, false);
    }

    private static Stock Bar(JudgeRandom random, MadeShop shop, int number, decimal thickness, IReadOnlyList<Part> parts)
    {
        var length = random.From(12, 60) * 10 + random.Pick(0m, 0m, 3.5m);
        if (shop.Round)
        {
            return New($"B{number}", Form.RoundBar, MadeShop.Mm(length), MadeShop.Mm(thickness), MadeShop.Mm(thickness));
        }

        // Mostly wide enough for the parts, now and then just as wide as one.
        var part = parts[random.Below(parts.Count)];
        var width = random.Percent(50)
            ? part.Width.ToMillimetres() + (part.MillSides ? 0m : shop.Allowances.SideCleanUp.ToMillimetres() * 2)
            : Math.Max(shop.BarWidth, parts.Max(one => one.Width.ToMillimetres()) + 2m);
        return New($"B{number}", Form.FlatBar, MadeShop.Mm(length), MadeShop.Mm(Math.Max(width, thickness)), MadeShop.Mm(thickness));
    }

    private static Stock Plate(JudgeRandom random, MadeShop shop, int number, decimal thickness, bool damaged)
    {
        var (x, y) = shop.Cutter ? (random.From(6, 12), random.From(4, 8))
            : damaged ? (random.From(8, 20), random.From(6, 14)) : (random.From(10, 44), random.From(7, 30));
        var least = (int)decimal.Ceiling(thickness / shop.Unit);
        return New($"S{number}", Form.Plate, shop.Units(Math.Max(x, least)), shop.Units(Math.Max(y, least)), MadeShop.Mm(thickness));
    }

    private static Stock Leftover(JudgeRandom random, MadeShop shop, Stock stock, bool damaged)
    {
        var scrap = Mass(stock) * shop.ScrapPrice;
        var metal = Mass(stock) * shop.MetalPrice;
        var value = random.Below(6) switch
        {
            0 => 0m,
            1 => scrap / 2,
            2 => decimal.Floor(scrap * 10_000m) / 10_000m,
            3 => metal * 0.6m,
            4 => metal * 0.9m,
            _ => Math.Max(scrap, metal * random.From(1, 9) / 10m),
        };
        return stock with
        {
            PiecePrice = Money.FromAmount(value),
            RackMark = stock.Id,
            Supplier = null,
            Available = 1,
            CleanEdges = new(random.Percent(50), random.Percent(50), random.Percent(50), random.Percent(50)),
            KeepOuts = damaged ? [.. Enumerable.Range(0, random.From(1, 2)).Select(_ => Damage(random, shop, stock))] : [],
        };
    }

    private static Rect Damage(JudgeRandom random, MadeShop shop, Stock stock)
    {
        var across = (int)(stock.MinWidth.ToMillimetres() / shop.Unit);
        var along = (int)(stock.MinLength.ToMillimetres() / shop.Unit);
        var (sizeX, sizeY) = (random.From(1, 3), random.From(1, 3));
        return new(
            shop.Units(random.From(0, along - sizeX)), shop.Units(random.From(0, across - sizeY)), shop.Units(sizeX), shop.Units(sizeY));
    }

    private static Stock Bought(JudgeRandom random, MadeShop shop, Stock stock, bool priced = true)
    {
        var price = priced ? Price(shop, stock, random.From(8, 14) / 10m) : stock.PiecePrice;
        var breaks = new List<PriceBreak>();
        var (from, lower) = (1, price);
        for (var step = 0; step < 2 && random.Percent(25); step++)
        {
            from += random.From(1, 2);
            lower = Money.FromAmount(decimal.Round(lower.Amount * random.From(80, 97) / 100m, 2));
            breaks.Add(new(from, lower));
        }

        return stock with
        {
            PiecePrice = price,
            UnitPrice = price.Amount,
            Supplier = MadeShop.Seller(random),
            Available = random.Percent(25) ? random.From(1, 3) : null,
            Terms = new()
            {
                Rule = random.Pick(BreakRule.AllUnits, BreakRule.Incremental),
                Breaks = [.. breaks],
                LineMinimum = random.Percent(12) ? Money.FromAmount(random.From(2, 12)) : Money.Zero,
            },
        };
    }

    private static Money Price(MadeShop shop, Stock stock, decimal factor) =>
        Money.FromAmount(decimal.Round(Mass(stock) * shop.MetalPrice * factor, 2) + 0.05m);

    private static decimal Mass(Stock stock) =>
        stock.Length.ToMetres() * stock.Width.ToMetres() * stock.Thickness.ToMetres() * Density;

    private static Stock New(string id, Form form, Length length, Length width, Length thickness) => new()
    {
        Id = id, Form = form, MaterialId = MadeShop.MaterialId, Length = length, Width = width, Thickness = thickness,
        MinLength = length, MinWidth = width, MinThickness = thickness, PiecePrice = Money.Zero,
    };
}
