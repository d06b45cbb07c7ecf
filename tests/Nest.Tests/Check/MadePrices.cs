using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Small plans with every kind of price: made layouts, priced by the planner's own cost model. One number gives one plan.</summary>
/// <remarks>Plates, a leftover, bars (mitred struts too) and a cutter's sheet; terms of suppliers, price breaks, fuss, rates by family, offcut rules whose
/// limits are the very sizes of offcuts.</remarks>
internal static class MadePrices
{
    public static Plan Plan(int seed)
    {
        var job = Terms(new Random(seed));
        var layouts = Layouts(job, new Random(seed));
        job = job with { OffcutRules = Rules(layouts, new Random(seed + 1)) };
        layouts = Layouts(job, new Random(seed));
        var placed = layouts.SelectMany(layout => layout.Pieces.Select(piece => (piece.PartId, layout.Count))).ToLookup(entry => entry.PartId, entry => entry.Count);
        job = job with { Parts = [.. job.Parts.Select(part => part with { Quantity = placed[part.Id].Sum() })] };
        return TestPlan.Of(job, layouts);
    }

    /// <summary>The same with some pieces as free spares, where nothing is kept: whatever they lie in is scrap.</summary>
    public static Plan WithSpares(int seed)
    {
        var random = new Random(seed);
        var made = Plan(seed);
        var job = made.Job with { OffcutRules = [], Fuss = made.Job.Fuss with { FurtherSizeMinutes = 0m } };
        var layouts = Layouts(job with { OffcutRules = [] }, new Random(seed)).Select(layout => layout with
        {
            Pieces = [.. layout.Pieces.Select((piece, at) => piece with { Spare = at > 0 && random.Next(2) == 0 })],
        }).ToImmutableArray();
        var spares = layouts.SelectMany(layout => layout.Pieces.Select(piece => (piece.PartId, piece.Spare, layout.Count))).ToLookup(entry => (entry.PartId, entry.Spare), entry => entry.Count);
        job = job with { Parts = [.. job.Parts.Select(part => part with { Quantity = spares[(part.Id, false)].Sum(), FreeSpares = spares[(part.Id, true)].Sum() })] };
        var plan = TestPlan.Of(job, layouts);
        var bare = SparesOut.Of(job, plan.Layouts);
        var total = CostSheet.Total(job, bare);
        return plan with { TotalCost = total, SpareCost = plan.TotalCost - total, PartCosts = CostSheet.PartCosts(job, BlankSizer.Size(job), bare), Bound = Bound.Of(total, "a test") };
    }

    private static Job Terms(Random random)
    {
        bool Maybe() => random.Next(2) == 0;
        decimal Minutes() => random.Next(3) == 0 ? 0m : random.Next(1, 60) / 7m;
        Money Amount(int most) => Money.FromUnits(random.Next(0, most) * 1237L);
        PriceTerms Breaks(Money price) => random.Next(3) == 0 ? PriceTerms.None : new()
        {
            Rule = Maybe() ? BreakRule.AllUnits : BreakRule.Incremental,
            Breaks = [new(2, Money.FromUnits(price.Units * 19 / 20)), new(random.Next(3, 6), Money.FromUnits(price.Units * 16 / 20))],
            LineMinimum = Maybe() ? Money.Zero : Amount(2000),
        };
        Stock Sold(Stock stock, string? by) => stock with { Terms = Breaks(stock.PiecePrice), Supplier = by };
        Saw Rated(Saw saw) => saw with
        {
            LoadMinutes = Minutes(),
            SettingMinutes = Minutes(),
            HandlingMinutes = Minutes(),
            HourlyRate = random.Next(20, 90),
            ChargePerCut = random.Next(0, 30) / 90m,
            CutRates = Maybe() ? [] : [new("steel", 11m), new("Aluminium", random.Next(40, 120))],
        };

        var square = new AllowanceOverrides { EndCleanUp = Length.Zero, SideCleanUp = Length.Zero, FaceTop = Length.Zero, FaceBottom = Length.Zero };
        var plate = Plate("plate", 1020, 420, 15, random.Next(20, 300));
        var free = random.Next(8) == 0;
        return Job(
            [
                Flat("lid", 196, 96, 12) with { Forms = Forms.Plate }, Flat("rib", 96, 96, 12) with { Forms = Forms.Plate },
                Flat("foot", 98, 34, 16) with { Forms = Forms.FlatBar }, Flat("leg", 198, 34, 16) with { Forms = Forms.FlatBar },
                Flat("strut", 300, 40, 20) with { Forms = Forms.FlatBar, MayTurn = false, MillFaces = true, MillSides = true, Allowances = square, Ends = new(Angle.FromDegrees(45), Angle.FromDegrees(-30)) },
            ],
            [
                Sold(plate with { PiecePrice = free ? Money.Zero : plate.PiecePrice }, Maybe() ? "Dema" : null), Leftover("R1", 620, 320, 15, random.Next(1, 40)),
                Sold(Plate("thick", 1020, 420, 18, random.Next(20, 300)), "dema"),
                Sold(Bar("bar", Form.FlatBar, 40, 20, 1416, random.Next(5, 60)) with { GoodFaces = true, CleanEdges = new(Maybe(), false, false, false) }, "Elsa"),
            ],
            Rated(PlateSaw with { Trims = Maybe() ? PlateSaw.Trims : new(Mm(4), Mm(10), Mm(4), Mm(3)) }), Rated(BarSaw)) with
        {
            Unit = Maybe() ? LengthUnit.Millimetre : LengthUnit.Inch,
            Materials = [Aluminium with { ScrapPricePerKilogram = random.Next(4) == 0 ? 40m : random.Next(0, 30) / 10m }, Steel],
            Mill = new() { HourlyRate = 90m, DefaultRemovalRate = 30m, RemovalRates = Maybe() ? [] : [new("steel", 7m), new("ALUMINIUM", 44m)] },
            Fuss = Maybe() ? Fuss.None : new() { HourlyRate = 45m, OrderLineMinutes = Minutes(), SupplierMinutes = Minutes(), FurtherSizeMinutes = Minutes() },
            Suppliers = Maybe() ? [] : [new() { Name = "DEMA", MinimumOrder = Amount(5000), Delivery = Amount(300), FreeDeliveryFrom = Maybe() ? null : Amount(7000) }],
        };
    }

    private static ImmutableArray<Layout> Layouts(Job job, Random random)
    {
        var layouts = ImmutableArray.CreateBuilder<Layout>();
        foreach (var stock in job.Stocks)
        {
            for (var more = random.Next(stock.Id == "R1" ? 2 : 3); more > 0; more--)
            {
                var count = stock.IsLeftover ? 1 : random.Next(1, 7);
                layouts.Add(stock.Form == Form.Plate ? OnPlate(job, stock, random, count) : OnBar(job, stock, random, count));
            }
        }

        // Bought whole for the rack beside what is cut.
        if (random.Next(3) == 0 && layouts.Count > 0 && job.OffcutRules.Any(rule => rule.KeepLength <= Mm(1020) && rule.KeepWidth <= Mm(420) && rule is { Form: null or Form.Plate, MaterialId: null }))
        {
            var whole = TestPlan.OnSaw(job, "plate", (_, tree) => tree.Rest(new(Length.Zero, Length.Zero, Mm(1020), Mm(420)))) with { Trims = default };
            if (whole.Offcuts[0].Keep)
            {
                layouts.Add(whole);
            }
        }

        return layouts.Count == 0 ? [OnBar(job, job.Stocks[3], random, 1)] : layouts.ToImmutable();
    }

    /// <summary>One or two strips of 100 and what is left of the plate.</summary>
    private static Layout OnPlate(Job job, Stock stock, Random random, int count)
    {
        var strips = Enumerable.Range(0, random.Next(1, 3)).Select(_ => (Lids: random.Next(3), Ribs: random.Next(3), Turned: random.Next(2) == 0)).ToList();
        strips = strips.ConvertAll(strip => strip.Lids + strip.Ribs == 0 ? (1, 0, false) : strip);
        return TestPlan.OnSaw(job, stock.Id, (usable, tree) => tree.Split(usable, CutDirection.Rip, [.. strips.Select<(int Lids, int Ribs, bool Turned), Func<Func<decimal, Rect>, CutNode>>(
            strip => take => tree.Split(take(100), CutDirection.Crosscut, [.. tree.Row("lid", 200, strip.Lids), .. tree.Row("rib", 100, strip.Ribs, strip.Turned)]))]), count);
    }

    private static Layout OnBar(Job job, Stock stock, Random random, int count)
    {
        var struts = random.Next(3);
        var (legs, feet) = (random.Next(2), random.Next(struts == 0 ? 1 : 0, 3));
        var strut = BlankSizer.Size(job).Single(blank => blank.Part.Id == "strut").Fits.Single(fit => fit.StockId == stock.Id);
        var layout = TestPlan.OnSaw(job, stock.Id, (usable, tree) => tree.Split(usable, CutDirection.Crosscut, [
            .. tree.Row("strut", strut.SizeX.ToMillimetres(), struts), .. tree.Row("leg", 200, legs), .. tree.Row("foot", 100, Math.Max(feet, struts + legs == 0 ? 1 : 0))]), count);
        return layout with { Pieces = [.. layout.Pieces.Select(piece => piece.PartId == "strut" ? piece with { Ends = strut.Ends } : piece)] };
    }

    /// <summary>Rules with the very sizes of an offcut as limits; some are for other forms and materials.</summary>
    private static ImmutableArray<OffcutRule> Rules(ImmutableArray<Layout> layouts, Random random)
    {
        var sizes = layouts.SelectMany(layout => layout.Offcuts).Select(offcut => offcut.Area).DefaultIfEmpty(Box(0, 0, 300, 100)).ToList();
        var some = sizes[random.Next(sizes.Count)];
        var (longer, shorter) = some.SizeX >= some.SizeY ? (some.SizeX, some.SizeY) : (some.SizeY, some.SizeX);
        var rule = new OffcutRule { KeepLength = longer, KeepWidth = shorter, Fraction = random.Next(2, 9) / 10m, LeftoverFraction = random.Next(5, 10) / 10m };
        return random.Next(6) switch
        {
            0 => [],
            1 => [rule with { Form = Form.FlatBar }],
            2 => [rule with { MaterialId = "s235", Fraction = 0.9m }, rule],
            3 => [rule with { Form = Form.RoundBar, Fraction = 0.9m }, rule with { KeepLength = shorter, KeepWidth = shorter }],
            4 => [rule with { KeepWidth = Length.Zero }],
            _ => [rule],
        };
    }
}
