using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output;
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
