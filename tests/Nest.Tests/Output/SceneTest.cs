using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output;
using Nest.Output.Fonts;
using Nest.Output.Orders;
using Nest.Output.Pictures;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Tests.Output;

/// <summary>What is laid out, measured on the model: no text on another, none outside its box or the page.</summary>
public sealed class SceneTest
{
    public static TheoryData<string> Names => [.. SamplePlans.All().Select(sample => sample.Name)];

    [Theory]
    [MemberData(nameof(Names))]
    public void Texts_neither_overlap_nor_leave_their_box(string name) =>
        NoOverlaps(Scenes(SamplePlans.All().First(sample => sample.Name == name).Plan), name);

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_cut_of_a_bar_has_its_number_on_the_picture(string name)
    {
        var plan = SamplePlans.All().First(sample => sample.Name == name).Plan;
        var context = new SheetContext(plan, new OutputOptions());
        foreach (var layout in plan.Layouts)
        {
            var sequence = CutSequencer.Sequence(plan, layout);
            var texts = LayoutPicture.Pages(context, layout, sequence).SelectMany(scene => scene.Texts).ToArray();
            var numbered = texts.Where(text => text.Layer == Layer.Cut && text.Tint == Tint.White).SelectMany(text => Range(text.Text)).ToHashSet();
            var numbers = sequence.Steps.Select(step => step.Number);
            numbered.Should().BeSubsetOf(numbers);

            // A plate's picture leaves out what has no room, and the sheet names those. A bar has room for all.
            if (plan.StockOf(layout).Form.IsBar())
            {
                numbered.Should().BeEquivalentTo(numbers, $"{name}, layout {layout.Number}");
            }
        }

        static IEnumerable<int> Range(string text)
        {
            var ends = text.Split('–').Select(end => int.Parse(end, System.Globalization.CultureInfo.InvariantCulture)).Order().ToArray();
            return Enumerable.Range(ends[0], ends[^1] - ends[0] + 1);
        }
    }

    [Fact]
    public void A_plan_without_pieces_has_its_sheets_too()
    {
        var plan = SamplePlans.HugeAndTiny();
        var empty = plan with { Layouts = [plan.Layouts[0] with { Pieces = [], Offcuts = [], Tree = null }], PartCosts = [] };
        var context = new SheetContext(empty, new OutputOptions());
        foreach (var paper in new[] { Paper.A4, Paper.Letter })
        {
            var pages = CutSheet.Pages(context, new WorkOrder([]), paper);
            NoOverlaps(pages, "empty");
            pages[0].Texts.Select(text => text.Text).Should().Contain(text => text.Contains("LIFT", StringComparison.Ordinal));
        }
    }

    /// <summary>Read as two sizes, "5" at the end of a line and "5/8" on the next are a spoilt blank.</summary>
    [Fact]
    public void A_mixed_number_is_never_broken()
    {
        for (var width = 6.0; width < 60; width += 0.5)
        {
            var lines = FontBook.Wrap("strip B, 23 1/4 × 5 5/8 → 12 11/16\" and 317.09 mm", Face.Regular, 3, width);
            if (lines.All(line => FontBook.Width(line, Face.Regular, 3) <= width) && width > 22)
            {
                lines.Should().NotContain(line => line.EndsWith(" 5", StringComparison.Ordinal) || line.EndsWith(" 23", StringComparison.Ordinal)
                    || line.EndsWith(" 12", StringComparison.Ordinal) || line.StartsWith("mm", StringComparison.Ordinal), $"width {width}");
            }
        }
    }

    /// <summary>One cut told once, whatever the rows: every number of the sequence is in exactly one row, and a row's cuts are alike.</summary>
    [Theory]
    [MemberData(nameof(Names))]
    public void Rows_hold_every_step_once_and_only_like_steps_share_a_row(string name)
    {
        foreach (var item in CutSequencer.Order(SamplePlans.All().First(sample => sample.Name == name).Plan).Items)
        {
            var rows = StepRow.Of(item.Sequence);
            rows.SelectMany(row => row.Steps).Select(step => step.Number).Should().Equal(item.Sequence.Steps.Select(step => step.Number));
            foreach (var row in rows.Where(row => row.Steps.Count > 1))
            {
                row.Steps.Skip(1).Should().OnlyContain(step => !step.NewSetting && !step.Turn && step.Measure == row.First.Measure
                    && step.Direction == row.First.Direction && step.Against == row.First.Against);

                // Each strip of a row is cut up by as many cuts, and nothing of it stays on the saw for the next row.
                (row.Steps.Count % row.Metals.Count).Should().Be(0, "a row is in one piece of metal or in many, by as many cuts");

                // What comes off in the first comes off in all; only behind the last one something else may be left.
                var first = StepRow.Off(row.First).Select(Told).ToArray();
                row.Steps.Should().OnlyContain(step => !first.Except(StepRow.Off(step).Select(Told)).Any());
                row.Steps.SkipLast(1).SelectMany(StepRow.Off).Should().NotContain(piece => piece.Kind == WorkKind.Remnant, "a leftover to keep is told by its mark");
            }
        }
    }

    private static string Told(Workpiece piece) => $"{piece.Kind} {piece.To} {piece.PartId} {piece.Area.SizeX} {piece.Area.SizeY}";

    internal static void NoOverlaps(IEnumerable<Scene> scenes, string name)
    {
        foreach (var scene in scenes)
        {
            var texts = scene.Texts.ToArray();
            foreach (var text in texts)
            {
                if (!text.Within.Contains(text.Bounds, 0.35) || !scene.Area.Contains(text.Bounds))
                {
                    Assert.Fail($"'{text.Text}' on {name} {scene.Name}: {text.Bounds} must be within {text.Within}");
                }
            }

            for (var a = 0; a < texts.Length; a++)
            {
                for (var b = a + 1; b < texts.Length; b++)
                {
                    if (texts[a].Bounds.Overlaps(texts[b].Bounds, 0.02))
                    {
                        Assert.Fail($"'{texts[a].Text}' {texts[a].Bounds} and '{texts[b].Text}' {texts[b].Bounds} on {name} {scene.Name}");
                    }
                }
            }
        }
    }

    internal static IEnumerable<Scene> Scenes(Plan plan, OutputOptions? options = null)
    {
        var context = new SheetContext(plan, options ?? new OutputOptions());
        var work = CutSequencer.Order(plan);
        foreach (var item in work.Items)
        {
            foreach (var scene in LayoutPicture.Pages(context, plan.Layouts.First(layout => layout.Number == item.Layout), item.Sequence))
            {
                yield return scene;
            }
        }

        foreach (var paper in new[] { Paper.A4, Paper.Letter })
        {
            foreach (var scene in CutSheet.Pages(context, work, paper))
            {
                yield return scene;
            }

            if (!plan.Orders.IsEmpty)
            {
                foreach (var scene in BuyingSheet.Pages(context, paper).Concat(plan.Orders.SelectMany(order => OrderSheet.Pages(context, order, paper))))
                {
                    yield return scene;
                }
            }
        }
    }
}
