using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output;
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
    public void Texts_neither_overlap_nor_leave_their_box(string name)
    {
        foreach (var scene in Scenes(SamplePlans.All().First(sample => sample.Name == name).Plan))
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

    internal static IEnumerable<Scene> Scenes(Plan plan)
    {
        var context = new SheetContext(plan, new OutputOptions());
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
        }
    }
}
