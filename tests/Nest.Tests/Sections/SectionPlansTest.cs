using System.Collections.Concurrent;
using System.Collections.Immutable;
using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Data;
using Nest.Judge;
using Nest.Judge.Enumeration;
using Nest.Judge.Jobs;
using Nest.Judge.Runs;
using Nest.Output.Pictures;
using Nest.Tests.Choose;
using Nest.Tests.Contracts;
using Nest.Tests.Data;
using static Nest.Tests.Check.TestShop;
using JobFolder = Nest.Tests.Data.JobFolder;

namespace Nest.Tests.Sections;

/// <summary>Lengths of sections from blank to checked plan.</summary>
public sealed class SectionPlansTest : IDisposable
{
    private readonly JobFolder folder = new();

    public void Dispose() => folder.Dispose();

    private static Part Length(string id, Form form, decimal length, decimal width, decimal height, SectionDetail detail, int quantity = 1) =>
        Flat(id, length, width, height, quantity) with { Forms = (Forms)(1 << (int)form), Detail = detail };

    private static Stock Section(string id, Form form, decimal width, decimal height, SectionDetail detail, decimal length = 3000m, decimal price = 40m) =>
        Bar(id, form, width, height, length, price, minus: 0) with { Detail = detail, Supplier = "Invented Metals", ListedSection = null };

    private static readonly SectionDetail Three = new() { Wall = Mm(3) };
    private static readonly SectionDetail Two = new() { Wall = Mm(2) };

    private static Job Frame() => Job(
        [
            Length("side", Form.RectangularTube, 700, 60, 40, Three, 4) with { Ends = new(Angle.FromDegrees(45m), Angle.FromDegrees(45m), true) },
            Length("strut", Form.Angle, 330, 50, 30, Three, 3),
            Length("spacer", Form.RoundTube, 60, 25, 25, Two, 6),
            Length("standoff", Form.HexBar, 30, 19, 19, new(), 8),
            Round("pin", 15, 40, 5) with { Forms = Forms.RoundBar | Forms.HexBar },
            Length("rail", Form.Profile, 500, 40, 40, new() { Name = "Slot 40" }, 2),
        ],
        [
            Section("t60x40x2", Form.RectangularTube, 60, 40, Two, price: 5), Section("t60x40x3", Form.RectangularTube, 60, 40, Three),
            Section("l50x30x3", Form.Angle, 50, 30, Three), Section("r25x2", Form.RoundTube, 25, 25, Two), Section("h19", Form.HexBar, 19, 19, new()),
            Section("slot", Form.Profile, 40, 40, new() { Name = "SLOT 40" }) with { ListedSection = Area.FromSquareNanometres((Int128)600_000_000 * 1_000_000) },
        ]) with
    {
        AllowanceRules = [new() { Allowances = new() { SideCleanUp = Mm(1), EndCleanUp = Mm(1.5m), FaceTop = Mm(0.5m), FaceBottom = Mm(0.5m), Grip = Mm(3) } }],
    };

    [Fact]
    public void A_length_comes_from_its_own_section_alone_and_only_its_ends_are_worked()
    {
        var blanks = BlankSizer.Size(Frame()).ToDictionary(blank => blank.Part.Id);

        // Frame members stay as sawn, spacers and standoffs are faced: 2 × 1.5. The mitres take kerf ÷ cos 45° each, up to 0.01 mm.
        blanks["side"].Fits.Single().Should().Match<BlankFit>(fit => fit.StockId == "t60x40x3" && fit.ExtraCost == Money.Zero && fit.Ends!.AcrossThickness);
        var kerf = (decimal)Math.Ceiling((double)Frame().SawFor(Frame().Stocks[1])!.Kerf.ToMillimetres() * Math.Sqrt(2) * 100) / 100;
        blanks["side"].Fits.Single().SizeX.Should().Be(Mm(700 + (2 * kerf)));
        blanks["strut"].Fits.Single().SizeX.Should().Be(Mm(330));
        blanks["spacer"].Fits.Single().SizeX.Should().Be(Mm(63));
        blanks["standoff"].Fits.Single().SizeX.Should().Be(Mm(33));
        blanks["rail"].Fits.Single().StockId.Should().Be("slot");

        // The pin is turned from the hex bar that holds its circle: 15 + 2 × 1 within 19. Milled off: (19² √3 ÷ 2 − 17² π ÷ 4) mm² × length.
        var pin = blanks["pin"].Fits.Single();
        pin.StockId.Should().Be("h19");
        var cubic = ((361 * Math.Sqrt(3) / 2) - (289 * Math.PI / 4)) * (double)pin.SizeX.ToMillimetres() / 1000;
        ((double)pin.ExtraCost.Amount).Should().BeApproximately(cubic / 30 * 90 / 60, 0.0001);
    }

    [Fact]
    public void A_section_that_nobody_has_says_what_there_is()
    {
        var job = Frame() with { Parts = [Length("side", Form.RectangularTube, 700, 60, 40, new() { Wall = Mm(4) })] };
        BlankSizer.Size(job).Single().Reason.Should().StartWith("rectangular tube: t60x40x").And.EndWith("is another section");
    }

    [Fact]
    public void The_plan_is_right_and_survives_its_file()
    {
        var plan = SolverTests.Solve(Frame());
        plan.Unplaced.Should().BeEmpty();
        PlanChecker.Check(plan).Should().BeEmpty();

        // Saw time by the metal in the section: 2 · 3 · (60 + 40 − 6) = 564 mm² of tube.
        plan.StockOf(plan.Layouts.Single(layout => layout.StockId == "t60x40x3")).Section.ToSquareMillimetres().Should().Be(564m);
        var read = PlanFile.Read(folder.Write("plan.json", PlanFile.ToText(plan)));
        read.Findings.Should().BeEmpty();
        Fingerprint.Of(read.Value!).Should().Be(Fingerprint.Of(plan));
        var old = PlanFile.ToText(plan).Replace("\"version\": 3", "\"version\": 2", StringComparison.Ordinal);
        PlanFile.Read(folder.Write("old.json", old)).Findings.Should().ContainSingle().Which.Message.Should().Contain("sections");
    }

    public static TheoryData<string, Func<Job, Job>, string> Breaks() => new()
    {
        { "wall of the tube", job => Stock(job, "t60x40x3", stock => stock with { Detail = new() { Wall = Mm(4) } }), "section-too-small" },
        { "wall of the part", job => Part(job, "strut", part => part with { Detail = Two }), "section-too-small" },
        { "another size", job => Part(job, "spacer", part => part with { Width = Mm(26), Thickness = Mm(26) }), "section-too-small" },
        { "name of the profile", job => Part(job, "rail", part => part with { Detail = new() { Name = "Slot 41" } }), "section-too-small" },
        { "listed metal", job => Stock(job, "l50x30x3", stock => stock with { ListedSection = Area.FromSquareNanometres((Int128)240_000_000 * 1_000_000) }), "cost-saw" },
        { "no room", job => Stock(job, "t60x40x2", stock => stock with { Detail = new() { Wall = Mm(20) } }), "job-value" },
        { "two sections", job => Part(job, "strut", part => part with { Forms = Forms.Angle | Forms.Tee }), "job-value" },
        { "a flat part from hex", job => Part(job, "pin", part => part with { Round = false }), "job-value" },
        { "a heavier profile", job => Stock(job, "slot", stock => stock with { ListedSection = Area.FromSquareNanometres((Int128)1601 * 1_000_000_000_000) }), "job-value" },
    };

    [Theory]
    [MemberData(nameof(Breaks))]
    public void The_checker_sees_another_section(string what, Func<Job, Job> change, string rule)
    {
        var plan = _plan.Value;
        PlanChecker.Check(plan with { Job = change(plan.Job) }).Select(finding => finding.Rule).Should().Contain(rule, what);
    }

    private static readonly Lazy<Plan> _plan = new(() => SolverTests.Solve(Frame()));

    [PythonFact]
    public void The_second_checker_agrees_and_sees_another_section_too()
    {
        var good = PlanFile.ToText(_plan.Value);
        var files = Breaks().Select((row, at) => folder.Write($"{at}.json", PlanFile.ToText(_plan.Value with { Job = ((Func<Job, Job>)row[1])(_plan.Value.Job) })));
        var (_, text) = SecondChecker.Check([folder.Write("good.json", good), .. files]);
        var lines = text.Split('\n');
        lines[0].Should().EndWith("good.json: OK", text);
        lines.Count(line => line.EndsWith(" differ", StringComparison.Ordinal)).Should().Be(Breaks().Count, text);
    }

    [Fact]
    public void No_plan_or_bound_contradicts_the_enumeration()
    {
        var wrong = new ConcurrentBag<string>();
        var judged = 0;
        Parallel.For(0, 36, new ParallelOptions { MaxDegreeOfParallelism = 2 }, seed =>
        {
            try
            {
                var job = SectionJobs.Make(seed);
                var verdict = Verdict.Of(job, TinyRun.Limits(TinyRun.Work));
                Interlocked.Increment(ref judged);
                verdict.Wrong.ToList().ForEach(one => wrong.Add($"{job.Name}: {one}"));
            }
            catch (TooLargeException)
            {
                // Not every made job can be enumerated.
            }
        });
        wrong.Should().BeEmpty();
        judged.Should().BeGreaterThan(18);
    }

    /// <summary>The outline that is drawn has the area that is reckoned with (shoelace formula; a hollow counts against it).</summary>
    [Theory]
    [InlineData(Form.HexBar, 19, 19, 0, 0)]
    [InlineData(Form.RectangularTube, 60, 40, 3, 0)]
    [InlineData(Form.Angle, 50, 30, 4, 0)]
    [InlineData(Form.Channel, 80, 45, 6, 8)]
    [InlineData(Form.Tee, 50, 40, 5, 6)]
    public void The_drawn_section_is_true(Form form, double b, double h, double wall, double flange)
    {
        var stock = SectionMassTest.Of(form, b, h, wall, flange);
        foreach (var onThickness in (bool[])[false, true])
        {
            var outline = SectionOutline.Of(stock, onThickness)!;
            var areas = outline.Loops.Select(Shoelace).ToList();
            (areas[0] - areas.Skip(1).Sum()).Should().BeApproximately((double)stock.Section.ToSquareMillimetres(), 1e-6);
            outline.Loops.SelectMany(loop => loop).Max(point => point.X).Should().BeApproximately(outline.Width, 1e-9);
            outline.Loops.SelectMany(loop => loop).Max(point => point.Y).Should().BeApproximately(outline.Height, 1e-9);
            if (form != Form.HexBar)
            {
                outline.Metal.Sum(box => box.Width * box.Height).Should().BeApproximately(areas[0] - areas.Skip(1).Sum(), 1e-6);
                (outline.Width, outline.Height).Should().Be(onThickness ? (h, b) : (b, h));
            }
        }

        static double Shoelace((double X, double Y)[] loop) =>
            Math.Abs(loop.Select((point, at) => (point, next: loop[(at + 1) % loop.Length])).Sum(side => (side.point.X * side.next.Y) - (side.next.X * side.point.Y))) / 2;
    }

    private static Job Stock(Job job, string id, Func<Stock, Stock> change) => job with { Stocks = [.. job.Stocks.Select(stock => stock.Id == id ? change(stock) : stock)] };

    private static Job Part(Job job, string id, Func<Part, Part> change) => job with { Parts = [.. job.Parts.Select(part => part.Id == id ? change(part) : part)] };
}
