using System.Text.Json.Nodes;
using Nest.Check;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Tests.Data;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Check;

/// <summary>Plans and plan files that nobody should make: the answer is a finding, never an exception.</summary>
public sealed class HostilePlansTest : IDisposable
{
    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    public static TheoryData<string, Func<Plan, Plan>> Hostile() => new()
    {
        { "no layouts", plan => plan with { Layouts = default } },
        { "no pieces", plan => plan with { Layouts = plan.Layouts.SetItem(0, plan.Layouts[0] with { Pieces = default }) } },
        { "null layout", plan => plan with { Layouts = plan.Layouts.Add(null!) } },
        { "null job", plan => plan with { Job = null! } },
        { "no materials", plan => plan with { Job = plan.Job with { Materials = default } } },
        { "null saw", plan => plan with { Job = plan.Job with { Saws = plan.Job.Saws.Add(null!) } } },
        { "no cut rates", plan => Saw(plan, saw => saw with { CutRates = default }) },
        { "cut rate zero", plan => Saw(plan, saw => saw with { DefaultCutRate = 0m }) },
        { "cut rate of nothing", plan => Saw(plan, saw => saw with { DefaultCutRate = 1e-28m, HourlyRate = 9_999_999m }) },
        { "cut rate negative", plan => Saw(plan, saw => saw with { CutRates = [new("aluminium", -5m)] }) },
        { "unknown kind of saw", plan => Saw(plan, saw => saw with { Kind = (SawKind)9 }) },
        { "stack height below zero", plan => Saw(plan, saw => saw with { StackHeight = Mm(-1) }) },
        { "density beyond all", plan => Material(plan, material => material with { Density = 1e25m }) },
        { "scrap price beyond all", plan => Material(plan, material => material with { ScrapPricePerKilogram = 1e27m }) },
        { "density zero", plan => Material(plan, material => material with { Density = 0m }) },
        { "supplier twice", plan => plan with { Job = plan.Job with { Suppliers = [new() { Name = "Dema" }, new() { Name = "DEMA" }] } } },
        { "supplier's rate negative", plan => plan with { Job = plan.Job with { Suppliers = [new() { Name = "Dema", Currency = "USD", Rate = -1.16m }] } } },
        { "supplier's rate absurd", plan => plan with { Job = plan.Job with { Suppliers = [new() { Name = "Dema", Currency = "USD", Rate = 1.8e19m }] } } },
        { "lead time below zero", plan => plan with { Job = plan.Job with { Suppliers = [new() { Name = "Dema", LeadDays = -1 }] } } },
        { "grip below zero in a rule for nobody", plan => plan with { Job = plan.Job with { AllowanceRules = [.. plan.Job.AllowanceRules, new() { MaterialId = "none", Allowances = new() { Grip = Mm(-3) } }] } } },
        { "spares without end", plan => Part(plan, part => part with { ExtraPercent = 1e9m }) },
        { "spares that are not the percentage", plan => Part(plan, part => part with { ExtraPercent = 37m }) },
        { "price that does not follow", plan => Stock(plan, stock => stock with { UnitPrice = 2147483648m }) },
        { "cut from a row, but for nobody", plan => Stock(plan, stock => stock with { CutFrom = new(stock.Length, stock.Width, Money.Zero) }) },
        { "price per metre that does not follow", plan => Stock(plan, stock => stock with { UnitPrice = 7m, PriceBasis = PriceBasis.Metre }) },
        { "removal rate zero", plan => plan with { Job = plan.Job with { Mill = new() { DefaultRemovalRate = 0m, HourlyRate = 5m } } } },
        { "null order", plan => plan with { Orders = plan.Orders.Add(null!) } },
        { "null breaks", plan => Stock(plan, stock => stock with { Terms = null! }) },
        { "length beyond all", plan => Stock(plan, stock => stock with { Length = Length.MaxValue }) },
        { "cost beyond all", plan => plan with { TotalCost = Money.FromUnits(long.MaxValue) } },
        { "count beyond all", plan => plan with { Layouts = plan.Layouts.SetItem(0, plan.Layouts[0] with { Count = int.MaxValue }) } },
    };

    [Theory]
    [MemberData(nameof(Hostile))]
    public void The_checker_finds_it_and_does_not_throw(string how, Func<Plan, Plan> spoil) =>
        PlanChecker.Check(spoil(TestPlan.Good())).Should().NotBeEmpty(how);

    [Fact]
    public void A_piece_bought_whole_has_no_other_tree()
    {
        var job = Job([Flat("p", 100, 50, 10)], [Plate("whole", 2000, 1000, 12)]);
        var sheet = Box(0, 0, 2000, 1000);
        var layout = new Layout
        {
            Number = 1, StockId = "whole", SawId = "plate saw", Count = 1, Sheet = sheet, Trims = default, Pieces = [],
            Offcuts = [new(sheet, true, Money.FromAmount(120))], Cost = new(Money.FromAmount(200), Money.Zero, Money.Zero, Money.FromAmount(120), Money.Zero),
            Tree = new() { Kind = CutNodeKind.Offcut, Area = Box(7, 7, 1, 1), Index = 0 },
        };
        var plan = TestPlan.Good() with { Job = job, Layouts = [layout] };
        PlanChecker.Check(plan).Should().Contain(finding => finding.Rule == "empty-layout");
        PlanChecker.Check(plan with { Layouts = [layout with { Tree = layout.Tree with { Area = sheet } }] }).Should().NotContain(finding => finding.Rule == "empty-layout");
    }

    /// <summary>Every value of a plan file in turn: null, of the wrong sign, far too large, and null added to every list.</summary>
    [Fact]
    public void A_plan_file_with_any_value_spoilt_is_read_or_refused_but_never_throws()
    {
        var text = PlanFile.ToText(TestPlan.Good());
        var paths = new List<JsonNode>();
        Collect(JsonNode.Parse(text)!, paths);
        var count = paths.Count;
        count.Should().BeGreaterThan(400);
        var file = Path.Combine(folder.Root, "spoilt.json");
        for (var at = 1; at < count; at += 29)
        {
            foreach (var spoil in (string[])["null", "-3", "1e30", "[null]"])
            {
                var root = JsonNode.Parse(text)!;
                var nodes = new List<JsonNode>();
                Collect(root, nodes);
                var node = nodes[at];
                if (spoil == "[null]" && node is JsonArray list)
                {
                    list.Add(null);
                }
                else
                {
                    node.ReplaceWith(JsonNode.Parse(spoil));
                }

                File.WriteAllText(file, root.ToJsonString());
                var read = PlanFile.Read(file);
                if (read.Value is { } plan)
                {
                    var check = () => PlanChecker.Check(plan);
                    check.Should().NotThrow();
                }
                else
                {
                    read.Findings.Should().NotBeEmpty();
                }
            }
        }
    }

    [Fact]
    public void Null_in_any_list_of_a_plan_file_is_refused()
    {
        var text = PlanFile.ToText(TestPlan.Good());
        var all = new List<JsonNode>();
        Collect(JsonNode.Parse(text)!, all);
        var lists = all.Select((node, at) => (node, at)).Where(pair => pair.node is JsonArray { Count: > 0 }).DistinctBy(pair => Shape(pair.node)).ToList();
        lists.Count.Should().BeGreaterThan(14);
        foreach (var (_, at) in lists)
        {
            var root = JsonNode.Parse(text)!;
            var nodes = new List<JsonNode>();
            Collect(root, nodes);
            ((JsonArray)nodes[at]).Add(null);
            var read = PlanFile.Read(folder.Write("null.json", root.ToJsonString()));
            read.Value.Should().BeNull(nodes[at].GetPath());
            read.Findings.Should().NotBeEmpty();
        }

        // Lists of one place, whatever their number: $.layouts[3].pieces is $.layouts[].pieces.
        static string Shape(JsonNode list) => System.Text.RegularExpressions.Regex.Replace(list.GetPath(), "[0-9]+", "");
    }

    private static void Collect(JsonNode node, List<JsonNode> into)
    {
        into.Add(node);
        foreach (var child in node switch
        {
            JsonObject values => values.Select(value => value.Value),
            JsonArray list => list,
            _ => [],
        })
        {
            if (child is not null)
            {
                Collect(child, into);
            }
        }
    }

    private static Plan Saw(Plan plan, Func<Saw, Saw> change) => plan with { Job = plan.Job with { Saws = [change(plan.Job.Saws[0]), .. plan.Job.Saws.Skip(1)] } };

    private static Plan Material(Plan plan, Func<Material, Material> change) =>
        plan with { Job = plan.Job with { Materials = [change(plan.Job.Materials[0]), .. plan.Job.Materials.Skip(1)] } };

    private static Plan Part(Plan plan, Func<Part, Part> change) => plan with { Job = plan.Job with { Parts = [change(plan.Job.Parts[0]), .. plan.Job.Parts.Skip(1)] } };

    private static Plan Stock(Plan plan, Func<Stock, Stock> change) => plan with { Job = plan.Job with { Stocks = [change(plan.Job.Stocks[0]), .. plan.Job.Stocks.Skip(1)] } };
}
