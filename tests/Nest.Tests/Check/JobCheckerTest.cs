using Nest.Core.Blanks;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

public class JobCheckerTest
{
    private static readonly Job Good = Job([Flat("p", 100, 50, 10)], [Plate("P", 500, 500, 20), Bar("B", Form.FlatBar, 60, 20)]);

    [Fact]
    public void A_good_job_has_no_findings() => JobChecker.Check(Good).Should().BeEmpty();

    public static TheoryData<string, Job> Breaks() => new()
    {
        { "duplicate-part", Good with { Parts = [Good.Parts[0], Good.Parts[0]] } },
        { "duplicate-stock", Good with { Stocks = [Good.Stocks[0], Good.Stocks[0]] } },
        { "duplicate-saw", Good with { Saws = [.. Good.Saws, Good.Saws[0]] } },
        { "duplicate-material", Good with { Materials = [Aluminium, Aluminium with { Id = "6061-t651" }, Steel] } },
        { "duplicate-rack-mark", Good with { Stocks = [.. Good.Stocks, Leftover("R1", 300, 300, 20), Leftover("R2", 300, 300, 20) with { RackMark = "R1" }] } },
        { "unknown-material", Good with { Parts = [Good.Parts[0] with { MaterialId = "unobtainium" }] } },
        { "no-kerf", Good with { Saws = [PlateSaw with { Kerf = default }, BarSaw] } },
        { "offcut-fraction", Good with { OffcutRules = [Keep with { Fraction = 1m }] } },
        { "offcut-size", Good with { OffcutRules = [Keep with { KeepLength = default }] } },
        { "batch", Good with { Batch = 0, Parts = [Good.Parts[0] with { Extra = 1 }] } },
        { "no-parts", Good with { Parts = [] } },
        { "no-saw", Good with { Saws = [] } },
        { "part-size", Good with { Parts = [Good.Parts[0] with { Width = default }] } },
        { "round-part", Good with { Parts = [Round("r", 20, 40) with { Thickness = Mm(10) }] } },
        { "quantity", Good with { Parts = [Good.Parts[0] with { Quantity = 0 }] } },
        { "no-form", Good with { Parts = [Good.Parts[0] with { Forms = Forms.None }] } },
        { "stock-size", Good with { Stocks = [Good.Stocks[0] with { MinLength = Mm(501) }] } },
        { "negative-price", Good with { Stocks = [Good.Stocks[0] with { PiecePrice = Money.FromUnits(-1) }] } },
        { "available", Good with { Stocks = [.. Good.Stocks, Good.Stocks[0] with { Id = "Q", Available = -1 }] } },
        { "keep-out", Good with { Stocks = [Good.Stocks[1] with { KeepOuts = [Box(0, 0, 5, 5)] }] } },
        { "density", Good with { Materials = [Aluminium with { Density = 0m }] } },
        { "cut-rate", Good with { Saws = [PlateSaw with { DefaultCutRate = 0m }, BarSaw] } },
        { "negative-rate", Good with { Saws = [PlateSaw with { HourlyRate = -1m }, BarSaw] } },
        { "saw-limit", Good with { Saws = [PlateSaw with { Stages = 0 }, BarSaw] } },
        { "negative-size", Good with { Saws = [PlateSaw with { StackHeight = Mm(-1) }, BarSaw] } },
        { "mill-rate", Good with { Mill = new() { DefaultRemovalRate = 0m } } },
        { "negative-allowance", Good with { AllowanceRules = [new() { Allowances = new() { FaceTop = Mm(-1) } }] } },
        { "scrap-dearer-than-stock", Good with { Stocks = [Good.Stocks[0] with { PiecePrice = Money.FromAmount(1m) }] } },
        { "price-breaks", Good with { Stocks = [Good.Stocks[0] with { Terms = new() { Breaks = [new(5, Money.FromAmount(150m)), new(5, Money.FromAmount(140m))] } }] } },
        { "cut-for", Good with { Stocks = [.. Good.Stocks, Good.Stocks[0] with { Id = "Q", CutFor = "no such" }] } },
        { "suppliers", Good with { MostSuppliers = 0 } },
        { "no-saw-for-stock", Good with { Saws = [PlateSaw] } },
        { "no-saw-for-stock", Good with { Saws = [PlateSaw, BarSaw with { LongestStock = Mm(100) }] } },
        { "nothing-fits", Good with { Parts = [Flat("huge", 5000, 50, 10)] } },
        { "negative-price", Good with { Suppliers = [new() { Name = "S (invented)", Delivery = Money.FromUnits(-1) }] } },
        { "negative-price", Good with { Materials = [Aluminium with { ScrapPricePerKilogram = -1m }] } },
        { "negative-rate", Good with { Mill = Good.Mill with { HourlyRate = -1m } } },
        { "stock-size", Good with { Stocks = [Good.Stocks[0] with { MinThickness = default }] } },
        { "stock-size", Good with { Stocks = [Good.Stocks[0], Bar("R", Form.RoundBar, 60, 20)] } },
        { "stock-size", Good with { Stocks = [Good.Stocks[0], Bar("F", Form.FlatBar, 20, 60)] } },
        { "most-pieces-on-plate", Good with { Saws = [PlateSaw with { MostPieces = 4 }, BarSaw] } },
        { "cut-rate", Good with { Saws = [PlateSaw with { CutRates = [new("aluminium", 90m), new("steel", 0m)] }, BarSaw] } },
        { "mill-rate", Good with { Mill = Good.Mill with { RemovalRates = [new("aluminium", 30m), new("steel", 0m)] } } },
        { "free-spares", Good with { Parts = [Good.Parts[0] with { FreeSpares = -1 }] } },
        { "free-spares", Several(new() { Counts = [2], Gap = Mm(5) }, part => part with { FreeSpares = 1 }) },
        { "unknown-material", Good with { Stocks = [.. Good.Stocks, Good.Stocks[0] with { Id = "Q", MaterialId = "unobtainium" }] } },
        { "scrap-dearer-than-stock", Good with { Stocks = [.. Good.Stocks, Good.Stocks[0] with { Id = "Q", PiecePrice = Money.Zero }] } },
        { "angle-not-sawn", Good with { Parts = [Good.Parts[0] with { Ends = new(Angle.FromDegrees(45), Angle.Square) }] } },
        { "section-wall", Good with { Stocks = [.. Good.Stocks, Bar("T", Form.RectangularTube, 60, 20) with { Detail = new() { Wall = Mm(10) } }] } },
        { "section-wall", Good with { Parts = [.. Good.Parts, Flat("leg", 100, 60, 20) with { Forms = Forms.RectangularTube, Detail = new() { Wall = Mm(10) } }] } },
        { "per-blank", Several(new() { Counts = [2], Gap = Mm(5) }, part => part with { Ends = new(Angle.FromDegrees(45m), Angle.Square, false) }) },
        { "per-blank", Several(new() { Counts = [2] }) },
        { "per-blank", Several(new() { Counts = [GangOptions.MostPerBlank + 1], Gap = Mm(5) }) },
        { "per-blank", Several(new() { Counts = [], Gap = Mm(5) }) },
        { "per-blank", Several(new() { Counts = [2], Gap = Mm(5), With = "nobody" }) },
        { "per-blank", Several(new() { Counts = [2], Gap = Mm(5), With = "p" }) },
        { "per-blank", Pair(new() { Counts = [4], Gap = Mm(5), With = "p" }, 100) },
        { "per-blank", Pair(new() { Counts = [2], Gap = Mm(5), With = "p" }, 90) },
    };

    /// <summary>Several of the part from one blank.</summary>
    private static Job Several(PerBlank rule, Func<Part, Part>? also = null) => Good with { Parts = [(also ?? (part => part))(Good.Parts[0] with { PerBlank = rule })] };

    /// <summary>Two hands, of which the second says this of its blanks and is so long.</summary>
    private static Job Pair(PerBlank second, decimal length) => Good with
    {
        Parts = [Good.Parts[0] with { PerBlank = new() { Counts = [2], Gap = Mm(5), With = "q" } }, Flat("q", length, 50, 10) with { PerBlank = second }],
    };

    [Fact]
    public void Two_hands_that_agree_share_their_blanks() => JobChecker.Check(Pair(new() { Counts = [2], Gap = Mm(5), With = "P" }, 100)).Should().BeEmpty();

    /// <summary>The last values that are allowed, and rates for single families.</summary>
    [Fact]
    public void What_is_just_allowed_has_no_findings()
    {
        JobChecker.Check(Good with
        {
            Saws = [PlateSaw with { CutRates = [new("aluminium", 90m)] }, BarSaw],
            Mill = Good.Mill with { RemovalRates = [new("aluminium", 30m)] },
            Stocks = [Good.Stocks[0] with { Terms = new() { Breaks = [new(5, Money.FromAmount(150m))] } }, Good.Stocks[1]],
        }).Should().BeEmpty();
        JobChecker.Check(Good with { Materials = [Aluminium with { ScrapPricePerKilogram = 0m }], Stocks = [Good.Stocks[0] with { Terms = new() { Breaks = [new(2, Money.Zero)] } }] }).Should().BeEmpty();
        JobChecker.Check(Several(new() { Counts = [GangOptions.MostPerBlank], Gap = Mm(5) })).Select(finding => finding.Rule).Should().NotContain("per-blank");

        // Square ends are no angles, and ends as the saw leaves them are sawn.
        JobChecker.Check(Good with { Parts = [Good.Parts[0] with { Ends = new(Angle.Square, Angle.Square) }] }).Should().BeEmpty();
        var sawn = Good.Parts[0] with { Forms = Forms.FlatBar, Ends = new(Angle.FromDegrees(45), Angle.Square), Allowances = new() { EndCleanUp = Length.Zero } };
        JobChecker.Check(Good with { Parts = [sawn] }).Select(finding => finding.Rule).Should().NotContain("angle-not-sawn");
    }

    /// <summary>Rules are counted from 1, as a list is read.</summary>
    [Fact]
    public void A_rule_is_named_by_its_place()
    {
        var rules = JobChecker.Check(Good with { OffcutRules = [Keep, Keep with { Fraction = 1m }, Keep with { KeepWidth = Mm(-1) }], AllowanceRules = [Usual, Usual with { Allowances = Usual.Allowances with { FaceTop = Mm(-1) } }] });
        rules.Select(finding => (finding.Rule, finding.Where.File)).Should().BeEquivalentTo([("offcut-fraction", "offcut rule 2"), ("offcut-size", "offcut rule 3"), ("negative-allowance", "allowance rule 2")]);
    }

    [Fact]
    public void Stock_that_is_too_long_is_told_once()
    {
        JobChecker.Check(Good with { Saws = [PlateSaw, BarSaw with { LongestStock = Mm(100) }] }).Single().Message.Should().Be("it is longer than the saw's longest stock");
        var all = JobChecker.Check(Good with { Stocks = [.. Good.Stocks, Bar("C", Form.FlatBar, 60, 20)], Saws = [PlateSaw, BarSaw with { LongestStock = Mm(100) }] });
        all.Select(finding => (finding.Where.File, finding.Message)).Should().Equal(("stock B", "it and 1 more of the stock are longer than the saw's longest stock"));
    }

    [Theory]
    [MemberData(nameof(Breaks))]
    public void A_broken_job_gives_exactly_this_finding(string rule, Job job) =>
        JobChecker.Check(job).Select(finding => finding.Rule).Distinct().Should().Equal(rule);

    [Fact]
    public void A_part_that_nothing_serves_is_a_note_and_all_findings_come_at_once()
    {
        var findings = JobChecker.Check(Good with { Parts = [Flat("huge", 5000, 50, 10), Flat("bad", 0, 50, 10)], OffcutRules = [Keep with { Fraction = 2m }] });
        findings.Where(finding => finding.Severity == Severity.Error).Select(finding => finding.Rule).Should().Equal("part-size", "offcut-fraction");
        JobChecker.Check(Good with { Parts = [Flat("huge", 5000, 50, 10)] }).Single().Severity.Should().Be(Severity.Note);
        findings.Should().OnlyContain(finding => finding.Advice.Length > 0);
    }
}
