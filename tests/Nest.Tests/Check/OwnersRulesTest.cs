using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>What the owner excludes, how often stock is there, what a plan claims and what it names: broken in one way, and just not broken.</summary>
public sealed class OwnersRulesTest
{
    private static readonly Money Unit = Money.FromUnits(1);

    /// <summary>In the good plan brackets and tabs come from plate 15 (12 thick) and a bracket from the leftover R1; feet of 100 × 34 × 16 from the bar 40 × 20.</summary>
    public static TheoryData<string, Func<Plan, Plan>, string[]> Cases() => new()
    {
        { "a rule that excludes nothing", plan => Ruled(plan, new()), [] },
        { "only the plate", plan => Ruled(plan, new() { Parts = ["TAB"], Only = ["PLATE 15"] }), [] },
        { "only another plate", plan => Ruled(plan, new() { Parts = ["tab"], Only = ["plate 12"] }), ["stock-ruled-out layout 1"] },
        { "only the leftover, by its mark", plan => Ruled(plan, new() { Parts = ["bracket"], Only = ["r1"] }), ["stock-ruled-out layout 1"] },
        { "not the leftover", plan => Ruled(plan, new() { Not = ["R1"] }), ["stock-ruled-out layout 2"] },
        { "not what another part is made of", plan => Ruled(plan, new() { Parts = ["foot"], Not = ["R1", "plate 15"] }), [] },
        { "not from a supplier", plan => Ruled(Sold(plan, "Dema"), new() { NotFrom = ["DEMA"] }), ["stock-ruled-out layout 1"] },
        { "not from another supplier", plan => Ruled(Sold(plan, "Dema"), new() { NotFrom = ["Elsa"] }), [] },
        { "nobody's stock is from nobody", plan => Ruled(plan, new() { NotFrom = [""] }), [] },
        { "the plate is 3 thicker, the bar 4", plan => Ruled(plan, new() { AtMostThicker = Mm(4) }), [] },
        { "at most 3", plan => Ruled(plan, new() { AtMostThicker = Mm(3) }), ["stock-ruled-out layout 3"] },
        { "a nanometre less", plan => Ruled(plan, new() { Parts = ["tab"], AtMostThicker = Mm(3) - Length.FromNanometres(1) }), ["stock-ruled-out layout 1"] },
        { "one of two parts, one of two stocks", plan => Ruled(plan, new() { Parts = ["nut", "tab"], Only = ["row", "plate 15"] }), [] },
        { "one of two parts, and neither stock", plan => Ruled(plan, new() { Parts = ["nut", "tab"], Only = ["row", "plate 12"] }), ["stock-ruled-out layout 1"] },
        { "not from one of two suppliers", plan => Ruled(Sold(plan, "Dema"), new() { NotFrom = ["Elsa", "DEMA"] }), ["stock-ruled-out layout 1"] },
        { "a bar is thick by the smallest size of a part", plan => Ruled(In(plan, job => Part(job, "foot", part => part with { Width = Mm(10) })), new() { Parts = ["foot"], AtMostThicker = Mm(9) }), ["stock-ruled-out layout 3"] },
        { "a plate by the part's thickness", plan => Ruled(In(plan, job => Part(job, "tab", part => part with { Width = Mm(5) })), new() { Parts = ["tab"], AtMostThicker = Mm(9) }), [] },
        { "cut for a part, by the row's name", plan => Ruled(CutFor(plan), new() { Not = ["row"] }), ["stock-ruled-out layout 2"] },
        { "a certificate, and nobody gives one", plan => Certified(plan, "bracket"), ["no-certificate layout 1", "no-certificate layout 2"] },
        { "a certificate, and the heat is known", plan => Stocked(Certified(plan, "bracket"), "R1", stock => stock with { Heat = "H1" }), ["no-certificate layout 1"] },
        { "a heat of nothing", plan => Stocked(Certified(plan, "bracket"), "R1", stock => stock with { Heat = "" }), ["no-certificate layout 1", "no-certificate layout 2"] },
        { "a supplier that gives certificates", plan => Dealer(Sold(Certified(plan, "tab"), "dema"), true), [] },
        { "a supplier that gives none", plan => Dealer(Sold(Certified(plan, "tab"), "dema"), false), ["no-certificate layout 1"] },
        { "one stock", plan => In(plan, job => Part(job, "bracket", part => part with { OneStock = true })), ["one-stock part bracket"] },
        { "one stock, and it is", plan => In(plan, job => Part(job, "tab", part => part with { OneStock = true })), [] },
        { "one size, and it is, turned or not", plan => In(plan, job => Part(Part(job, "tab", part => part with { OneSize = true }), "bracket", part => part with { OneSize = true })), [] },
        { "one size of two thicknesses", plan => Stocked(In(plan, job => Part(job, "bracket", part => part with { OneSize = true })), "R1", stock => stock with { Thickness = Mm(16) }), ["one-size part bracket"] },
        { "one plate, and one is there", plan => Stocked(plan, "plate 15", stock => stock with { Available = 1 }), [] },
        { "as many as wanted", plan => Stocked(plan, "plate 15", stock => stock with { Available = null }), [] },
        { "none there", plan => Stocked(plan, "plate 15", stock => stock with { Available = 0 }), ["stock-overdrawn stock plate 15"] },
        { "a leftover of which nothing is said is there once", plan => Stocked(plan, "R1", stock => stock with { Available = null }), [] },
        { "a leftover that is there twice", plan => Stocked(plan with { Layouts = plan.Layouts.SetItem(1, plan.Layouts[1] with { Count = 2 }) }, "R1", stock => stock with { Available = 2 }), [] },
        { "a leftover that is gone", plan => Stocked(plan, "R1", stock => stock with { Available = 0 }), ["leftover-used-twice stock R1"] },
        { "numbers from 0", plan => plan with { Layouts = [.. plan.Layouts.Select((layout, at) => layout with { Number = at })] }, ["layout-number layout 0", "layout-number layout 1", "layout-number layout 2"] },
        { "an unknown saw", plan => Layout(plan, layout => layout with { SawId = "axe" }), ["unknown-saw layout 3"] },
        { "stock of an unknown material", plan => Stocked(plan, "flat 40x20", stock => stock with { MaterialId = "unobtainium" }), ["unknown-material layout 3"] },
        { "proven to less than a cent", plan => Proven(plan, -99), [] },
        { "proven to a cent", plan => Proven(plan, -100), ["proof-overclaimed plan"] },
        { "a bound above the cost by no more than rounding", plan => Proven(plan, 10), [] },
        { "a bound above the cost", plan => Proven(plan, 11), ["bound-above-cost plan"] },
        { "a bound above the cost of a plan that is not proven", plan => Proven(plan, 11) with { Status = SolveStatus.BestFound }, [] },
        { "impossible, and something is missing", plan => In(plan, job => Part(job, "tab", part => part with { Quantity = 11 })) with { Status = SolveStatus.Impossible, Unplaced = [new("tab", 1, "too large")] }, [] },
        { "nothing found, and there is nothing", plan => In(plan, job => job with { Parts = [.. job.Parts.Select(part => part with { Quantity = 0 })] }) with { Status = SolveStatus.NotFound, Layouts = [], Orders = [], PartCosts = [], TotalCost = Money.Zero, Bound = Bound.None }, [] },
        { "missing none", plan => In(plan, job => Part(job, "tab", part => part with { Quantity = 10 })) with { Unplaced = [new("tab", 0, "too large")] }, ["unplaced-count unplaced tab"] },
        { "missing of an unknown part", plan => plan with { Unplaced = [new("nut", 1, "too large")] }, ["unknown-part unplaced nut"] },
        { "as many suppliers as allowed", plan => In(plan, job => job with { MostSuppliers = 1 }), [] },
    };

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_owner_s_word_and_the_plan_s_claims(string what, Func<Plan, Plan> change, string[] expected)
    {
        string[] rules = ["stock-ruled-out", "no-certificate", "one-stock", "one-size", "stock-overdrawn", "leftover-used-twice", "layout-number", "unknown-saw", "unknown-material", "unknown-part", "proof-overclaimed",
            "bound-above-cost", "status-wrong", "unplaced-count", "too-many-suppliers"];
        PlanChecker.Check(change(TestPlan.Good())).Where(finding => rules.Contains(finding.Rule)).Select(finding => $"{finding.Rule} {finding.Where.File}").Distinct().Should().BeEquivalentTo(expected, what);
    }

    /// <summary>A plate that is bought for the rack as it is: what its layout must look like.</summary>
    public static TheoryData<string, Func<Plan, Plan>, bool> Wholes() => new()
    {
        { "whole", plan => plan, true },
        { "whole, without a tree", plan => Whole(plan, layout => layout with { Tree = null }), true },
        { "not kept", plan => Whole(plan, layout => layout with { Offcuts = [layout.Offcuts[0] with { Keep = false }] }), false },
        { "of less than the sheet", plan => Whole(plan, layout => layout with { Offcuts = [layout.Offcuts[0] with { Area = layout.Sheet with { SizeX = Mm(999) } }] }), false },
        { "two pieces", plan => Whole(plan, layout => layout with { Offcuts = [layout.Offcuts[0], layout.Offcuts[0]] }), false },
        { "none", plan => Whole(plan, layout => layout with { Offcuts = [] }), false },
        { "a leftover", plan => Stocked(plan, "whole", stock => stock with { RackMark = "whole" }), false },
        { "cut to size", plan => Stocked(plan, "whole", stock => stock with { CutFor = "bracket" }), false },
        { "a tree of another piece", plan => Whole(plan, layout => layout with { Tree = layout.Tree! with { Index = 1 } }), false },
        { "a tree of another area", plan => Whole(plan, layout => layout with { Tree = layout.Tree! with { Area = layout.Sheet with { SizeX = Mm(999) } } }), false },
        { "a tree that divides", plan => Whole(plan, layout => layout with { Tree = layout.Tree! with { Kind = CutNodeKind.Split } }), false },
        { "a tree with a branch", plan => Whole(plan, layout => layout with { Tree = layout.Tree! with { Children = [layout.Tree] } }), false },
    };

    [Theory]
    [MemberData(nameof(Wholes))]
    public void A_plate_bought_for_the_rack_as_it_is(string what, Func<Plan, Plan> change, bool fine)
    {
        var good = TestPlan.Good();
        var job = good.Job with { Stocks = [.. good.Job.Stocks, Plate("whole", 1000, 500, 15)] };
        var whole = TestPlan.OnSaw(job, "whole", (_, tree) => tree.Rest(Box(0, 0, 1000, 500))) with { Trims = default };
        var plan = TestPlan.Of(job, [.. good.Layouts, whole]);
        PlanChecker.Check(change(plan)).Any(finding => finding.Rule == "empty-layout").Should().Be(!fine, what);
        if (fine)
        {
            PlanChecker.Check(change(plan)).Should().BeEmpty(what);
        }
    }

    public static TheoryData<string, Func<Plan, Plan>, bool> Sized() => new()
    {
        { "one blank", plan => plan, true },
        { "two", plan => Whole(plan, layout => layout with { Pieces = [layout.Pieces[0], layout.Pieces[0]] }), false },
        { "of another part", plan => Whole(plan, layout => layout with { Pieces = [layout.Pieces[0] with { PartId = "tab" }] }), false },
        { "smaller than the piece", plan => Whole(plan, layout => layout with { Pieces = [layout.Pieces[0] with { Area = layout.Sheet with { SizeX = Mm(400) } }] }), false },
        { "with an offcut", plan => Whole(plan, layout => layout with { Offcuts = [new(layout.Sheet, false, Money.Zero)] }), false },
    };

    [Theory]
    [MemberData(nameof(Sized))]
    public void Stock_cut_to_size_is_one_blank_and_nothing_else(string what, Func<Plan, Plan> change, bool fine)
    {
        var good = TestPlan.Good();
        var job = good.Job with { Stocks = [.. good.Job.Stocks, Plate("sized", 404, 304, 15) with { CutFor = "bracket" }], Parts = good.Job.Parts.SetItem(0, good.Job.Parts[0] with { Quantity = 6 }) };
        var plan = TestPlan.Of(job, [.. good.Layouts, TestPlan.OnSaw(job, "sized", (usable, tree) => tree.Piece("bracket", usable))]);
        PlanChecker.Check(change(plan)).Any(finding => finding.Rule == "cut-to-size").Should().Be(!fine, what);
    }

    private static Plan In(Plan plan, Func<Job, Job> change) => plan with { Job = change(plan.Job) };

    private static Plan Ruled(Plan plan, StockRule rule) => In(plan, job => job with { StockRules = [rule] });

    private static Plan Stocked(Plan plan, string id, Func<Stock, Stock> change) => In(plan, job => job with { Stocks = [.. job.Stocks.Select(stock => stock.Id == id ? change(stock) : stock)] });

    private static Job Part(Job job, string id, Func<Part, Part> change) => job with { Parts = [.. job.Parts.Select(part => part.Id == id ? change(part) : part)] };

    private static Plan Certified(Plan plan, string id) => In(plan, job => Part(job, id, part => part with { Certificate = true }));

    private static Plan Sold(Plan plan, string by) => Stocked(plan, "plate 15", stock => stock with { Supplier = by });

    private static Plan Dealer(Plan plan, bool certificates) => In(plan, job => job with { Suppliers = [new() { Name = "Dema", GivesCertificates = certificates }] });

    /// <summary>The leftover as if it came cut to size out of a row named "row".</summary>
    private static Plan CutFor(Plan plan)
    {
        plan = Stocked(plan, "R1", stock => stock with { Id = "row cut for bracket", RackMark = null, CutFor = "bracket" });
        return plan with { Layouts = plan.Layouts.SetItem(1, plan.Layouts[1] with { StockId = "row cut for bracket" }) };
    }

    private static Plan Layout(Plan plan, Func<Layout, Layout> change) => plan with { Layouts = plan.Layouts.SetItem(2, change(plan.Layouts[2])) };

    private static Plan Whole(Plan plan, Func<Layout, Layout> change) => plan with { Layouts = plan.Layouts.SetItem(3, change(plan.Layouts[3])) };

    private static Plan Proven(Plan plan, long units) => plan with { Status = SolveStatus.Proven, Bound = Bound.Of(plan.TotalCost + (Unit * (int)units), "a test") };
}
