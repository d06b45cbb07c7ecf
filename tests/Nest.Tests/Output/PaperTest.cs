using System.Text.RegularExpressions;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output;
using Nest.Output.Pictures;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Tests.Output;

/// <summary>What the person at the saw must be able to do with the cut sheet alone.</summary>
public sealed partial class PaperTest
{
    // A point is 1/72 in.
    private const double Point = 25.4 / 72;

    public static TheoryData<string> Names => [.. SamplePlans.All().Select(sample => sample.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void No_type_is_below_nine_points_and_settings_have_twenty_two(string name)
    {
        var plan = Sample(name);
        var context = new SheetContext(plan, new OutputOptions());
        var work = CutSequencer.Order(plan);
        var pages = CutSheet.Pages(context, work, Paper.A4);
        var small = pages.SelectMany(page => page.Texts).Where(text => text.Size < 9 * Point).Select(text => $"'{text.Text}' {text.Size / Point:0.0} pt");
        string.Join(", ", small.Distinct()).Should().BeEmpty();

        foreach (var item in work.Items.Where(item => item.Sequence.Steps.Length > 0))
        {
            var words = new StepText(context, plan.Layouts.First(layout => layout.Number == item.Layout), item.StillFrom);
            var shown = PagesOf(pages, item.Layout).SelectMany(page => page.Texts).Where(text => text.Size >= 22 * Point).Select(text => text.Text).ToArray();
            foreach (var row in StepRow.Of(item.Sequence))
            {
                var setting = words.SettingParts(row.First).Shown;
                shown.Should().Contain(text => setting == text || setting.StartsWith(text + " ", StringComparison.Ordinal), $"layout {item.Layout}, cut {row.Numbers}: {setting}");
            }
        }
    }

    /// <summary>Every strip is told by its letter, on the picture or on one of the break-down.</summary>
    [Theory]
    [MemberData(nameof(Names))]
    public void Every_strip_has_its_letter_on_a_picture(string name)
    {
        var plan = Sample(name);
        var context = new SheetContext(plan, new OutputOptions());
        foreach (var item in CutSequencer.Order(plan).Items)
        {
            var strips = item.Sequence.Steps.SelectMany(step => step.Yields).Where(piece => piece.Kind == WorkKind.Strip).Select(StepText.Letter).Distinct().ToArray();
            var layout = plan.Layouts.First(one => one.Number == item.Layout);
            var texts = LayoutPicture.Pages(context, layout, item.Sequence).SelectMany(scene => scene.Texts).ToArray();
            var drawn = texts.Where(text => text.Layer == Layer.Label).Select(text => text.Text).ToHashSet();

            // Of very many a small picture names those that it has no room for; they are few.
            var named = texts.Select(text => NoRoom().Match(text.Text)).Where(match => match.Success).SelectMany(match => match.Groups[1].Value.Split(", ")).ToArray();
            named.Length.Should().BeLessThanOrEqualTo(Math.Max(3, strips.Length / 10));
            drawn.UnionWith(named);
            var missing = strips.Where(letter => !drawn.Contains(letter)).ToArray();
            missing.Should().BeEmpty($"{name}, layout {item.Layout}");
        }
    }

    /// <summary>A page of steps that has not the picture above them draws it again, and its cuts are numbered there.</summary>
    [Theory]
    [InlineData("hundred")]
    [InlineData("many")]
    [InlineData("brackets")]
    public void Further_pages_of_steps_repeat_the_picture_with_their_cuts(string name)
    {
        var plan = Sample(name);
        var context = new SheetContext(plan, new OutputOptions());
        var work = CutSequencer.Order(plan);
        var pages = CutSheet.Pages(context, work, Paper.A4);
        var again = pages.Where(page => page.Texts.Any(text => text.Text == context.Texts.StepsMore)).ToArray();
        again.Should().NotBeEmpty();
        foreach (var page in again)
        {
            var title = page.Texts.First(text => text.Text.StartsWith("Cuts of this page", StringComparison.Ordinal));
            page.Elements.OfType<LinesElement>().Count(lines => lines.Layer == Layer.Cut && lines.Stroke.Tint == PartLook.Reference && lines.Stroke.Width == 0.6)
                .Should().Be(Numbers(title.Text[(title.Text.IndexOf(':', StringComparison.Ordinal) + 1)..]).Count(), "each cut of the page is lit");
        }
    }

    /// <summary>Turned as the sheet says, the edge that is named lies where the one before lay. Edges as directions, a quarter to the left maps (x, y) to (−y, x).</summary>
    [Fact]
    public void A_turn_brings_the_new_reference_edge_to_the_fence()
    {
        foreach (var before in Enum.GetValues<Edge>())
        {
            foreach (var now in Enum.GetValues<Edge>().Where(now => now != before))
            {
                var at = Direction(now);
                for (var quarter = 0; quarter < StepText.Quarters(before, now); quarter++)
                {
                    at = (-at.Y, at.X);
                }

                at.Should().Be(Direction(before), $"from {before} to {now}");
            }
        }

        static (int X, int Y) Direction(Edge edge) => edge switch { Edge.Left => (-1, 0), Edge.Right => (1, 0), Edge.Bottom => (0, -1), _ => (0, 1) };
    }

    [Fact]
    public void The_first_page_warns_before_anybody_fetches_and_groups_deliveries()
    {
        var plan = SamplePlans.Ordered();
        var context = new SheetContext(plan, new OutputOptions { Date = new DateOnly(2026, 11, 25) });
        var texts = CutSheet.Pages(context, CutSequencer.Order(plan), Paper.A4)[0].Texts.ToArray();
        double Y(string start) => texts.First(text => text.Text.StartsWith(start, StringComparison.Ordinal)).Y;
        Y("Before you start").Should().BeLessThan(Y("Fetch from the rack"));

        // Lead times of 3 and 6 days from 25 November, added by hand.
        Y("From Halmetall (invented), due 2026-11-28").Should().BeLessThan(Y("From Stangen Ost (invented), due 2026-12-01"));
        texts.Select(text => text.Text).Should().Contain("came").And.Contain("checked").And.Contain("ready", "what comes cut to size is no layout to cut");
    }

    /// <summary>Blanks of the hand-over list, added up, are those of the plan; what is beyond the sets is told as spare.</summary>
    [Theory]
    [MemberData(nameof(Names))]
    public void Blanks_to_hand_over_are_all_blanks(string name)
    {
        var plan = Sample(name);
        var context = new SheetContext(plan, new OutputOptions());
        var listed = BlankSizes.Of(context).ToArray();
        listed.Sum(entry => entry.Sizes.Sum(size => size.Count)).Should().Be(plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Length));
        foreach (var (part, sizes) in listed)
        {
            var total = plan.Layouts.Sum(layout => layout.Count * layout.Pieces.Count(piece => piece.PartId == part.Id));
            sizes.Sum(size => size.Count).Should().Be(total, part.Id);
            HandOver.Spare(context, part.Id, sizes).Should().Be(Math.Max(0, total - (part.Quantity * plan.Job.Batch)));
        }
    }

    /// <summary>The chain of a bar, run by run with a kerf behind each that something follows, is as long as the bar.</summary>
    [Fact]
    public void Runs_of_a_bar_add_up_to_its_length()
    {
        foreach (var (name, plan) in SamplePlans.All())
        {
            var shown = new SheetContext(plan, new OutputOptions()).Plan;
            foreach (var layout in shown.Layouts.Where(layout => shown.StockOf(layout).Form.IsBar() && shown.StockOf(layout).CutFor is null))
            {
                var kerf = shown.SawOf(layout).Kerf;
                var runs = BarRun.Of(layout, kerf);
                runs.SelectMany(run => run.Pieces).Should().HaveCount(layout.Pieces.Length);
                runs[0].From.Nanometres.Should().Be(0, name);
                runs[^1].To.Should().Be(layout.Sheet.SizeX);
                foreach (var (run, next) in runs.Zip(runs.Skip(1)))
                {
                    (next.From - run.To).Should().Be(kerf, $"{name}, layout {layout.Number}");
                }
            }
        }
    }

    /// <summary>One supplier fewer, by hand: the bars of Stangen Ost bought at Halmetall for 1 a piece more. Without him his delivery of 18 and what
    /// his smallest order of 900 adds are saved; Halmetall's goods stay below the 4 000 that make delivery free.</summary>
    [Fact]
    public void One_supplier_fewer_costs_what_the_same_layouts_cost_elsewhere()
    {
        var plan = SamplePlans.Ordered();
        var east = plan.Job.Stocks.Where(stock => stock.Supplier == "Stangen Ost (invented)").ToArray();
        var job = plan.Job with
        {
            WantedInDays = null,
            Stocks = [.. plan.Job.Stocks, .. east.Select(stock => stock with { Id = stock.Id + "-here", Supplier = "Halmetall (invented)", PiecePrice = stock.PiecePrice + Core.Quantities.Money.FromAmount(1) })],
        };
        plan = plan with { Job = job };
        var context = new SheetContext(plan, new OutputOptions());
        var fewer = Nest.Output.Orders.SupplierFewer.Of(context).ToArray();
        var order = plan.Orders.Single(one => one.Supplier == "Stangen Ost (invented)");
        var without = fewer.Single(one => one.Supplier == order.Supplier);
        without.Missing.Should().Be(0);
        without.From.Should().Equal("Halmetall (invented)");
        without.More!.Value.Amount.Should().Be(order.Lines.Sum(line => line.Count) - order.TopUp.Amount - 18m);

        fewer.Single(one => one.Supplier == "Halmetall (invented)").Missing.Should().BeGreaterThan(0, "nobody else has his plates");
    }

    /// <summary>Bars with few cuts share a page, two a page here, each with its own heading; no setting is smaller for that.</summary>
    [Fact]
    public void Bars_with_few_cuts_share_a_page()
    {
        var plan = SamplePlans.Brackets();
        var bar = plan.Layouts.First(layout => plan.StockOf(layout).Form.IsBar() && layout.Tree is not null);
        plan = plan with { Orders = [], Layouts = [bar with { Number = 1, Count = 1 }, bar with { Number = 2, Count = 1 }, bar with { Number = 3, Count = 1 }, bar with { Number = 4, Count = 1 }] };
        var pages = CutSheet.Pages(new SheetContext(plan, new OutputOptions()), CutSequencer.Order(plan), Paper.A4);
        var heads = pages.Select(page => page.Texts.Count(text => text.Text.StartsWith("Layout ", StringComparison.Ordinal) && text.Size >= 6)).Where(count => count > 0);
        heads.Should().Equal(2, 2);
    }

    /// <summary>Where a saw begins with a metal there is room for blade, speed and feed; a layout that was kept says so.</summary>
    [Fact]
    public void A_metal_begins_with_room_for_blade_and_speed_and_a_kept_layout_is_named()
    {
        var plan = SamplePlans.Brackets();
        plan = plan with { Layouts = plan.Layouts.SetItem(0, plan.Layouts[0] with { Kept = true }) };
        var work = CutSequencer.Order(plan);
        var context = new SheetContext(plan, new OutputOptions());
        var texts = CutSheet.Pages(context, work, Paper.A4).SelectMany(page => page.Texts).Select(text => text.Text).ToArray();
        var groups = work.Items.Where((item, at) => at == 0 || item.Sequence.SawId != work.Items.ElementAt(at - 1).Sequence.SawId || Metal(item) != Metal(work.Items.ElementAt(at - 1)));
        texts.Where(text => text.Contains(": blade ____", StringComparison.Ordinal)).Select(text => text[..text.IndexOf(':', StringComparison.Ordinal)])
            .Should().Equal(groups.Where(item => plan.SawOf(plan.Layouts.First(layout => layout.Number == item.Layout)).Kind != SawKind.Cutter).Select(Metal), "one for each metal on each saw");
        texts.Count(text => text.Contains("stays from the plan before", StringComparison.Ordinal)).Should().Be(2, "in the list of layouts and at the layout");
        System.Text.Encoding.UTF8.GetString(Nest.Output.Tablet.TabletPage.Bytes(context, work)).Should().Contain("stays from the plan before");

        string Metal(WorkItem item) => plan.StockOf(plan.Layouts.First(layout => layout.Number == item.Layout)).MaterialId;
    }

    /// <summary>In sixteenths kerfs of 0.045 and 0.09 in are both 1/16: what they are beyond it stands behind (0.045 − 0.0625 = −0.0175,
    /// 0.09 − 0.0625 = 0.0275).</summary>
    [Theory]
    [InlineData(0.045, "(plan 1/16\" -0.0175\")")]
    [InlineData(0.09, "(plan 1/16\" +0.0275\")")]
    [InlineData(0.0625, "(plan 1/16\")")]
    public void A_kerf_that_is_no_fraction_is_never_printed_as_one(double kerf, string printed)
    {
        var plan = SamplePlans.Inches(16);
        plan = plan with { Job = plan.Job with { Saws = [.. plan.Job.Saws.Select(saw => saw with { Kerf = SamplePlans.In((decimal)kerf) })] } };

        // The lines to sign name the kerf; the layout of the sample has another one, so that its cuts are not drawn here.
        var layout = plan.Layouts.First(one => plan.StockOf(one).Form.IsBar());
        var context = new SheetContext(plan with { Layouts = [layout] }, new OutputOptions());
        var item = new WorkItem(layout.Number, 1, 1, 1, new() { Layout = layout.Number, SawId = layout.SawId, Steps = [], Settings = 0, Handlings = 1, Turns = 0, Minutes = 1 }, null, 1);
        var pages = new SheetPages(context, Paper.Letter);
        LayoutSheet.Draw(pages, context, [item]);
        string.Join(' ', pages.Build().SelectMany(page => page.Texts).Select(text => text.Text)).Should().Contain(printed);
    }

    private static IEnumerable<Scene> PagesOf(IReadOnlyList<Scene> pages, int layout) =>
        pages.Where(page => page.Texts.Any(text => text.Text.StartsWith($"Layout {layout} ", StringComparison.Ordinal)));

    private static IEnumerable<int> Numbers(string ranges) => ranges.Split(',', StringSplitOptions.TrimEntries).SelectMany(range =>
    {
        var ends = range.Split('–').Select(end => int.Parse(end, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        return Enumerable.Range(ends[0], ends[^1] - ends[0] + 1);
    });

    [GeneratedRegex(@"\(no room for (.+)\)$")]
    private static partial Regex NoRoom();

    private static Plan Sample(string name) => SamplePlans.All().First(sample => sample.Name == name).Plan;
}
