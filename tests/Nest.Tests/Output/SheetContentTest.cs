using System.Globalization;
using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output;
using Nest.Output.Pictures;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Tests.Output;

/// <summary>What issue 7 wants to be read on every sheet, looked for on the pages as they are laid out.</summary>
public sealed class SheetContentTest
{
    public static TheoryData<string> Names => [.. SamplePlans.All().Select(sample => sample.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_page_names_job_day_plan_and_its_number(string name)
    {
        var plan = Sample(name);
        var context = new SheetContext(plan, new OutputOptions { Date = new DateOnly(2026, 11, 25) });
        var pages = CutSheet.Pages(context, CutSequencer.Order(plan), Paper.A4);
        var job = Nest.Output.Fonts.FontBook.Clean(plan.Job.Name)[..12];
        for (var at = 0; at < pages.Count; at++)
        {
            var foot = string.Join(" ", pages[at].Texts.Where(text => text.Y > 280).Select(text => text.Text));
            foot.Should().Contain(job).And.Contain("2026-11-25").And.Contain($"plan {context.Print}").And.Contain($"page {at + 1} of {pages.Count}");
        }
    }

    [Fact]
    public void A_line_that_finds_no_room_stands_on_the_next_page_not_on_top_of_the_one_before()
    {
        // Enough stock to fetch fills the first page; somewhere on the way the line of totals is the first that does not fit.
        var plan = SamplePlans.Brackets();
        var work = CutSequencer.Order(plan);
        var (layout, stock) = (plan.Layouts[0], plan.StockOf(plan.Layouts[0]));
        var over = 0;
        for (var more = 8; more < 30; more++)
        {
            var copies = Enumerable.Range(1, more).Select(at => stock with { Id = $"{stock.Id} no. {at}" }).ToList();
            var filled = plan with
            {
                Job = plan.Job with { Stocks = [.. plan.Job.Stocks, .. copies] },
                Layouts = [.. plan.Layouts, .. copies.Select((copy, at) => layout with { StockId = copy.Id, Number = plan.Layouts.Length + at + 1 })],
            };
            var context = new SheetContext(filled, new OutputOptions());
            var pages = new SheetPages(context, Paper.A4);
            FrontPage.Draw(pages, context, work);
            var scenes = pages.Build();
            var on = scenes.FindIndex(scene => scene.Texts.Any(text => text.Text.StartsWith("To saw:", StringComparison.Ordinal)));
            over += on;
            var line = scenes[on].Texts.First(text => text.Text.StartsWith("To saw:", StringComparison.Ordinal));
            scenes[on].Texts.Where(text => text != line && Math.Abs(text.Y - line.Y) < 2).Should().BeEmpty($"{more} more pieces are fetched");
        }

        over.Should().BeGreaterThan(0);
    }

    [Fact]
    public void What_is_above_the_users_limit_is_marked_for_help_and_nothing_else_is()
    {
        // brackets: plates of 64.8 kg and 15.2 kg, bars of 16.8 and 15.1 kg; 2000 × 1000 × 12 mm × 2700 kg/m³ = 64.8 kg.
        foreach (var (limit, marked) in new[] { (70, 0), (25, 1), (16, 2), (1, 5) })
        {
            var plan = SamplePlans.Brackets();
            plan = plan with { Job = plan.Job with { LiftLimit = new Mass(limit) } };
            var front = CutSheet.Pages(new SheetContext(plan, new OutputOptions()), CutSequencer.Order(plan), Paper.A4)[0];
            front.Texts.Count(text => text.Text.StartsWith('▲')).Should().Be(marked, $"above {limit} kg");
        }
    }

    [Fact]
    public void Cautions_are_those_of_what_is_cut()
    {
        var magnesium = Words(SamplePlans.LongNames());
        magnesium.Should().Contain("class D").And.NotContain("two people or a stand");
        var brackets = Words(SamplePlans.Brackets());
        brackets.Should().NotContain("class D").And.Contain("two people or a stand").And.Contain("manual").And.Contain("razors");

        static string Words(Plan plan) => string.Join(' ', Cautions.Of(new SheetContext(plan, new OutputOptions())));
    }

    /// <summary>Beside each cut through the whole plate stands its distance from the reference edge, added up here from strips and kerfs.</summary>
    [Fact]
    public void Running_measures_count_from_the_reference_edge()
    {
        var plan = SamplePlans.Brackets();
        var layout = plan.Layouts.Single(one => one.StockId == "R-07");

        // Three rips: strips of 140, 45 and 45 mm with kerfs of 4 mm between them.
        var scene = LayoutPicture.Pages(new SheetContext(plan, new OutputOptions()), layout, CutSequencer.Sequence(plan, layout))[0];
        var right = scene.Texts.Where(text => text.Layer == Layer.Cut && text.X > 200).Select(text => text.Text).ToArray();
        right.Should().Contain(["140", "189", "238"]);
    }

    [Fact]
    public void Two_runs_give_the_same_bytes_in_any_culture()
    {
        var first = Files();
        var before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = new CultureInfo("de-DE");
            var second = Files();
            second.Select(file => file.Name).Should().Equal(first.Select(file => file.Name));
            foreach (var ((name, bytes), (_, other)) in first.Zip(second))
            {
                bytes.AsSpan().SequenceEqual(other).Should().BeTrue(name);
            }
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }

        static (string Name, byte[] Bytes)[] Files() => [.. OutputFolder.Contents(SamplePlans.Ordered(), new OutputOptions())];
    }

    private static Plan Sample(string name) => SamplePlans.All().First(sample => sample.Name == name).Plan;
}
