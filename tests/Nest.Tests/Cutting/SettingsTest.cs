using Nest.Core.Costing;
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
    public void What_the_sheet_asks_for_is_what_is_paid_and_the_saw_can_follow()
    {
        foreach (var (name, plan) in SamplePlans.All())
        {
            var order = CutSequencer.Order(plan);
            output.WriteLine($"{name}: {order.Items.Sum(item => item.Sequence.Steps.Length)} cuts, {order.Settings} settings, {order.Minutes:0.0} min");
            foreach (var item in order.Items)
            {
                var layout = plan.Layouts.Single(one => one.Number == item.Layout);
                var (saw, stock) = (plan.SawOf(layout), plan.StockOf(layout));
                if (saw.Kind == SawKind.Cutter)
                {
                    continue;
                }

                // Counted anew from the steps as they are read at the saw, and replayed.
                var angled = item.Sequence.AngledCuts.Count(cut => cut.NewSetting);
                var marks = item.Sequence.Steps.Count(step => step.Marked);
                (Changes(item.Sequence) + angled + marks).Should().Be(item.Sequence.Settings, $"{name}, layout {layout.Number}");
                LayoutSettings.Of(stock, saw, layout, plan.Job.Unit).Count.Should().Be(item.Sequence.Settings, $"{name}, layout {layout.Number}");
                SawWork.Of(saw, stock, layout).Cuts.Should().Be(item.Sequence.Cuts, $"{name}, layout {layout.Number}");
                var left = SawSimulator.Run(plan, layout, item.Sequence).Metal.ToList();
                layout.Pieces.Should().OnlyContain(piece => left.Remove(piece.Area), $"{name}, layout {layout.Number}");
            }

            // Money and minutes are the same number, but for rounding to a ten-thousandth per cut.
            var paid = plan.Layouts.Sum(layout => layout.Cost.Saw.Amount * layout.Count) + SettingCosts.Of(plan.Job, plan.Layouts).Total.Amount;
            var timed = order.Items.Sum(item => item.Minutes * Rate(plan, item) / 60m)
                + order.Items.Sum(item => item.Count * item.Sequence.Cuts * SawOf(plan, item).ChargePerCut);
            paid.Should().BeApproximately(timed, 0.0001m * (1 + order.Cuts), name);
        }
    }

    private static Saw SawOf(Plan plan, WorkItem item) => plan.SawOf(plan.Layouts.Single(one => one.Number == item.Layout));

    private static decimal Rate(Plan plan, WorkItem item) => SawOf(plan, item).HourlyRate;

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
