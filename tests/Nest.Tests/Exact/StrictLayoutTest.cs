using System.Collections.Immutable;
using Nest.Solve.Exact;
using Nest.Solve.Plates;

namespace Nest.Tests.Exact;

/// <summary>Loads on plates with damage and stages against <see cref="StrictOracle"/>, which tries every cut at every unit.</summary>
public class StrictLayoutTest
{
    private const double Rounding = 50;

    [Fact]
    public void The_best_layout_that_obeys_damage_and_stages_is_that_of_trying_every_cut()
    {
        var (cut, never, dearer, left) = (0, 0, 0, 0);
        for (var seed = 1; seed <= 80; seed++)
        {
            var shape = TablesTest.Random(seed, out _);
            if (shape.SizeX * shape.SizeY > 180)
            {
                continue;
            }

            var random = new Random(1000 + seed);
            PlateRect[] damage = [.. Enumerable.Range(0, random.Next(0, 3)).Select(_ => new PlateRect(random.Next(0, 15), random.Next(0, 12), random.Next(1, 5), random.Next(1, 5)))];
            damage = [.. damage.Where(spot => spot.X + spot.SizeX <= shape.SizeX && spot.Y + spot.SizeY <= shape.SizeY)];
            int? stages = random.Next(3) switch { 0 => 1, 1 => 2, _ => null };
            var trimming = random.Next(2) == 0;
            shape = shape with { Pieces = [.. shape.Pieces.Select(piece => piece with { Demand = Math.Min(piece.Demand, shape.Pieces.Length == 1 ? 2 : 1) })] };
            int[] load = [.. shape.Pieces.Select(piece => piece.Demand)];

            var right = new StrictOracle(shape, damage, stages, trimming).Plate(load);
            if (StrictLayout.Of(shape, [.. damage], stages, trimming) is not { } answer)
            {
                left++;
                continue;
            }

            (answer.Tree is not null).Should().Be(right > double.NegativeInfinity, "seed {0}", seed);
            never += answer.Tree is null ? 1 : 0;
            if (answer.Tree is not { } tree)
            {
                continue;
            }

            ((double)answer.Worth).Should().BeInRange(right - 1e-6, right + Rounding, "seed {0}", seed);
            var pieces = Pieces(tree).ToList();
            pieces.Should().HaveCount(load.Sum());
            pieces.Should().NotContain(piece => damage.Any(spot => spot.X < piece.X + piece.SizeX && piece.X < spot.X + spot.SizeX && spot.Y < piece.Y + piece.SizeY && piece.Y < spot.Y + spot.SizeY), "seed {0}", seed);
            cut++;
            dearer += new PlateOracle(shape).Plate(load) > right + Rounding ? 1 : 0;
        }

        left.Should().Be(0);
        cut.Should().BeGreaterThan(7);
        never.Should().BeGreaterThan(1);
        dearer.Should().BeGreaterThan(2, "else damage and stages would mean nothing");
    }

    private static IEnumerable<PlateRect> Pieces(PlateNode node) =>
        node.Kind == PlateNodeKind.Piece ? [node.Area] : node.Children.SelectMany(Pieces);
}
