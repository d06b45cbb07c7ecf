using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Values of a job that no shop can mean are found, each where it stands; the last value that is allowed is not.</summary>
public sealed class JobValuesTest
{
    private static readonly Length Below = Length.FromNanometres(-1);
    private static readonly Length Kilometre = Length.FromNanometres(1_000_000_000_000);
    private static readonly Length Beyond = Length.FromNanometres(1_000_000_000_001);
    private static readonly Money Debt = Money.FromUnits(-1);

    /// <summary>What is wrong, how a job comes to it, the place that is named.</summary>
    public static TheoryData<string, Func<Job, Job>, string> Refused() => new()
    {
        { "no set", job => job with { Batch = 0 }, "job" },
        { "too many sets", job => Sets(job, 1_000_001), "job" },
        { "no supplier allowed", job => job with { MostSuppliers = 0 }, "job" },
        { "wanted yesterday", job => job with { WantedInDays = -1 }, "job" },
        { "nothing can be lifted", job => job with { LiftLimit = new(0m) }, "job" },
        { "long bar below zero", job => job with { LongBar = Below }, "job" },
        { "long bar beyond all", job => job with { LongBar = Beyond }, "job" },
        { "density zero", job => Metal(job, one => one with { Density = 0m }), "material 6061-T651" },
        { "denser than any metal", job => Metal(job, one => one with { Density = 25_000.1m }), "material 6061-T651" },
        { "scrap price below zero", job => Metal(job, one => one with { ScrapPricePerKilogram = -0.1m }), "material 6061-T651" },
        { "scrap price beyond all", job => Metal(job, one => one with { ScrapPricePerKilogram = 10_000_000.1m }), "material 6061-T651" },
        { "quantity below zero", job => Bracket(job, one => one with { Quantity = -1, Extra = 1 }), "part bracket" },
        { "spares below zero", job => Bracket(job, one => one with { Extra = -1 }), "part bracket" },
        { "percentage below zero", job => Bracket(job, one => one with { ExtraPercent = -0.1m }), "part bracket" },
        { "percentage beyond all", job => Bracket(job, one => one with { Extra = 51, ExtraPercent = 1_000.1m }), "part bracket" },
        { "hex bar for what is not turned", job => Bracket(job, one => one with { Forms = Forms.Plate | Forms.HexBar }), "part bracket" },
        { "plate with a wall", job => Sheet(job, one => one with { Detail = new() { Wall = Mm(2) } }), "stock plate 15" },
        { "mill for less than nothing", job => job with { Mill = job.Mill with { HourlyRate = -1m } }, "mill" },
        { "mill beyond all", job => job with { Mill = job.Mill with { HourlyRate = 10_000_001m } }, "mill" },
        { "mill that removes nothing", job => job with { Mill = job.Mill with { DefaultRemovalRate = 0m } }, "mill" },
        { "mill that removes no steel", job => job with { Mill = job.Mill with { RemovalRates = [new("aluminium", 30m), new("steel", 0m)] } }, "mill" },
        { "fuss rate", job => job with { Fuss = new() { HourlyRate = -1m } }, "fuss" },
        { "fuss of a line", job => job with { Fuss = new() { OrderLineMinutes = -1m } }, "fuss" },
        { "fuss of a supplier", job => job with { Fuss = new() { SupplierMinutes = -1m } }, "fuss" },
        { "fuss of a size", job => job with { Fuss = new() { FurtherSizeMinutes = -1m } }, "fuss" },
        { "material twice", job => job with { Materials = [.. job.Materials, Aluminium with { Id = "6061-t651" }] }, "material 6061-t651" },
        { "part twice", job => job with { Parts = [.. job.Parts, job.Parts[1]] }, "part tab" },
        { "stock twice", job => job with { Stocks = [.. job.Stocks, job.Stocks[1]] }, "stock R1" },
        { "saw twice", job => job with { Saws = [.. job.Saws, job.Saws[1]] }, "saw bar saw" },
        { "supplier twice", job => job with { Suppliers = [new() { Name = "Dema" }, new() { Name = "DEMA" }] }, "supplier DEMA" },
        { "saw that cuts nothing", job => Blade(job, one => one with { DefaultCutRate = 0m }), "saw plate saw" },
        { "saw that cuts no steel", job => Blade(job, one => one with { CutRates = [new("aluminium", 90m), new("steel", 0m)] }), "saw plate saw" },
        { "saw for less than nothing", job => Blade(job, one => one with { HourlyRate = -1m }), "saw plate saw" },
        { "charge of a cut", job => Blade(job, one => one with { ChargePerCut = -0.1m }), "saw plate saw" },
        { "minutes of a cut", job => Blade(job, one => one with { HandlingMinutes = -0.1m }), "saw plate saw" },
        { "minutes of a setting", job => Blade(job, one => one with { SettingMinutes = -0.1m }), "saw plate saw" },
        { "minutes to load", job => Blade(job, one => one with { LoadMinutes = -0.1m }), "saw plate saw" },
        { "stack below zero", job => Blade(job, one => one with { StackHeight = Below }), "saw plate saw" },
        { "largest cut below zero", job => Blade(job, one => one with { LargestCut = Below }), "saw plate saw" },
        { "largest thickness below zero", job => Blade(job, one => one with { LargestThickness = Below }), "saw plate saw" },
        { "longest stock below zero", job => Blade(job, one => one with { LongestStock = Below }), "saw plate saw" },
        { "no piece allowed", job => Blade(job, one => one with { MostPieces = 0 }), "saw plate saw" },
        { "no stage allowed", job => Blade(job, one => one with { Stages = 0 }), "saw plate saw" },
        { "smallest order below zero", job => Dealer(job, one => one with { MinimumOrder = Debt }), "supplier Dema" },
        { "delivery below zero", job => Dealer(job, one => one with { Delivery = Debt }), "supplier Dema" },
        { "charge of a piece below zero", job => Dealer(job, one => one with { CutPieceCharge = Debt }), "supplier Dema" },
        { "free delivery from below zero", job => Dealer(job, one => one with { FreeDeliveryFrom = Debt }), "supplier Dema" },
        { "delivered before today", job => Dealer(job, one => one with { LeadDays = -1 }), "supplier Dema" },
        { "delivered in an age", job => Dealer(job, one => one with { LeadDays = 10_001 }), "supplier Dema" },
        { "exchange at nothing", job => Dealer(job, one => one with { Currency = "USD", Rate = 0m }), "supplier Dema" },
        { "exchange beyond all", job => Dealer(job, one => one with { Currency = "USD", Rate = 1_000_000.1m }), "supplier Dema" },
        { "rate of no currency", job => Dealer(job, one => one with { Rate = 1.1m }), "supplier Dema" },
        { "currency without a rate", job => Dealer(job, one => one with { Currency = "USD" }), "supplier Dema" },
        { "plus tolerance below zero", job => Dealer(job, one => one with { CutPlus = Below }), "supplier Dema" },
        { "side below zero", job => Allowing(job, new() { SideCleanUp = Below }), "part bracket" },
        { "end below zero", job => Allowing(job, new() { EndCleanUp = Below }), "part bracket" },
        { "top below zero", job => Allowing(job, new() { FaceTop = Below }), "part bracket" },
        { "bottom below zero", job => Allowing(job, new() { FaceBottom = Below }), "part bracket" },
        { "grip below zero", job => Allowing(job, new() { Grip = Below }), "part bracket" },
        { "grip beyond all", job => Allowing(job, new() { Grip = Beyond }), "part bracket" },
        { "second rule below zero", job => job with { AllowanceRules = [.. job.AllowanceRules, new() { Allowances = new() { FaceTop = Below } }] }, "allowance rule 2" },
        { "credit below zero", job => Offcuts(job, rule => rule with { Fraction = -0.1m }), "offcut rule 2" },
        { "an offcut worth as much as new", job => Offcuts(job, rule => rule with { Fraction = 1m }), "offcut rule 2" },
        { "leftover's credit below zero", job => Offcuts(job, rule => rule with { LeftoverFraction = -0.1m }), "offcut rule 2" },
        { "a leftover's offcut worth as much as it", job => Offcuts(job, rule => rule with { LeftoverFraction = 1m }), "offcut rule 2" },
        { "kept from below zero long", job => Offcuts(job, rule => rule with { KeepLength = Below }), "offcut rule 2" },
        { "kept from below zero wide", job => Offcuts(job, rule => rule with { KeepWidth = Below }), "offcut rule 2" },
        { "several jobs of two sets", job => Several(job) with { Batch = 2 }, "job" },
        { "one job twice", job => Several(job) with { Together = [new("a", 1), new("b", 5), new("a", 1)] }, "job a" },
        { "a job without a name", job => Several(job) with { Together = [new("a", 1), new("b", 5), new("", 1)] }, "job " },
        { "a job whose name is a path", job => Several(job) with { Together = [new("a", 1), new("b", 5), new("b/tab", 1)] }, "job b/tab" },
        { "a job without a part", job => Several(job) with { Together = [new("a", 1), new("b", 5), new("c", 1)] }, "job c" },
        { "a job of no set", job => Several(job) with { Together = [new("a", 0), new("b", 5)] }, "job a" },
        { "a job of broken sets", job => Several(job) with { Together = [new("a", 1), new("b", 3)] }, "job b" },
        { "a part of no job", job => Several(job) with { Together = [new("b", 5)] }, "part a/bracket" },
    };

    [Theory]
    [MemberData(nameof(Refused))]
    public void What_no_shop_can_mean_is_found_where_it_stands(string what, Func<Job, Job> change, string where) =>
        Values(change).Should().Contain(where, what);

    /// <summary>The last value that is allowed, and what looks wrong and is not.</summary>
    public static TheoryData<string, Func<Job, Job>> Accepted() => new()
    {
        { "as it is", job => job },
        { "a million sets", job => Sets(job, 1_000_000) },
        { "one supplier, today, a gram, any bar is long", job => job with { MostSuppliers = 1, WantedInDays = 0, LiftLimit = new(0.001m), LongBar = Length.Zero } },
        { "a long bar of a kilometre", job => job with { LongBar = Kilometre } },
        { "as dense as can be, scrap for nothing", job => Metal(job, one => one with { Density = 25_000m, ScrapPricePerKilogram = 0m }) },
        { "scrap at the highest price", job => Metal(job, one => one with { ScrapPricePerKilogram = 10_000_000m }) },
        { "no piece, no spare", job => Bracket(job, one => one with { Quantity = 0, Extra = 0, ExtraPercent = 0m }) },
        { "ten times as many spares", job => Bracket(job, one => one with { Extra = 50, ExtraPercent = 1_000m }) },
        { "part names that differ by case", job => job with { Parts = [.. job.Parts, job.Parts[1] with { Id = "TAB" }] } },
        { "rates of zero", job => job with { Mill = job.Mill with { HourlyRate = 0m }, Saws = [.. job.Saws.Select(saw => saw with { HourlyRate = 0m, ChargePerCut = 0m, HandlingMinutes = 0m, SettingMinutes = 0m })] } },
        { "rates by family", job => Blade(job with { Mill = job.Mill with { RemovalRates = [new("aluminium", 30m), new("steel", 0.1m)] } }, one => one with { CutRates = [new("aluminium", 90m), new("steel", 0.1m)] }) },
        { "the highest rates", job => job with { Mill = job.Mill with { HourlyRate = 10_000_000m }, Fuss = new() { HourlyRate = 10_000_000m } } },
        { "hex bar for what is turned", job => Bracket(job, one => one with { Round = true, Forms = Forms.HexBar }) },
        { "one piece, one stage", job => Blade(job, one => one with { MostPieces = 1, Stages = 1 }) },
        { "a supplier of zeros", job => Dealer(job, one => one with { FreeDeliveryFrom = Money.Zero, CutPlus = Length.Zero }) },
        { "a slow supplier abroad", job => Dealer(job, one => one with { LeadDays = 10_000, Currency = "USD", Rate = 1_000_000m }) },
        { "allowances of zero and a kilometre", job => Allowing(job, new() { SideCleanUp = Length.Zero, EndCleanUp = Length.Zero, FaceTop = Length.Zero, FaceBottom = Length.Zero, Grip = Kilometre }) },
        { "offcuts worth nothing", job => Offcuts(job, rule => rule with { Fraction = 0m, LeftoverFraction = 0m }) },
        { "offcuts worth nearly all", job => Offcuts(job, rule => rule with { Fraction = 0.999m, LeftoverFraction = 0.999m }) },
        { "several jobs", Several },
    };

    [Theory]
    [MemberData(nameof(Accepted))]
    public void What_a_shop_can_mean_is_no_finding(string what, Func<Job, Job> change) => Values(change).Should().BeEmpty(what);

    [Theory]
    [InlineData(5, 1, 10, 1), InlineData(5, 1, 20, 1), InlineData(5, 1, 21, 2), InlineData(5, 3, 20, 3), InlineData(5, 3, 0, 0), InlineData(7, 9, 33.3, 21)]
    public void Spares_are_the_percentage_of_the_batch_rounded_up(int quantity, int sets, decimal percent, int spares)
    {
        for (var given = spares - 1; given <= spares + 1; given++)
        {
            var plan = TestPlan.Good();
            var job = Bracket(plan.Job with { Batch = sets }, one => one with { Quantity = quantity, Extra = given, ExtraPercent = percent });
            PlanChecker.Check(plan with { Job = job }).Any(finding => finding.Rule == "spares").Should().Be(given != spares, "{0} given", given);
        }
    }

    /// <summary>Numbers that cannot be reckoned with end the check where they stand.</summary>
    public static TheoryData<string, Func<Plan, Plan>, string> OutOfRange() => new()
    {
        { "no length", plan => In(plan, job => Bracket(job, one => one with { Length = Length.Zero })), "part bracket" },
        { "no width", plan => In(plan, job => Bracket(job, one => one with { Width = Length.Zero })), "part bracket" },
        { "no thickness", plan => In(plan, job => Bracket(job, one => one with { Thickness = Length.Zero })), "part bracket" },
        { "longer than a kilometre", plan => In(plan, job => Bracket(job, one => one with { Length = Beyond })), "part bracket" },
        { "fewer than none", plan => In(plan, job => Bracket(job, one => one with { Quantity = -1 })), "part bracket" },
        { "more than a million", plan => In(plan, job => Bracket(job, one => one with { Quantity = 1_000_001 })), "part bracket" },
        { "more than a million with spares", plan => In(plan, job => Bracket(job, one => one with { Quantity = 1_000_000, Extra = 1 })), "part bracket" },
        { "gang of no row", plan => In(plan, job => Bracket(job, one => one with { Gang = Block(0, 1, 1) })), "part bracket" },
        { "gang of a thousand and one rows", plan => In(plan, job => Bracket(job, one => one with { Gang = Block(1001, 1, 1) })), "part bracket" },
        { "gang of no column", plan => In(plan, job => Bracket(job, one => one with { Gang = Block(1, 0, 1) })), "part bracket" },
        { "gang of a thousand and one columns", plan => In(plan, job => Bracket(job, one => one with { Gang = Block(1, 1001, 1) })), "part bracket" },
        { "no gang blank", plan => In(plan, job => Bracket(job, one => one with { Gang = Block(1, 1, 0) })), "part bracket" },
        { "a million and one gang blanks", plan => In(plan, job => Bracket(job, one => one with { Gang = Block(1, 1, 1_000_001) })), "part bracket" },
        { "gap below zero", plan => In(plan, job => Bracket(job, one => one with { PerBlank = new() { Gap = Below } })), "part bracket" },
        { "gap beyond all", plan => In(plan, job => Bracket(job, one => one with { PerBlank = new() { Gap = Beyond } })), "part bracket" },
        { "stock of no length", plan => In(plan, job => Sheet(job, one => one with { Length = Length.Zero })), "stock plate 15" },
        { "stock of no width", plan => In(plan, job => Sheet(job, one => one with { Width = Length.Zero })), "stock plate 15" },
        { "stock of no thickness", plan => In(plan, job => Sheet(job, one => one with { Thickness = Length.Zero })), "stock plate 15" },
        { "no smallest length", plan => In(plan, job => Sheet(job, one => one with { MinLength = Length.Zero })), "stock plate 15" },
        { "no smallest width", plan => In(plan, job => Sheet(job, one => one with { MinWidth = Length.Zero })), "stock plate 15" },
        { "no smallest thickness", plan => In(plan, job => Sheet(job, one => one with { MinThickness = Length.Zero })), "stock plate 15" },
        { "a price beyond all", plan => In(plan, job => Sheet(job, one => one with { PiecePrice = TooMuch })), "stock plate 15" },
        { "a line beyond all", plan => In(plan, job => Sheet(job, one => one with { Terms = new() { LineMinimum = TooMuch } })), "stock plate 15" },
        { "a break from none on", plan => In(plan, job => Sheet(job, one => one with { Terms = new() { Breaks = [new(0, Money.Zero)] } })), "stock plate 15" },
        { "a break beyond all", plan => In(plan, job => Sheet(job, one => one with { Terms = new() { Breaks = [new(2, TooMuch)] } })), "stock plate 15" },
        { "damage of no length", plan => In(plan, job => Sheet(job, one => one with { KeepOuts = [Box(1, 1, 0, 1)] })), "stock plate 15" },
        { "damage of no width", plan => In(plan, job => Sheet(job, one => one with { KeepOuts = [Box(1, 1, 1, 0)] })), "stock plate 15" },
        { "damage a kilometre long", plan => In(plan, job => Sheet(job, one => one with { KeepOuts = [new(Length.Zero, Length.Zero, Beyond, Mm(1))] })), "stock plate 15" },
        { "damage a kilometre wide", plan => In(plan, job => Sheet(job, one => one with { KeepOuts = [new(Length.Zero, Length.Zero, Mm(1), Beyond)] })), "stock plate 15" },
        { "damage a kilometre left", plan => In(plan, job => Sheet(job, one => one with { KeepOuts = [new(Length.Zero - Beyond, Length.Zero, Mm(1), Mm(1))] })), "stock plate 15" },
        { "damage a kilometre below", plan => In(plan, job => Sheet(job, one => one with { KeepOuts = [new(Length.Zero, Length.Zero - Beyond, Mm(1), Mm(1))] })), "stock plate 15" },
        { "fewer than none there", plan => In(plan, job => Sheet(job, one => one with { Available = -1 })), "stock plate 15" },
        { "more than a million there", plan => In(plan, job => Sheet(job, one => one with { Available = 1_000_001 })), "stock plate 15" },
        { "kerf below zero", plan => In(plan, job => Blade(job, one => one with { Kerf = Below })), "saw plate saw" },
        { "held below zero", plan => In(plan, job => Blade(job, one => one with { ShortestHeld = Below })), "saw plate saw" },
        { "left trim below zero", plan => In(plan, job => Blade(job, one => one with { Trims = one.Trims with { Left = Below } })), "saw plate saw" },
        { "right trim below zero", plan => In(plan, job => Blade(job, one => one with { Trims = one.Trims with { Right = Below } })), "saw plate saw" },
        { "bottom trim below zero", plan => In(plan, job => Blade(job, one => one with { Trims = one.Trims with { Bottom = Below } })), "saw plate saw" },
        { "top trim beyond all", plan => In(plan, job => Blade(job, one => one with { Trims = one.Trims with { Top = Beyond } })), "saw plate saw" },
        { "smallest order beyond all", plan => In(plan, job => Dealer(job, one => one with { MinimumOrder = TooMuch })), "supplier Dema" },
        { "delivery beyond all", plan => In(plan, job => Dealer(job, one => one with { Delivery = TooMuch })), "supplier Dema" },
        { "metal of a part", plan => plan with { PartCosts = plan.PartCosts.SetItem(0, plan.PartCosts[0] with { Metal = TooMuch }) }, "cost of part bracket" },
        { "sawing of a part", plan => plan with { PartCosts = plan.PartCosts.SetItem(0, plan.PartCosts[0] with { Saw = TooMuch }) }, "cost of part bracket" },
        { "facing of a part", plan => plan with { PartCosts = plan.PartCosts.SetItem(0, plan.PartCosts[0] with { Facing = TooMuch }) }, "cost of part bracket" },
        { "total", plan => plan with { TotalCost = TooMuch }, "plan" },
        { "total below all", plan => plan with { TotalCost = Money.Zero - TooMuch }, "plan" },
        { "spares' cost", plan => plan with { SpareCost = TooMuch }, "plan" },
        { "bound", plan => plan with { Bound = Bound.Of(TooMuch, "a test") }, "plan" },
        { "count of none", plan => First(plan, one => one with { Count = 0 }), "layout 1" },
        { "count beyond all", plan => First(plan, one => one with { Count = 1_000_001 }), "layout 1" },
        { "sheet of no length", plan => First(plan, one => one with { Sheet = one.Sheet with { SizeX = Length.Zero } }), "layout 1" },
        { "sheet of no width", plan => First(plan, one => one with { Sheet = one.Sheet with { SizeY = Length.Zero } }), "layout 1" },
        { "sheet left of zero", plan => First(plan, one => one with { Sheet = one.Sheet with { X = Below } }), "layout 1" },
        { "sheet below zero", plan => First(plan, one => one with { Sheet = one.Sheet with { Y = Below } }), "layout 1" },
        { "sheet beyond all", plan => First(plan, one => one with { Sheet = one.Sheet with { SizeY = Beyond } }), "layout 1" },
        { "trim of a layout", plan => First(plan, one => one with { Trims = one.Trims with { Bottom = Below } }), "layout 1" },
        { "piece", plan => First(plan, one => one with { Pieces = one.Pieces.SetItem(0, one.Pieces[0] with { Area = one.Sheet with { X = Below } }) }), "layout 1" },
        { "offcut", plan => First(plan, one => one with { Offcuts = one.Offcuts.SetItem(0, one.Offcuts[0] with { Area = one.Sheet with { X = Below } }) }), "layout 1" },
        { "value of an offcut", plan => First(plan, one => one with { Offcuts = one.Offcuts.SetItem(0, one.Offcuts[0] with { Value = TooMuch }) }), "layout 1" },
        { "tree", plan => First(plan, one => one with { Tree = one.Tree! with { Area = one.Sheet with { X = Below } } }), "layout 1" },
        { "branch of a tree", plan => First(plan, one => one with { Tree = one.Tree! with { Children = [one.Tree.Children[0] with { Area = one.Sheet with { X = Below } }] } }), "layout 1" },
        { "layout's metal", plan => First(plan, one => one with { Cost = one.Cost with { Metal = TooMuch } }), "layout 1" },
        { "layout's sawing", plan => First(plan, one => one with { Cost = one.Cost with { Saw = TooMuch } }), "layout 1" },
        { "layout's facing", plan => First(plan, one => one with { Cost = one.Cost with { Facing = TooMuch } }), "layout 1" },
        { "layout's credit", plan => First(plan, one => one with { Cost = one.Cost with { OffcutCredit = TooMuch } }), "layout 1" },
        { "layout's scrap", plan => First(plan, one => one with { Cost = one.Cost with { ScrapCredit = TooMuch } }), "layout 1" },
    };

    [Theory]
    [MemberData(nameof(OutOfRange))]
    public void A_number_that_cannot_be_reckoned_with_is_found_where_it_stands(string what, Func<Plan, Plan> change, string where) =>
        PlanChecker.Check(change(TestPlan.Good())).Where(finding => finding.Rule == "out-of-range").Select(finding => finding.Where.File).Should().Equal([where], what);

    /// <summary>The last numbers that can be reckoned with.</summary>
    public static TheoryData<string, Func<Plan, Plan>> InRange() => new()
    {
        { "a kilometre", plan => In(plan, job => Bracket(job, one => one with { Length = Kilometre })) },
        { "a million", plan => In(plan, job => Bracket(job, one => one with { Quantity = 999_999, Extra = 1 })) },
        { "none", plan => In(plan, job => Bracket(job, one => one with { Quantity = 0 })) },
        { "gangs", plan => In(plan, job => Bracket(job, one => one with { Gang = Block(1000, 1000, 1_000_000), PerBlank = new() { Gap = Kilometre } })) },
        { "one gang", plan => In(plan, job => Bracket(job, one => one with { Gang = Block(1, 1, 1), PerBlank = new() { Gap = Length.Zero } })) },
        { "the highest price, the first break", plan => In(plan, job => Sheet(job, one => one with { PiecePrice = Most, Terms = new() { LineMinimum = Most, Breaks = [new(1, Most)] } })) },
        { "damage beyond the edges", plan => In(plan, job => Sheet(job, one => one with { KeepOuts = [new(Length.Zero - Kilometre, Length.Zero - Kilometre, Kilometre, Kilometre)] })) },
        { "none there", plan => In(plan, job => Sheet(job, one => one with { Available = 0 })) },
        { "a million there", plan => In(plan, job => Sheet(job, one => one with { Available = 1_000_000 })) },
        { "no kerf", plan => In(plan, job => Blade(job, one => one with { Kerf = Length.Zero })) },
        { "a kerf of a kilometre", plan => In(plan, job => Blade(job, one => one with { Kerf = Kilometre })) },
        { "a supplier's amounts", plan => In(plan, job => Dealer(job, one => one with { MinimumOrder = Most, Delivery = Most })) },
        { "debts", plan => plan with { TotalCost = Money.Zero - Most, SpareCost = Money.Zero - Most, Bound = Bound.Of(Money.Zero - Most, "a test") } },
        { "no bound", plan => plan with { Bound = Bound.None } },
        { "a million times", plan => First(plan, one => one with { Count = 1_000_000 }) },
        { "no tree", plan => First(plan, one => one with { Tree = null }) },
        { "amounts of a layout", plan => First(plan, one => one with { Cost = new(Most, Most, Most, Most, Most) }) },
    };

    [Theory]
    [MemberData(nameof(InRange))]
    public void The_last_number_that_can_be_reckoned_with_is_in_range(string what, Func<Plan, Plan> change) =>
        PlanChecker.Check(change(TestPlan.Good())).Should().NotContain(finding => finding.Rule == "out-of-range" && !finding.Message.EndsWith("to reckon with", StringComparison.Ordinal), what);

    private static Money Most { get; } = Money.FromUnits(10_000_000_000_000);

    private static Money TooMuch { get; } = Money.FromUnits(10_000_000_000_001);

    private static List<string> Values(Func<Job, Job> change) =>
        [.. PlanChecker.Check(In(TestPlan.Good(), change)).Where(finding => finding.Rule == "job-value").Select(finding => finding.Where.File)];

    private static Plan In(Plan plan, Func<Job, Job> change) => plan with { Job = change(plan.Job) };

    private static Plan First(Plan plan, Func<Layout, Layout> change) => plan with { Layouts = plan.Layouts.SetItem(0, change(plan.Layouts[0])) };

    private static Job Sets(Job job, int sets) => job with { Batch = sets, Parts = [.. job.Parts.Select(part => part with { Quantity = 0 })] };

    private static Job Metal(Job job, Func<Material, Material> change) => job with { Materials = job.Materials.SetItem(0, change(job.Materials[0])) };

    private static Job Bracket(Job job, Func<Part, Part> change) => job with { Parts = job.Parts.SetItem(0, change(job.Parts[0])) };

    private static Job Sheet(Job job, Func<Stock, Stock> change) => job with { Stocks = job.Stocks.SetItem(0, change(job.Stocks[0])) };

    private static Job Blade(Job job, Func<Saw, Saw> change) => job with { Saws = job.Saws.SetItem(0, change(job.Saws[0])) };

    private static Job Dealer(Job job, Func<Supplier, Supplier> change) => job with { Suppliers = [change(new() { Name = "Dema" })] };

    private static Job Allowing(Job job, AllowanceOverrides given) => Bracket(job, one => one with { Allowances = given });

    private static Job Offcuts(Job job, Func<OffcutRule, OffcutRule> change) => job with { OffcutRules = [.. job.OffcutRules, change(new() { MaterialId = "none", KeepLength = Mm(500) })] };

    private static Gang Block(int rows, int columns, int blanks) => new() { Rows = rows, Columns = columns, Blanks = blanks, Members = [new("bracket", 1, 1)] };

    private static Job Several(Job job) => job with
    {
        Together = [new("a", 1), new("b", 5)],
        Parts = [job.Parts[0] with { Id = "a/bracket" }, job.Parts[1] with { Id = "b/tab" }, job.Parts[2] with { Id = "b/foot" }],
    };
}
