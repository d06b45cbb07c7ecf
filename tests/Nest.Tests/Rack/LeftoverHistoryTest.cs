using Nest.Cli;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Use;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>What a rack with a year of plans behind it tells of its leftovers, against a count by hand.</summary>
/// <remarks>By hand. Bars of 3000, 10 of trim at the saw's end, kerf 1.3, legs of 400; a rest is kept from 200 on, with its raw end: 2, 3, 4, 5 and 6 legs leave 2187.4, 1786.1, 1384.8, 983.5
/// and 582.2 mm, each of them six times. Of these are cut up: six, six, five, one and none; one of 983.5 is reserved. Sorted, the 19 used begin 983.5, 983.5, 1384.8; a tenth of 19 is one, so nine of
/// ten reach 983.5: a limit of 980. Six of 582.2 are below it. The rest of each second use, 171 mm, is scrap. Beside them lie two things that no plan asked for.</remarks>
public sealed class LeftoverHistoryTest : IDisposable
{
    private static readonly Part _leg = SamplePlans.Part("leg", SamplePlans.Steel.Id, 400, 40, 12, 1);

    private readonly RackFixture rack = new();

    public void Dispose() => rack.Dispose();

    [Fact]
    public void Limits_and_idle_pieces_are_as_counted_by_hand()
    {
        var left = new Dictionary<int, Queue<RackPiece>>();
        for (var plan = 0; plan < 30; plan++)
        {
            var legs = 2 + (plan % 5);
            left.TryAdd(legs, new());
            left[legs].Enqueue(Cut(SamplePlans.FlatBar("bar", 3000, 40, 12, 30), legs)!);
        }

        left.Select(entry => (entry.Key, entry.Value.Peek().Length.ToMillimetres())).Should().Equal((2, 2187.4m), (3, 1786.1m), (4, 1384.8m), (5, 983.5m), (6, 582.2m));
        foreach (var (legs, times) in new[] { (2, 6), (3, 6), (4, 5), (5, 1) })
        {
            for (var use = 0; use < times; use++)
            {
                Cut(left[legs].Dequeue().ToStock(Money.FromAmount(5)), 7 - legs).Should().BeNull("the rest is scrap");
            }
        }

        rack.Store.Reserve(Plan(left[5].Dequeue().ToStock(Money.FromAmount(5)), 1));
        var idle = rack.Store.Add(RackFixture.Plate(300, 200));
        var stub = rack.Store.Add(left[6].Peek() with { Mark = "", ParentMark = null, Length = SamplePlans.Mm(399) });

        var all = rack.Store.List(new() { States = [.. Enum.GetValues<PieceState>()] });
        KeepLimits.From(all, true, SamplePlans.Mm(10)).Should().Be(new KeepLimits(true, 30, 19, SamplePlans.Mm(980), null, 6));
        LeftoverUse.Idle(all, [], rack.Store.KnownShapes()).Select(piece => piece.Mark).Should().BeEquivalentTo(idle.Mark, stub.Mark);

        using var output = new StringWriter();
        using var error = new StringWriter();
        App.Run(["rack", "use", "--rack", rack.File, "--unit", "mm"], new World(output, error, true, rack.Clock, CancellationToken.None)).Should().Be(ExitCode.Done, error.ToString());
        output.ToString().Should().Contain("13 free pieces; 11 serve a part of 1 that were planned on this rack, 2 serve none.").And.Contain($"nest rack scrap {stub.Mark} {idle.Mark}")
            .And.Contain("Leftovers of bars: 30 left by the saw, 19 used again, nine of ten of them from this size on: keep_length = \"980 mm\" under [[offcuts]]; 6 smaller ones were not used so far.");
    }

    /// <summary>Legs cut from a piece of stock, by the plan's whole life; what was left and kept.</summary>
    private RackPiece? Cut(Stock stock, int legs) => rack.Store.ConfirmCut(rack.Store.Reserve(Plan(stock, legs)), 1).Leftovers.SingleOrDefault();

    private Plan Plan(Stock stock, int legs)
    {
        rack.Clock.Now += TimeSpan.FromDays(7);
        var job = SamplePlans.Job($"legs {rack.Clock.Now:yyyy-MM-dd}", [_leg with { Quantity = legs }], [stock]);
        return SamplePlans.Plan(job, SamplePlans.Grid(job, stock, 1, 1, _leg, legs, 1));
    }
}
