using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Tests.Output;
using Xunit.Abstractions;

namespace Nest.Tests.Cutting;

/// <summary>Fence settings of the sample and stress plans; the table of DEVELOPERS.md is what this test prints.</summary>
public sealed class SettingsTest(ITestOutputHelper output)
{
    [Fact]
    public void Never_more_settings_than_row_by_row_and_the_saw_can_follow()
    {
        var fewer = 0;
        foreach (var (name, plan) in SamplePlans.All())
        {
            var order = CutSequencer.Order(plan);
            output.WriteLine(
                $"{name}: {order.Items.Sum(item => item.Sequence.Steps.Length)} cuts, {order.Settings} settings, plain {order.PlainSettings}, "
                + $"fewest proven on {order.Items.Count(item => item.Sequence.FewestSettings)} of {order.Items.Count()} layouts");
            foreach (var item in order.Items)
            {
                var layout = plan.Layouts.Single(one => one.Number == item.Layout);
                item.Sequence.Settings.Should().BeLessThanOrEqualTo(item.Sequence.PlainSettings, $"{name}, layout {layout.Number}");
                fewer += item.Sequence.Settings < item.Sequence.PlainSettings ? 1 : 0;
                if (plan.SawOf(layout).Kind == SawKind.Cutter)
                {
                    continue;
                }

                // Counted anew from the steps as they are read at the saw, and replayed.
                var angled = item.Sequence.AngledCuts.Count(cut => cut.NewSetting);
                (Changes(item.Sequence) + angled).Should().Be(item.Sequence.Settings, $"{name}, layout {layout.Number}");
                var left = SawSimulator.Run(plan, layout, item.Sequence).Metal.ToList();
                layout.Pieces.Should().OnlyContain(piece => left.Remove(piece.Area), $"{name}, layout {layout.Number}");
            }
        }

        fewer.Should().BeGreaterThan(3, "the order is there to save settings");
    }

    private static int Changes(CutSequence sequence)
    {
        var count = 0;
        (CutDirection, Core.Quantities.Length)? before = null;
        foreach (var step in sequence.Steps.Where(step => !step.Marked))
        {
            var setting = (step.Direction, step.Measure);
            count += before == setting ? 0 : 1;
            before = setting;
        }

        return count;
    }
}
