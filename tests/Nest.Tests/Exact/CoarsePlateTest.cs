using Nest.Core.Plans;
using Nest.Solve.Exact;
using Nest.Solve.Plates;

namespace Nest.Tests.Exact;

/// <summary>Tables in coarser units than a plate's lengths have: against its table of all loads in its own.</summary>
public sealed class CoarsePlateTest
{
    private const double Rounding = 60;

    private static ExactMeter Meter => new(1000, null, default);

    /// <summary>Plates of some hundred units with a kerf of a few, as they are on a grid of tenths; some with raw edges, something to hold, a longest cut and a direction of the first.</summary>
    private static (PlateShape Shape, int Times) Random(int seed)
    {
        var random = new Random(seed);
        var keep = random.Next(10, 60);
        var sigma = random.Next(0, 100);
        var (x, y) = (random.Next(60, 180), random.Next(50, 120));
        var prices = new PlatePrices(0, random.Next(3000, 60_000), random.Next(0, 300), sigma + random.Next(0, 60), sigma);
        PlatePiece[] pieces = [.. Enumerable.Range(0, random.Next(1, 4)).Select(_ => new PlatePiece(random.Next(8, 60), random.Next(6, 40), random.Next(3) > 0, random.Next(1, 4), random.Next(2) * 3000))];
        var kerf = random.Next(2, 9);
        var raw = random.Next(2) * random.Next(0, 4);
        var edges = raw == 0 ? RawEdges.None : new((raw & 1) != 0 ? random.Next(1, 6) : 0, (raw & 2) != 0 ? random.Next(1, 6) : 0, TrimsOf(raw, random.Next(3000, 90_000)));
        int Least(Func<PlatePiece, int> size) => pieces.Min(piece => piece.MayTurn ? Math.Min(piece.SizeX, piece.SizeY) : size(piece));
        return (new PlateShape(x, y, 1)
        {
            Kerf = kerf, Held = random.Next(3) == 0 ? random.Next(3, 20) : 0, Longest = random.Next(5) == 0 ? random.Next(60, 160) : int.MaxValue,
            FirstCut = random.Next(4) switch { 0 => CutDirection.Rip, 1 => CutDirection.Crosscut, _ => null },
            KeepLong = keep, KeepShort = random.Next(5, keep + 1), Prices = prices, Pieces = pieces,
            Raw = edges.AreSeen(Least(piece => piece.SizeX), Least(piece => piece.SizeY), kerf, prices) ? edges : RawEdges.None,
        }, random.Next(2, kerf + 1));
    }

    /// <summary>By which edges stay: each that does not is cut off.</summary>
    private static int[] TrimsOf(int mask, int trim) => [.. Enumerable.Range(0, 4).Select(stay => trim * System.Numerics.BitOperations.PopCount((uint)(mask & ~stay)))];

    private static string Text(IEnumerable<int> counts) => string.Join(',', counts);

    [Fact]
    public void No_load_is_worth_less_than_in_its_own_units()
    {
        var (found, near) = (0, 0);
        for (var seed = 1; seed <= 60; seed++)
        {
            var (shape, times) = Random(seed);
            var coarse = CoarsePlate.Of(shape, times)!;
            var random = new Random(seed);
            int[] values = [.. shape.Pieces.Select(piece => random.Next(0, 3) == 0 ? 0 : random.Next(0, 400_000))];
            var right = new LoadTable(new(shape)).Loads().ToList();
            long ValueOf(IEnumerable<int> counts) => counts.Select((n, k) => (long)n * values[k]).Sum();
            var best = right.Select(load => load.Worth + ValueOf(load.Counts)).DefaultIfEmpty(0).Max();
            var table = new WorthTable(new(coarse), seesEdges: true);
            var most = table.Run(values);
            ((long)most).Should().BeGreaterThanOrEqualTo(best, "seed {0}: {1}, {2} units each", seed, shape, times);
            ((long)new WorthTable(new(coarse), seesEdges: false).Run(values)).Should().BeGreaterThanOrEqualTo(most, "seed {0}", seed);

            var gap = random.Next(100_000, 1_500_000);
            var listed = Listed(table, values, gap).Loads().ToDictionary(load => Text(load.Counts), load => load.Worth, StringComparer.Ordinal);
            foreach (var (counts, worth) in right.Where(load => load.Worth + ValueOf(load.Counts) >= most - gap))
            {
                listed.Should().ContainKey(Text(counts), "seed {0}: it is within the gap", seed);
                ((long)listed[Text(counts)]).Should().BeGreaterThanOrEqualTo(worth + ValueOf(counts), "seed {0}, load {1}: {2}", seed, Text(counts), shape);
                near += listed[Text(counts)] < worth + ValueOf(counts) + 30_000 ? 1 : 0;
                found++;
            }
        }

        found.Should().BeGreaterThan(70);
        near.Should().BeGreaterThan(found / 4, "else the bounds would say little");
    }

    [Fact]
    public void A_listed_load_worked_out_costs_what_it_does_in_its_own_units()
    {
        var (found, none) = (0, 0);
        for (var seed = 1; seed <= 60; seed++)
        {
            var (shape, times) = Random(seed);
            var coarse = CoarsePlate.Of(shape, times)!;
            var right = new LoadTable(new(shape)).Loads().ToDictionary(load => Text(load.Counts), load => load.Worth, StringComparer.Ordinal);
            var random = new Random(seed);
            int[] values = [.. shape.Pieces.Select(_ => random.Next(0, 400_000))];
            var labels = Listed(new(new(coarse), seesEdges: true), values, random.Next(100_000, 1_500_000));
            foreach (var (counts, worth) in labels.Loads())
            {
                var value = counts.Select((n, k) => n * values[k]).Sum();
                var only = Only(shape, counts);
                var parts = new CoarseParts(only, coarse, labels, counts, values);
                var bare = new BareLoads(only, load => load with { Real = true }, parts);
                Load? load = new(0, counts, value - worth, null, false) { IsBare = true };
                while (load is { IsBare: true })
                {
                    load = bare.Raised(load, long.MaxValue, Meter);
                }

                if (load is null)
                {
                    none++;
                    (right.TryGetValue(Text(counts), out var some) ? some : int.MinValue).Should().BeLessThan(parts.Least + (int)Rounding, "seed {0}, load {1}: {2}", seed, Text(counts), shape);
                }
                else
                {
                    found++;
                    (-load.Cost).Should().BeCloseTo(right[Text(counts)], (uint)Rounding, "seed {0}, load {1}: {2}", seed, Text(counts), shape);
                    TablesTest.WorthOf(shape, load.Tree!, [.. counts]).Should().BeApproximately(-load.Cost, Rounding, "seed {0}: the tree is worth what is said", seed);
                }
            }
        }

        found.Should().BeGreaterThanOrEqualTo(70);
        none.Should().BeGreaterThan(8);
    }

    [Fact]
    public void A_layout_in_coarser_units_is_one_in_the_plates_own_where_it_fits()
    {
        var (found, within) = (0, 0);
        for (var seed = 1; seed <= 60; seed++)
        {
            var (shape, times) = Random(seed);
            var random = new Random(seed);
            int[] values = [.. shape.Pieces.Select(_ => random.Next(100_000, 400_000))];
            var table = new WorthTable(new(CoarsePlate.Of(shape, times)!), seesEdges: true);
            table.Run(values);
            if (WorthTree.Best(table) is not { } coarse || FineTree.Of(shape, coarse) is not { } tree)
            {
                continue;
            }

            found++;
            int[] counts = [.. shape.Pieces.Select((_, k) => Pieces(tree).Count(item => item == k))];
            counts.Should().Equal(shape.Pieces.Select((_, k) => Pieces(coarse).Count(item => item == k)));
            var (cost, worth) = ((double)FineTree.CostOf(new(shape), tree), TablesTest.WorthOf(shape, tree, counts));

            // Beside raw edges the cheapest order of the parts counts, and they may lie in another.
            cost.Should().BeInRange(shape.Raw.Mask == 0 ? -worth - Rounding : double.NegativeInfinity, -worth + Rounding, "seed {0}: {1}", seed, shape);
            if (counts.Sum() <= 9)
            {
                within++;
                (-cost).Should().BeLessThanOrEqualTo(new LoadTable(new(Only(shape, counts))).Loads().First(load => load.Counts.SequenceEqual(counts)).Worth + Rounding, "seed {0}: no layout is better than the best", seed);
            }
        }

        found.Should().BeGreaterThan(12);
        within.Should().BeGreaterThan(5);
    }

    /// <summary>The plate with no other pieces than those of a load.</summary>
    private static PlateShape Only(PlateShape shape, IReadOnlyList<int> counts) =>
        shape with { Pieces = [.. shape.Pieces.Select((piece, k) => counts[k] > 0 ? piece with { Demand = counts[k] } : default)] };

    /// <summary>The loads of a plate in coarser units that are worth no less than the best but for a gap.</summary>
    private static LoadLabels Listed(WorthTable table, int[] values, int gap) =>
        LoadLabels.Of(table, table.Run(values), [.. table.Shape.Pieces.Select(piece => piece.Demand)], gap, new ListLimits(long.MaxValue / 4, 1, () => false), out _)!;

    private static IEnumerable<int> Pieces(PlateNode node) => node.Kind == PlateNodeKind.Piece ? [node.Item] : node.Children.SelectMany(Pieces);
}
