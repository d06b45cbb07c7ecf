using System.Collections.Immutable;
using Nest.Core.Blanks;
using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Output;

/// <summary>Plans made by a plain shelf rule, to have something to draw: our own shop that makes cargo-bike brackets. Prices and
/// suppliers are invented.</summary>
internal static partial class SamplePlans
{
    public static Length Mm(decimal value) => Length.FromMillimetres(value);

    public static Length In(decimal value) => Length.FromInches(value);

    /// <summary>The ordinary batch: plates, bars, a leftover, a cutter's plate.</summary>
    public static Plan Brackets(LengthUnit unit = LengthUnit.Millimetre)
    {
        var job = Shop("Cargo-bike brackets, batch of 12", unit) with
        {
            Parts =
            [
                Part("head-tube gusset", "6061-T651", 180, 95, 12, 24),
                Part("motor plate left", "6061-T651", 320, 210, 12, 12),
                Part("motor plate right", "6061-T651", 320, 210, 12, 12),
                Part("rack tab", "6061-T651", 80, 45, 12, 48),
                Part("rocker", "6061-T651", 140, 140, 12, 12),
                Part("axle spacer", "304", 38.5m, 30, 30, 60) with { Round = true },
                Part("pivot pin", "304", 92, 30, 30, 36) with { Round = true },
                Part("stay", "S235", 640, 40, 8, 8),
                Part("box floor stiffener", "6061-T651", 260, 120, 6, 4),
            ],
            Stocks =
            [
                Plate("AL12-2x1", "6061-T651", 2000, 1000, 12, 412.5m),
                Plate("R-07", "6061-T651", 900, 520, 12, 60m) with
                {
                    RackMark = "R-07", Place = "rack 2, slot 4", Supplier = null, Available = 1, CleanEdges = new(true, false, true, false),
                    KeepOuts = [new(Mm(700), Mm(400), Mm(80), Mm(60))],
                },
                Bar("RD30", Form.RoundBar, "304", 3000, 30, 30, 78.2m),
                Bar("FL40x8", Form.FlatBar, "S235", 6000, 40, 8, 24.9m),
                Plate("AL6-mill", "6061-T651", 1000, 500, 6, 88m),
            ],
        };
        return Finish(
            job,
            Shelves(job, "AL12-2x1", 2, ["motor plate left", "motor plate right", "rocker", "head-tube gusset"], [6, 6, 6, 12]),
            Shelves(job, "R-07", 1, ["rocker", "rack tab"], [3, 24]),
            Shelves(job, "AL12-2x1", 1, ["rack tab", "rocker"], [24, 3]),
            Row(job, "RD30", 1, [("axle spacer", 60)]),
            Row(job, "RD30", 2, [("pivot pin", 18), ("axle spacer", 2)]),
            Row(job, "FL40x8", 1, [("stay", 8)]),
            Milled(job, "AL6-mill", ("box floor stiffener", 4)));
    }

    /// <summary>An inch shop that reads sixteenths, with sizes that are not whole sixteenths.</summary>
    public static Plan Inches(int fraction = 16)
    {
        var job = Shop("Trailer hitch brackets", LengthUnit.Inch) with
        {
            InchFraction = fraction,
            Currency = "USD",
            Parts =
            [
                Part("cheek", "A36", 0, 0, 0, 8) with { Length = In(8.625m), Width = In(5.5m), Thickness = In(0.5m) },
                Part("tongue", "A36", 0, 0, 0, 4) with { Length = In(14.3m), Width = In(3.77m), Thickness = In(0.5m) },
                Part("pin", "1018", 0, 0, 0, 14) with { Length = In(4.25m), Width = In(1m), Thickness = In(1m), Round = true },
            ],
            Stocks =
            [
                Plate("PL1/2-48x24", "A36", 0, 0, 0, 96m) with { Length = In(48), Width = In(24), Thickness = In(0.5m), MinLength = In(48), MinWidth = In(24), MinThickness = In(0.49m) },
                Bar("RD1", Form.RoundBar, "1018", 0, 0, 0, 31m) with { Length = In(144), Width = In(1), Thickness = In(1), MinLength = In(144), MinWidth = In(1), MinThickness = In(1) },
            ],
        };
        return Finish(job, Shelves(job, "PL1/2-48x24", 1, ["tongue", "cheek"], [4, 8]), Row(job, "RD1", 1, [("pin", 14)]));
    }

    /// <summary>Three hundred small pieces on one plate.</summary>
    public static Plan ManySmall()
    {
        var parts = Enumerable.Range(1, 12).Select(n => Part($"clip {n:00}", "6061-T651", 20 + (n * 3), 14 + n, 12, 25)).ToImmutableArray();
        var job = Shop("Stress: 300 small pieces", LengthUnit.Millimetre) with
        {
            Parts = parts,
            Stocks = [Plate("AL12-2x1", "6061-T651", 2000, 1000, 12, 412.5m)],
        };
        return Finish(job, Shelves(job, "AL12-2x1", 1, [.. parts.Select(part => part.Id)], [.. parts.Select(_ => 25)]));
    }

    /// <summary>One huge piece and one tiny one.</summary>
    public static Plan HugeAndTiny()
    {
        var job = Shop("Stress: huge and tiny", LengthUnit.Millimetre) with
        {
            Parts = [Part("base", "S355", 2850, 1400, 30, 1), Part("shim", "S355", 12, 9, 30, 1)],
            Stocks = [Plate("S30-3x15", "S355", 3000, 1500, 30, 1890m)],
        };
        return Finish(job, Shelves(job, "S30-3x15", 1, ["base", "shim"], [1, 1]));
    }

    /// <summary>Very long names in Greek and Chinese, one that looks like a formula, and characters that no font has.</summary>
    public static Plan LongNames()
    {
        string[] names =
        [
            "Βραχίονας στήριξης κινητήρα φορτηγού ποδηλάτου αριστερός, τελική έκδοση",
            "货运自行车电机安装支架左侧加强板第三版最终稿",
            "=HYPERLINK(\"x\") bracket",
            "a-name-without-any-blank-that-goes-on-and-on-and-on-for-much-longer-than-it-should",
            "odd \U0001F6B2 \uA66E mark",
            "κόμβος",
        ];
        var parts = names.Select((name, n) => Part(name, "Mg-AZ31B", 300 - (n * 35), 160 - (n * 18), 10, 6)).ToImmutableArray();
        var job = Shop("Μεγάλα ονόματα 很长的名字 and a job name that is itself far too long to go into any title block", LengthUnit.Millimetre) with
        {
            Parts = parts,
            Stocks = [Plate("MG10-15x1", "Mg-AZ31B", 1500, 1000, 10, 612m)],
        };
        return Finish(job, Shelves(job, "MG10-15x1", 3, [.. names], [.. names.Select(_ => 5)]));
    }

    /// <summary>More than a hundred different parts on one plate.</summary>
    public static Plan HundredParts()
    {
        var parts = Enumerable.Range(1, 110).Select(n => Part($"bracket {n:000}", "6061-T651", 60 + (n * 37 % 90), 40 + (n * 53 % 60), 12, 1)).ToImmutableArray();
        var job = Shop("Stress: 110 parts", LengthUnit.Millimetre) with
        {
            Parts = parts,
            Stocks = [Plate("AL12-2x1", "6061-T651", 2000, 1000, 12, 412.5m)],
        };
        return Finish(job, Shelves(job, "AL12-2x1", 1, [.. parts.OrderByDescending(part => part.Width.Nanometres).Select(part => part.Id)], [.. parts.Select(_ => 1)]));
    }

    /// <summary>A frame of mitred flat bar: both ends leaning in, one end only, and ends that lean across the thickness.</summary>
    public static Plan Mitred()
    {
        var job = Shop("Cargo box frame", LengthUnit.Millimetre) with
        {
            Parts =
            [
                Part("long side", "S235", 620, 40, 8, 4) with { Ends = new(Angle.FromDegrees(45), Angle.FromDegrees(45)) },
                Part("brace", "S235", 410, 40, 8, 4) with { Ends = new(Angle.FromDegrees(22.5m), Angle.FromDegrees(-22.5m)) },
                Part("foot", "S235", 180, 40, 8, 3) with { Ends = new(Angle.Square, Angle.FromDegrees(-30)) },
                Part("lid stay", "S235", 300, 40, 8, 3) with { Ends = new(Angle.FromDegrees(45), Angle.FromDegrees(-45), true) },
            ],
            Stocks = [Bar("FL40x8", Form.FlatBar, "S235", 6000, 40, 8, 24.9m)],
        };
        return Finish(job, Row(job, "FL40x8", 1, [("long side", 4), ("brace", 4), ("foot", 3), ("lid stay", 3)]));
    }

    /// <summary>The ordinary batch bought from two suppliers: one with a smallest order and another currency, one with free delivery.</summary>
    public static Plan Ordered()
    {
        var plan = Brackets();
        var job = plan.Job with
        {
            WantedInDays = 8,
            Suppliers =
            [
                new() { Name = "Halmetall (invented)", MinimumOrder = Money.FromAmount(400), Delivery = Money.FromAmount(35), FreeDeliveryFrom = Money.FromAmount(4000), LeadDays = 3 },
                new() { Name = "Stangen Ost (invented)", MinimumOrder = Money.FromAmount(900), Delivery = Money.FromAmount(18), LeadDays = 6, CutPlus = Mm(1), Currency = "GBP", Rate = 1.16m },
            ],
            Stocks =
            [
                .. plan.Job.Stocks.Select(stock => stock.Form.IsBar() ? stock with { Supplier = "Stangen Ost (invented)" } : stock).Select(stock => stock.Id == "FL40x8"
                    ? stock with { CutFor = "stay" } : stock),
            ],
        };
        return plan with { Job = job, Orders = Purchasing.Orders(job, plan.Layouts) };
    }

    public static IEnumerable<(string Name, Plan Plan)> All()
    {
        yield return ("brackets", Brackets());
        yield return ("inches", Inches());
        yield return ("many", ManySmall());
        yield return ("huge", HugeAndTiny());
        yield return ("names", LongNames());
        yield return ("hundred", HundredParts());
        yield return ("mitred", Mitred());
        yield return ("ordered", Ordered());
    }
}
