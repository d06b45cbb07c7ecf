using Nest.Core.Geometry;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Pieces;
using Nest.RackStress;

namespace Nest.Tests.Rack;

public sealed class SoundMetalTest : IDisposable
{
    private readonly RackFixture rack = new();

    /// <summary>Against every place on a raster of millimetres, tried one by one (sizes are whole millimetres, so the raster is exact).</summary>
    [Fact]
    public void A_box_is_held_exactly_where_it_fits_beside_the_damage()
    {
        var random = new Random(11);
        var (held, refused) = (0, 0);
        for (var round = 0; round < 400; round++)
        {
            var (length, width) = (random.Next(6, 16), random.Next(6, 16));
            var damage = Enumerable.Range(0, random.Next(1, 6)).Select(_ =>
            {
                var (x, y) = (random.Next(length), random.Next(width));
                return (X: x, Y: y, W: random.Next(1, length - x + 1), H: random.Next(1, width - y + 1));
            }).ToList();
            int[] box = [random.Next(1, 12), random.Next(1, 12), random.Next(1, 7)];
            var piece = RackFixture.Plate(length, width, 5) with
            {
                KeepOuts = [.. damage.Select(area => new Rect(SamplePlans.Mm(area.X), SamplePlans.Mm(area.Y), SamplePlans.Mm(area.W), SamplePlans.Mm(area.H)))],
            };
            var expected = false;
            foreach (var (a, b, c) in new[] { (0, 1, 2), (1, 0, 2), (0, 2, 1), (2, 0, 1), (1, 2, 0), (2, 1, 0) })
            {
                for (var x = 0; box[c] <= 5 && x + box[a] <= length; x++)
                {
                    for (var y = 0; y + box[b] <= width; y++)
                    {
                        expected |= !damage.Any(area => area.X < x + box[a] && x < area.X + area.W && area.Y < y + box[b] && y < area.Y + area.H);
                    }
                }
            }

            SoundMetal.Holds(piece, [.. box.Select(side => SamplePlans.Mm(side))]).Should().Be(expected, $"round {round}");
            _ = expected ? held++ : refused++;
        }

        held.Should().BeGreaterThan(50);
        refused.Should().BeGreaterThan(50);
    }

    [Fact]
    public void The_list_leaves_out_what_is_damaged_where_the_box_would_be_and_counts_the_rest()
    {
        var ruined = rack.Store.Add(RackFixture.Plate(500, 300) with { KeepOuts = [Area(0, 0, 500, 300)] });
        var halved = rack.Store.Add(RackFixture.Plate(500, 300) with { KeepOuts = [Area(200, 0, 10, 300)] });
        var sound = rack.Store.Add(RackFixture.Plate(500, 300));
        Marks(290, 295).Should().BeEquivalentTo([halved.Mark, sound.Mark], "right of the scratch are 290 × 300 mm");
        Marks(290, 301).Should().BeEquivalentTo([sound.Mark]);
        Marks(1, 1).Should().NotContain(ruined.Mark);
        rack.Store.List(new() { Holds = [SamplePlans.Mm(100), SamplePlans.Mm(100)], Limit = 2 }).Should().HaveCount(2, "the limit counts what is left");

        // The planner lays out around damage itself: it is given every piece.
        rack.Store.AvailableStock(Nest.Rack.Values.StockRequest.For([ruined.MaterialId], SamplePlans.Mm(290), SamplePlans.Mm(301), SamplePlans.Mm(5)))
            .Stocks.Should().HaveCount(3);

        IEnumerable<string> Marks(int a, int b) => rack.Store.List(new() { Holds = [SamplePlans.Mm(a), SamplePlans.Mm(b), SamplePlans.Mm(10)] }).Select(piece => piece.Mark);
    }

    public void Dispose() => rack.Dispose();

    private static Rect Area(int x, int y, int wide, int high) => new(SamplePlans.Mm(x), SamplePlans.Mm(y), SamplePlans.Mm(wide), SamplePlans.Mm(high));
}
