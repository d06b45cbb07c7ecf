using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Tests.Check;
using Nest.Tests.Data;

namespace Nest.Tests.Bounds;

/// <summary>Small faults, each once found, that must not come back.</summary>
public sealed class SmallFaultsTest
{
    [Fact]
    public void Sheets_of_other_angles_have_another_mark()
    {
        var plan = GenPlan.Small();
        var frame = With(plan, 45, 45);
        var brace = With(plan, 45, -45);

        Fingerprint.Of(frame).Should().NotBe(Fingerprint.Of(brace));
        Fingerprint.OfCutting(frame).Should().NotBe(Fingerprint.OfCutting(brace));
        Fingerprint.OfCutting(plan).Should().NotBe(Fingerprint.OfCutting(frame));

        static Plan With(Plan plan, decimal start, decimal end)
        {
            var ends = new EndAngles(Angle.FromDegrees(start), Angle.FromDegrees(end));
            return plan with { Layouts = [plan.Layouts[0] with { Pieces = [plan.Layouts[0].Pieces[0] with { Ends = ends }, .. plan.Layouts[0].Pieces.Skip(1)] }] };
        }
    }

    [Fact]
    public void Sheets_of_stock_with_other_damage_or_edges_have_another_mark()
    {
        var plan = GenPlan.Small();
        var stock = plan.Job.Stocks[0];
        Plan With(Stock other) => plan with { Job = plan.Job with { Stocks = [other] } };
        Fingerprint.Of(With(stock with { CleanEdges = new(true, false, false, false) })).Should().NotBe(Fingerprint.Of(plan));
        Fingerprint.Of(With(stock with { KeepOuts = [TestShop.Box(300, 200, 20, 20)] })).Should().NotBe(Fingerprint.Of(plan));
    }

    [Fact]
    public void A_batch_too_large_to_count_is_counted_as_too_large()
    {
        var part = TestShop.Flat("p", 10, 10, 10, 1_000_000) with { ExtraPercent = 10m };
        var job = TestShop.Job([part], [TestShop.Plate("s", 100, 100, 12)]).ForBatch(100_000);
        job.Parts[0].Extra.Should().Be(int.MaxValue);
    }
}
