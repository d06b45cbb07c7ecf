using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>A rack, and a job of ten brackets and six feet on plates and bars that can be bought.</summary>
/// <remarks>Its plan: layout 1 cuts four brackets from each of two plates of 1000 × 500 × 10, layout 2 two from a leftover of the rack, layout 3 six feet from a bar of 3000.</remarks>
internal sealed class BracketShop : IDisposable
{
    private readonly RackFixture rack = new();
    private readonly RackPiece? leftover;

    /// <param name="piece">Leftover that lies on the rack, of 500 × 300, so that two brackets come out of it; null: none does, and there is no <see cref="Plan"/>.</param>
    public BracketShop(RackPiece? piece = null) => leftover = piece is null ? null : Store.Add(piece);

    public static Part Bracket { get; } = SamplePlans.Part("bracket", SamplePlans.Aluminium.Id, 120, 80, 10, 10);

    public static Part Foot { get; } = SamplePlans.Part("foot", SamplePlans.Steel.Id, 120, 40, 12, 6);

    public static Stock Sheet { get; } = SamplePlans.Plate("plate", 1000, 500, 10, 90);

    public RackStore Store => rack.Store;

    /// <summary>The leftover as it was entered.</summary>
    public RackPiece Leftover => leftover ?? throw new InvalidOperationException("no leftover lies there");

    public static Job Job() => SamplePlans.Job("job", [Bracket, Foot], [Sheet, SamplePlans.FlatBar("bar", 3000, 40, 12, 30)]);

    /// <summary>The plan, on the leftover as it lies there now.</summary>
    public Plan Plan()
    {
        var job = Job();
        job = job with { Stocks = [.. job.Stocks, Store.Show(Leftover.Mark).ToStock(Money.FromAmount(20))] };
        return SamplePlans.Plan(
            job, SamplePlans.Grid(job, job.Stocks[0], 1, 2, Bracket, 2, 2), SamplePlans.Grid(job, job.Stocks[2], 2, 1, Bracket, 1, 2), SamplePlans.Grid(job, job.Stocks[1], 3, 1, Foot, 6, 1));
    }

    public void Dispose() => rack.Dispose();
}
