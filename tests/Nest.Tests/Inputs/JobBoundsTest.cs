using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Inputs;

/// <summary>Values of a job at the last one that is allowed and the first that is not, each by itself.</summary>
public sealed class JobBoundsTest
{
    private static readonly Length Below = Length.FromNanometres(-1);
    private static readonly Money Debt = Money.FromUnits(-1);

    /// <summary>What is changed, how, and the rule that refuses it; empty: none does.</summary>
    public static TheoryData<string, Func<Job, Job>, string> Cases() => new()
    {
        { "as it is", job => job, "" },
        { "one supplier", job => job with { MostSuppliers = 1 }, "" },
        { "a mill for nothing", job => job with { Mill = job.Mill with { HourlyRate = 0m } }, "" },
        { "a mill that removes no steel", job => job with { Mill = job.Mill with { RemovalRates = [new("aluminium", 30m), new("steel", 0m)] } }, "mill-rate" },
        { "a supplier of zeros", job => Dealer(job, one => one with { FreeDeliveryFrom = Money.Zero }), "" },
        { "smallest order", job => Dealer(job, one => one with { MinimumOrder = Debt }), "negative-price" },
        { "free delivery", job => Dealer(job, one => one with { FreeDeliveryFrom = Debt }), "negative-price" },
        { "charge of a piece", job => Dealer(job, one => one with { CutPieceCharge = Debt }), "negative-price" },
        { "scrap for nothing", job => job with { Materials = [Aluminium with { ScrapPricePerKilogram = 0m }, Steel] }, "" },
        { "no length", job => Bracket(job, one => one with { Length = Length.Zero }), "part-size" },
        { "no thickness", job => Bracket(job, one => one with { Thickness = Length.Zero }), "part-size" },
        { "fewer than none", job => Bracket(job, one => one with { Quantity = -1, Extra = 5 }), "quantity" },
        { "spares below zero", job => Bracket(job, one => one with { Extra = -1 }), "quantity" },
        { "one", job => Bracket(job, one => one with { Quantity = 1 }), "" },
        { "one spare alone", job => Bracket(job, one => one with { Quantity = 0, Extra = 1 }), "" },
        { "a million", job => Bracket(job, one => one with { Quantity = 999_999, Extra = 1 }), "" },
        { "a million and one", job => Bracket(job, one => one with { Quantity = 1_000_000, Extra = 1 }), "quantity" },
        { "a million and one by sets", job => Bracket(job with { Batch = 2 }, one => one with { Quantity = 500_000, Extra = 1 }), "quantity" },
        { "free spares below zero", job => Bracket(job, one => one with { FreeSpares = -1 }), "free-spares" },
        { "a million free spares", job => Bracket(job, one => one with { FreeSpares = 1_000_000 }), "" },
        { "a million and one free spares", job => Bracket(job, one => one with { FreeSpares = 1_000_001 }), "free-spares" },
        { "free spares of gang blanks", job => Bracket(job, one => one with { FreeSpares = 1, PerBlank = new() { Counts = [1] } }), "free-spares" },
        { "gang blanks without free spares", job => Bracket(job, one => one with { PerBlank = new() { Counts = [1] } }), "" },
        { "side", job => Bracket(job, one => one with { Allowances = new() { SideCleanUp = Below } }), "negative-allowance" },
        { "end", job => Bracket(job, one => one with { Allowances = new() { EndCleanUp = Below } }), "negative-allowance" },
        { "bottom", job => Bracket(job, one => one with { Allowances = new() { FaceBottom = Below } }), "negative-allowance" },
        { "grip", job => Bracket(job, one => one with { Allowances = new() { Grip = Below } }), "negative-allowance" },
        { "no allowance", job => Bracket(job, one => one with { Allowances = new() { SideCleanUp = Length.Zero, EndCleanUp = Length.Zero, FaceTop = Length.Zero, FaceBottom = Length.Zero, Grip = Length.Zero } }), "" },
        { "none from one blank", job => Bracket(job, one => one with { PerBlank = new() { Counts = [0, 2], Gap = Mm(5) } }), "per-blank" },
        { "a gap below zero", job => Bracket(job, one => one with { PerBlank = new() { Counts = [1], Gap = Below } }), "per-blank" },
        { "two with a gap", job => Bracket(job, one => one with { PerBlank = new() { Counts = [1, 2], Gap = Mm(5) } }), "" },
        { "any number, and the travel is known", job => Bracket(job with { Mill = job.Mill with { TravelX = Mm(900) } }, one => one with { PerBlank = new() { Gap = Mm(5) } }), "" },
        { "any number, and the other travel is known", job => Bracket(job with { Mill = job.Mill with { TravelY = Mm(900) } }, one => one with { PerBlank = new() { Gap = Mm(5) } }), "" },
        { "any number, and the vise is known", job => Bracket(job with { Mill = job.Mill with { ViseOpening = Mm(900) } }, one => one with { PerBlank = new() { Gap = Mm(5) } }), "" },
        { "any number without a gap", job => Bracket(job with { Mill = job.Mill with { ViseOpening = Mm(900) } }, one => one with { PerBlank = new() }), "per-blank" },
        { "round gang blanks", job => job with { Parts = [Round("pin", 20, 50) with { PerBlank = new() { Counts = [2], Gap = Mm(5) } }] }, "per-blank" },
        { "no smallest length", job => Sheet(job, one => one with { MinLength = Length.Zero }), "stock-size" },
        { "no smallest width", job => Sheet(job, one => one with { MinWidth = Length.Zero }), "stock-size" },
        { "smallest width above", job => Sheet(job, one => one with { MinWidth = Mm(1001) }), "stock-size" },
        { "smallest thickness above", job => Sheet(job, one => one with { MinThickness = Mm(15.1m) }), "stock-size" },
        { "as large as nominal", job => Sheet(job, one => one with { MinThickness = one.Thickness }), "" },
        { "a flat bar as thick as wide", job => job with { Stocks = [.. job.Stocks, Bar("square", Form.FlatBar, 20, 20)] }, "" },
        { "a square bar that is none", job => job with { Stocks = [.. job.Stocks, Bar("square", Form.SquareBar, 20, 21)] }, "stock-size" },
        { "a break from one on", job => Sheet(job, one => one with { Terms = new() { Breaks = [new(1, Money.FromAmount(190))] } }), "price-breaks" },
        { "breaks from two on", job => Sheet(job, one => one with { Terms = new() { Breaks = [new(2, Money.FromAmount(190)), new(3, Money.FromAmount(180))] } }), "" },
        { "breaks that fall", job => Sheet(job, one => one with { Terms = new() { Breaks = [new(2, Money.FromAmount(190)), new(5, Money.FromAmount(180)), new(4, Money.FromAmount(170))] } }), "price-breaks" },
        { "none there", job => Sheet(job, one => one with { Available = 0 }), "" },
        { "a leftover for nothing", job => job with { Stocks = job.Stocks.SetItem(1, job.Stocks[1] with { PiecePrice = Money.Zero }) }, "" },
        { "left trim", job => Blade(job, one => one with { Trims = one.Trims with { Left = Below } }), "negative-size" },
        { "right trim", job => Blade(job, one => one with { Trims = one.Trims with { Right = Below } }), "negative-size" },
        { "bottom trim", job => Blade(job, one => one with { Trims = one.Trims with { Bottom = Below } }), "negative-size" },
        { "top trim", job => Blade(job, one => one with { Trims = one.Trims with { Top = Below } }), "negative-size" },
        { "held below zero", job => Blade(job, one => one with { ShortestHeld = Below }), "negative-size" },
        { "no trims", job => Blade(job, one => one with { Trims = default }), "" },
        { "a saw that cuts no steel", job => Blade(job, one => one with { CutRates = [new("aluminium", 90m), new("steel", 0m)] }), "cut-rate" },
        { "charge of a cut", job => Blade(job, one => one with { ChargePerCut = -0.1m }), "negative-rate" },
        { "minutes of a cut", job => Blade(job, one => one with { HandlingMinutes = -0.1m }), "negative-rate" },
        { "minutes of a setting", job => Blade(job, one => one with { SettingMinutes = -0.1m }), "negative-rate" },
        { "minutes to load", job => Blade(job, one => one with { LoadMinutes = -0.1m }), "negative-rate" },
        { "a saw for nothing", job => Blade(job, one => one with { HourlyRate = 0m, ChargePerCut = 0m, HandlingMinutes = 0m, SettingMinutes = 0m, LoadMinutes = 0m }), "" },
        { "one piece of a bar", job => job with { Saws = [PlateSaw with { Stages = 1 }, BarSaw with { MostPieces = 1 }] }, "" },
        { "no piece of a bar", job => job with { Saws = [PlateSaw, BarSaw with { MostPieces = 0 }] }, "saw-limit" },
        { "no cut at all", job => Blade(job, one => one with { LargestCut = Length.Zero }), "saw-limit" },
        { "no thickness taken", job => Blade(job, one => one with { LargestThickness = Length.Zero }), "saw-limit" },
        { "no room for stock", job => Blade(job, one => one with { LongestStock = Length.Zero }), "saw-limit" },
        { "room for the sheet", job => Blade(job, one => one with { LongestStock = Mm(2000) }), "" },
        { "offcuts worth nothing", job => job with { OffcutRules = [Keep with { Fraction = 0m, LeftoverFraction = 0m, KeepWidth = Length.Zero }] }, "" },
        { "offcuts worth less than nothing", job => job with { OffcutRules = [Keep with { Fraction = -0.1m }] }, "offcut-fraction" },
        { "a leftover's offcuts worth all of it", job => job with { OffcutRules = [Keep with { LeftoverFraction = 1m }] }, "offcut-fraction" },
        { "a leftover's offcuts worth less than nothing", job => job with { OffcutRules = [Keep with { LeftoverFraction = -0.1m }] }, "offcut-fraction" },
        { "kept from below zero wide", job => job with { OffcutRules = [Keep with { KeepWidth = Below }] }, "offcut-size" },

        // 2 × 1 × 0.015 m³ at 2700 kg/m³ and 1.20 are 97.20 of scrap.
        { "as dear as its scrap", job => Sheet(job, one => one with { PiecePrice = Money.FromAmount(97.2m) }), "" },
        { "cheaper than its scrap", job => Sheet(job, one => one with { PiecePrice = Money.FromAmount(97.1999m) }), "scrap-dearer-than-stock" },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_value_is_refused_by_its_rule_alone(string what, Func<Job, Job> change, string rule) =>
        JobChecker.Check(change(TestPlan.Good().Job)).Where(finding => finding.Severity == Severity.Error).Select(finding => finding.Rule).Distinct()
            .Should().Equal(rule.Length == 0 ? [] : [rule], what);

    private static Job Bracket(Job job, Func<Part, Part> change) => job with { Parts = job.Parts.SetItem(0, change(job.Parts[0])) };

    private static Job Sheet(Job job, Func<Stock, Stock> change) => job with { Stocks = job.Stocks.SetItem(0, change(job.Stocks[0])) };

    private static Job Blade(Job job, Func<Saw, Saw> change) => job with { Saws = job.Saws.SetItem(0, change(job.Saws[0])) };

    private static Job Dealer(Job job, Func<Supplier, Supplier> change) => job with { Suppliers = [change(new() { Name = "Dema" })] };
}
