using System.Text;
using Nest.Core.Cutting;
using Nest.Output;
using Nest.Output.Draw;
using Nest.Output.Sheets;
using Nest.Output.Tablet;

namespace Nest.Tests.Output;

public sealed class TabletCautionsTest
{
    /// <summary>A caution of 175 characters ended in an ellipsis: "no … long hair near a…".</summary>
    [Fact]
    public void No_caution_is_cut_short_on_the_tablet()
    {
        var plan = SamplePlans.Brackets();
        var context = new SheetContext(plan, new OutputOptions());
        var page = Encoding.UTF8.GetString(TabletPage.Bytes(context, CutSequencer.Order(plan)));
        var cautions = Cautions.Of(context).ToArray();
        cautions.Should().Contain(caution => caution.Length > 160);
        cautions.Should().OnlyContain(caution => page.Contains(SvgFile.Escape(caution), StringComparison.Ordinal));
    }
}
