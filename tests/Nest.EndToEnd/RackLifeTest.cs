using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace Nest.EndToEnd;

/// <summary>The example's whole life by commands alone, as a shop lives it; the metal is reckoned here once more from the plan files.</summary>
public sealed partial class RackLifeTest : IDisposable
{
    private readonly Run run = new();

    [Fact]
    public void Plan_reserve_receive_cut_two_miscut_replan_finish_and_the_metal_balances_to_the_gram()
    {
        // The leftovers go from the list beside the job to the rack, under marks of the rack's own.
        Good("rack", "import", Path.Combine(Repo.Example("cargo-bike"), "rack.csv"), "--new-marks").Should().Contain("R3").And.Contain("added 6 pieces");
        foreach (var file in Directory.GetFiles(Repo.Example("cargo-bike")))
        {
            File.Copy(file, run.Path(Path.GetFileName(file)));
        }

        File.WriteAllLines(run.Path("job.toml"), File.ReadAllLines(run.Path("job.toml")).Where(line => !line.StartsWith("rack =", StringComparison.Ordinal)));
        var found = Books()["found on the rack"];

        Good("plan", run.Path("job.toml"), "--rack", Rack, "--work", "50", "--out", run.Path("first"));
        var first = Plan("first");
        Good("reserve", run.Path("first/data/plan.json")).Should().Contain("P1:");

        // Two layouts are cut: what was bought came this morning, with its papers.
        var whole = first.Layouts.Where(layout => layout is { Mark: null, CutFor: false, Count: 1 }).ToList();
        whole.Should().HaveCountGreaterThan(3);
        Good("receive", "P1", whole[0].Text, "--heat", "H-100", "--certificate", "3.1/77", "--place", "bay");
        Good("cut", "P1", whole[0].Text);
        Good("cut", "P1", whole[1].Text, "--heat", "H-200", "--place", "bay");
        Good("miscut", "P1", whole[2].Text, "slipped in the vise", "--heat", "H-300");

        // What was ordered and has not come: the rest is not planned as if nothing were on its way.
        Nest("plan", run.Path("job.toml"), "--rack", Rack, "--rest", "P1").Should().Be(2);
        run.Error.Should().Contain("nest receive P1").And.Contain("--not-ordered");
        Nest("receive", "P1", "--heat", "H-400", "--place", "bay").Should().Be(2, "one heat is of one material");
        foreach (var layout in whole.Skip(3))
        {
            // Two layouts may cut the same stock: then it came with the first.
            Nest("receive", "P1", layout.Text, "--heat", "H-400", "--place", "bay").Should().BeOneOf(0, 2);
        }

        Nest("receive", "P1", "--place", "bay").Should().BeOneOf(0, 2);
        Good("plan", run.Path("job.toml"), "--rack", Rack, "--rest", "P1", "--work", "50", "--out", run.Path("rest"));
        var rest = Plan("rest");

        // What came is used: at least half of it here. (Where a smallest order must be paid for anyway, to buy one more can be the cheaper way.)
        var came = Regex.Count(Good("rack", "list", "--plan", "P1"), " bay ");
        Good("replan", "P1", run.Path("rest/data/plan.json")).Should().Contain("P2:");
        Regex.Count(Good("rack", "list", "--plan", "P2"), " bay ").Should().BeGreaterThan(came / 2);

        foreach (var layout in rest.Layouts)
        {
            Good("cut", "P2", layout.Text, "--count", layout.Count.ToString(CultureInfo.InvariantCulture));
        }

        Good("plans").Should().MatchRegex("P1 .* replaced").And.MatchRegex("P2 .* finished");
        Good("rack", "check").Should().Contain("agrees");

        Nest("plan", run.Path("job.toml"), "--rack", Rack, "--rest", "P1").Should().Be(2, "or all would be made twice");
        run.Error.Should().Contain("done by P2");

        // Everything that was wanted is made: counted over both plans, forward and back.
        var made = first.Wanted.ToDictionary(part => part.Key, part => Blanks(Good("rack", "trace", "--batch", "P1", "--part", part.Key)));
        made.Should().AllSatisfy(part => part.Value.Should().BeGreaterThanOrEqualTo(first.Wanted[part.Key]));
        Good("rack", "trace", "--heat", "h-100").Should().Contain("3.1/77");
        Good("rack", "trace", "--batch", "P1").Should().Contain("H-200").And.Contain("H-400");

        // To the gram. Bought: by the sizes of the stocks in the plan files; the last piece that was lost counts as bought, too.
        var books = Books();
        books["difference"].Should().Be(0m);
        books["found on the rack"].Should().Be(found);
        var bought = first.Layouts.Where(layout => layout.Mark is null).Sum(layout => layout.StockKilograms * layout.Count)
            + first.Surplus.Sum(piece => piece) + rest.Layouts.Where(layout => layout.Mark is null).Sum(layout => layout.StockKilograms * layout.Count);
        books["bought"].Should().BeApproximately(bought, 0.001m);

        // Good blanks: by their areas and thicknesses in the plan files, of the layouts that were cut as planned.
        LayoutSheet[] done = [whole[0], whole[1], .. first.Layouts.Where(layout => layout.CutFor), .. rest.Layouts];
        (-books["good blanks"]).Should().BeApproximately(done.Sum(layout => layout.BlankKilograms * layout.Count), 0.001m);
        (books["bought"] + books["found on the rack"]).Should().BeApproximately(
            -(books["good blanks"] + books["chips of the saw"] + books["waste of cuts"] + books["on the rack"]), 0.0021m, "each line is rounded to the gram");
        (-books["chips of the saw"]).Should().BePositive();

        // What is on the rack now is what the list says, and its labels, picture and tables can be made of it.
        using (var list = JsonDocument.Parse(Good("rack", "list", "--json")))
        {
            list.RootElement.EnumerateArray().Sum(piece => piece.GetProperty("mass (kg)").GetDecimal()).Should().BeApproximately(-books["on the rack"], 0.001m);
        }

        Good("rack", "labels", run.Path("labels.pdf"));
        Good("rack", "picture", run.Path("rack.pdf"));
        var before = Good("rack", "list");
        Good("rack", "export", run.Path("table.xlsx"));
        Good("rack", "import", run.Path("table.xlsx"), "--rack", run.Path("copy.db"));
        Good("rack", "list", "--rack", run.Path("copy.db")).Should().Be(before);

        // Stock-take: one piece is missing and one thrown away; both leave the books in the open.
        var marks = Marks().Matches(before).Select(match => match.Value).ToList();
        Good("rack", "scrap", marks[0], "--reason", "bent");
        Good("rack", "count", "start");
        Good("rack", "count", "sheet", "1", run.Path("count.pdf"));
        Good(["rack", "count", "found", "1", .. marks.Skip(2)]);
        Good("rack", "count", "apply", "1").Should().Contain("1 piece changed").And.Contain($"lost {marks[1]}");
        books = Books();
        books["lost"].Should().BeNegative();
        books["scrapped whole"].Should().BeNegative();
        books["difference"].Should().Be(0m);

        // And back: the stock-take and the scrapping are undone, the list is as it was.
        Good("rack", "undo");
        var scrapping = Regex.Match(Good("rack", "history"), @"^(\d+) .*scrapped", RegexOptions.Multiline).Groups[1].Value;
        Good("rack", "undo", scrapping);
        Good("rack", "list").Should().Be(before);
        Good("rack", "check");
    }

    public void Dispose() => run.Dispose();

    private string Rack => run.Path("rack.db");

    private string Good(params string[] args)
    {
        Nest(args).Should().Be(0, $"{string.Join(' ', args)}: {run.Error}");
        return run.Out;
    }

    private int Nest(params string[] args) => run.Nest(args.Contains("--rack") ? args : [.. args, "--rack", Rack]);

    private Dictionary<string, decimal> Books() => Good("rack", "balance").Split('\n', StringSplitOptions.RemoveEmptyEntries)
        .Select(line => Regex.Match(line, @"^(.+?)\s+(-?[\d.]+) kg"))
        .ToDictionary(line => line.Groups[1].Value, line => decimal.Parse(line.Groups[2].Value, CultureInfo.InvariantCulture));

    private static int Blanks(string trace) => trace.Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1)
        .Sum(line => int.Parse(Regex.Match(line, @"  (\d+)\s+P\d").Groups[1].Value, CultureInfo.InvariantCulture));

    /// <summary>What the test reads from a plan file by itself: README describes the format.</summary>
    private LifePlan Plan(string folder)
    {
        using var file = JsonDocument.Parse(File.ReadAllText(run.Path(folder + "/data/plan.json")));
        var root = file.RootElement;
        var job = root.GetProperty("job");
        var density = job.GetProperty("materials").EnumerateArray().ToDictionary(one => one.GetProperty("id").GetString()!, one => one.GetProperty("density").GetDecimal());
        var stocks = job.GetProperty("stocks").EnumerateArray().ToDictionary(one => one.GetProperty("id").GetString()!, one => new LifeStock(one, density));
        var layouts = root.GetProperty("layouts").EnumerateArray().Select(one => new LayoutSheet(one, stocks)).ToList();
        var cut = layouts.GroupBy(layout => layout.Stock).ToDictionary(group => group.Key, group => group.Sum(layout => layout.Count));
        var surplus = root.GetProperty("orders").EnumerateArray().SelectMany(order => order.GetProperty("lines").EnumerateArray())
            .Select(line => (Id: line.GetProperty("stock").GetString()!, Count: line.GetProperty("count").GetInt32()))
            .Select(line => stocks[line.Id].Kilograms * (line.Count - cut.GetValueOrDefault(line.Id))).ToList();
        var batch = job.GetProperty("batch").GetInt32();
        var wanted = job.GetProperty("parts").EnumerateArray().ToDictionary(
            part => part.GetProperty("id").GetString()!,
            part => (part.GetProperty("quantity").GetInt32() * batch) + (part.TryGetProperty("extra", out var extra) ? extra.GetInt32() : 0));
        return new(layouts, surplus, wanted);
    }

    [GeneratedRegex(@"^[2-9A-Z]{4,5}\b", RegexOptions.Multiline)]
    private static partial Regex Marks();

    private sealed record LifePlan(List<LayoutSheet> Layouts, List<decimal> Surplus, Dictionary<string, int> Wanted);

    /// <summary>A stock of a plan file: sizes in mm, mass in kg by nominal size.</summary>
    private sealed class LifeStock
    {
        public LifeStock(JsonElement stock, Dictionary<string, decimal> density)
        {
            var form = stock.GetProperty("form").GetString()!;
            var (length, width, thickness) = (Number("length"), Number("width"), Number("thickness"));
            Bar = !form.Equals("plate", StringComparison.OrdinalIgnoreCase);
            Mark = stock.TryGetProperty("rackMark", out var mark) ? mark.GetString() : null;
            CutFor = stock.TryGetProperty("cutFor", out var part) && part.ValueKind == JsonValueKind.String;

            // Micrometre-exact is enough: pi to 15 digits on some kilograms.
            var section = form.Contains("round", StringComparison.OrdinalIgnoreCase) ? thickness * thickness * 3.14159265358979m / 4m : width * thickness;
            var perCubicMillimetre = density[stock.GetProperty("materialId").GetString()!] / 1_000_000_000m;
            PerMillimetre = section * perCubicMillimetre;
            PerSquareMillimetre = thickness * perCubicMillimetre;
            Kilograms = PerMillimetre * length;

            decimal Number(string name) => stock.GetProperty(name).GetDecimal();
        }

        public bool Bar { get; }

        public string? Mark { get; }

        public bool CutFor { get; }

        public decimal Kilograms { get; }

        /// <summary>Of a bar's length.</summary>
        public decimal PerMillimetre { get; }

        /// <summary>Of a plate's area.</summary>
        public decimal PerSquareMillimetre { get; }
    }

    private sealed class LayoutSheet
    {
        public LayoutSheet(JsonElement layout, Dictionary<string, LifeStock> stocks)
        {
            Number = layout.GetProperty("number").GetInt32();
            Stock = layout.GetProperty("stock").GetString()!;
            Count = layout.GetProperty("count").GetInt32();
            var stock = stocks[Stock];
            (Mark, CutFor, StockKilograms) = (stock.Mark, stock.CutFor, stock.Kilograms);
            BlankKilograms = layout.GetProperty("pieces").EnumerateArray().Select(piece => piece.GetProperty("area").EnumerateArray().Select(one => one.GetDecimal()).ToArray())
                .Sum(area => stock.Bar ? area[2] * stock.PerMillimetre : area[2] * area[3] * stock.PerSquareMillimetre);
        }

        public int Number { get; }

        public string Text => Number.ToString(CultureInfo.InvariantCulture);

        public string Stock { get; }

        public int Count { get; }

        public string? Mark { get; }

        public bool CutFor { get; }

        public decimal StockKilograms { get; }

        public decimal BlankKilograms { get; }
    }
}
