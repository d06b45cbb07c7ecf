using Nest.Core.Plans;
using Nest.Solve.Exact;
using Nest.Solve.Plates;

namespace Nest.Tests.Exact;

/// <summary>The tables and labels of the exact method against <see cref="PlateOracle"/>, which tries every cut at every unit.</summary>
public class TablesTest
{
    /// <summary>Each cut, rest and piece is rounded by less than a grain, and a plate of 24 units has fewer than fifty.</summary>
    private const double Rounding = 50;

    internal static PlateShape Random(int seed, out int[] values)
    {
        var random = new Random(seed);
        var (x, y) = (random.Next(10, 25), random.Next(8, 21));
        var sigma = random.Next(2) * random.Next(0, 300);
        var keep = random.Next(4, 14);
        var pieces = Enumerable.Range(0, random.Next(1, 3)).Select(_ => new PlatePiece(
            random.Next(3, 12), random.Next(3, 9), random.Next(2) == 0, random.Next(1, 3), random.Next(0, 2000))).ToArray();
        values = [.. pieces.Select(_ => random.Next(5_000, 60_000))];
        PlatePrices prices;
        var shape = new PlateShape(x, y, 1)
        {
            Kerf = random.Next(0, 3), Held = random.Next(2) * random.Next(3, 12), Longest = random.Next(4) == 0 ? random.Next(8, 24) : int.MaxValue,
            FirstCut = random.Next(4) switch { 0 => CutDirection.Rip, 1 => CutDirection.Crosscut, _ => null },
            KeepLong = keep, KeepShort = random.Next(2, keep + 1),
            Prices = prices = new(0, random.Next(0, 3000), random.Next(0, 200), sigma + random.Next(0, 500), sigma), Pieces = pieces,
        };
        var (right, top) = (random.Next(3) * 0.8, random.Next(3) * 0.7);
        var trim = (int)(prices.PerCut + (20 * prices.PerUnit));
        var raw = new RawEdges(right, top, [(right > 0 ? trim : 0) + (top > 0 ? trim : 0), top > 0 ? trim + 40 : 20, right > 0 ? trim : 0, 20]);
        var (leastX, leastY) = (pieces.Min(piece => piece.MayTurn ? Math.Min(piece.SizeX, piece.SizeY) : piece.SizeX),
            pieces.Min(piece => piece.MayTurn ? Math.Min(piece.SizeX, piece.SizeY) : piece.SizeY));
        return raw.AreSeen(leastX, leastY, shape.Kerf, prices) ? shape with { Raw = raw } : shape;
    }

    [Fact]
    public void The_least_cost_of_every_load_is_that_of_trying_every_cut()
    {
        for (var seed = 1; seed <= 30; seed++)
        {
            var shape = Random(seed, out _);
            var oracle = new PlateOracle(shape);
            var table = new LoadTable(new(shape));
            var found = table.Loads().ToDictionary(load => string.Join(',', load.Counts), load => load.Worth, StringComparer.Ordinal);
            foreach (var load in PlateOracle.Shares([.. shape.Pieces.Select(piece => piece.Demand)]).Where(load => load.Sum() > 0))
            {
                var right = oracle.Plate(load);
                var key = string.Join(',', load);
                found.ContainsKey(key).Should().Be(right > double.NegativeInfinity, "seed {0}, load {1}", seed, key);
                if (found.TryGetValue(key, out var worth))
                {
                    ((double)worth).Should().BeInRange(right - 1e-6, right + Rounding, "seed {0}, load {1}", seed, key);
                    WorthOf(shape, table.TreeOf(load), load).Should().BeApproximately(worth, Rounding, "seed {0}: the tree is worth what is said", seed);
                }
            }
        }
    }

    [Fact]
    public void The_table_is_never_below_the_best_load_and_meets_it_where_demand_does_not_bind()
    {
        var met = 0;
        for (var seed = 1; seed <= 30; seed++)
        {
            // So many of each that the plate cannot hold them.
            var shape = Random(seed, out var values);
            shape = shape with { Pieces = [.. shape.Pieces.Take(1).Select(piece => piece with { Demand = 1 + (shape.SizeX * shape.SizeY / piece.SizeX / piece.SizeY) })] };
            if (shape.Pieces[0].Demand > 9)
            {
                continue;
            }

            var oracle = new PlateOracle(shape);
            var right = PlateOracle.Shares([shape.Pieces[0].Demand]).Max(load => oracle.Plate(load) + (values[0] * load[0]));
            ((double)new WorthTable(new(shape), true).Run(values.AsSpan(0, 1))).Should().BeInRange(right - 1e-6, right + Rounding, "seed {0}", seed);
            met++;
        }

        met.Should().BeGreaterThan(8);
    }

    [Theory]
    [InlineData(2_000), InlineData(20_000), InlineData(1_000_000)]
    public void Labels_list_exactly_the_loads_within_the_gap(long gap)
    {
        var listed = 0;
        for (var seed = 1; seed <= 30; seed++)
        {
            var shape = Random(seed, out var values);
            var table = new WorthTable(new(shape), true);
            var best = table.Run(values);
            var labels = LoadLabels.Of(table, best, [.. shape.Pieces.Select(piece => piece.Demand)], gap, new(10_000_000, 1, () => false), out _)!;
            var found = labels.Loads().ToDictionary(load => string.Join(',', load.Counts), load => load.Worth, StringComparer.Ordinal);
            var oracle = new PlateOracle(shape);
            foreach (var load in PlateOracle.Shares([.. shape.Pieces.Select(piece => piece.Demand)]).Where(load => load.Sum() > 0))
            {
                var right = oracle.Plate(load) + load.Zip(values, (n, value) => (double)n * value).Sum();
                var key = string.Join(',', load);
                if (right >= best - gap)
                {
                    found.Should().ContainKey(key, "seed {0}", seed);
                }

                if (found.TryGetValue(key, out var worth))
                {
                    ((double)worth).Should().BeInRange(right - 1e-6, right + Rounding, "seed {0}, load {1}", seed, key);
                    var tree = labels.TreeOf(load);
                    WorthOf(shape, tree, load, values).Should().BeApproximately(worth, Rounding, "seed {0}: the tree is worth what is said", seed);
                    listed++;
                }
            }
        }

        listed.Should().BeGreaterThan(gap > 100_000 ? 40 : 2);
    }

    [Fact]
    public void Labels_of_many_strips_side_by_side_are_those_of_the_table_of_all_loads_on_one_thread_and_on_two()
    {
        var listed = 0;
        for (var seed = 1; seed <= 24; seed++)
        {
            // Small pieces: rows of up to nine strips, of which only one order is looked at.
            var shape = Random(seed, out var values);
            shape = shape with
            {
                Held = seed % 3 == 0 ? 0 : shape.Held,
                Pieces = [.. shape.Pieces.Take(2).Select((piece, k) => piece with { SizeX = 3 + ((seed + k) % 4), SizeY = 4 + ((seed + (2 * k)) % 5), Demand = 5 - k })],
            };
            int[] own = [.. values.Take(shape.Pieces.Length)];
            var rules = new CutRules(shape);
            var table = new WorthTable(rules, true);
            var best = table.Run(own);
            const long gap = 250_000;
            int[] demand = [.. shape.Pieces.Select(piece => piece.Demand)];

            var one = List(1, out var joins);
            List(2, out var twice).Should().BeEquivalentTo(one, "seed {0}", seed);
            twice.Should().Be(joins, "seed {0}: what a list takes does not depend on the threads", seed);
            var right = new LoadTable(rules).Loads()
                .ToDictionary(load => string.Join(',', load.Counts), load => load.Worth + load.Counts.Zip(own, (n, value) => n * value).Sum(), StringComparer.Ordinal)
                .Where(entry => entry.Value >= best - gap).ToDictionary(StringComparer.Ordinal);
            one.Should().BeEquivalentTo(right, "seed {0}", seed);
            listed += one.Count;

            Dictionary<string, int> List(int threads, out long joins) =>
                LoadLabels.Of(table, best, demand, gap, new(10_000_000, threads, () => false), out joins)!
                    .Loads().ToDictionary(load => string.Join(',', load.Counts), load => load.Worth, StringComparer.Ordinal);
        }

        listed.Should().BeGreaterThan(100);
    }

    [Fact]
    public void A_list_ends_where_it_takes_more_than_it_may()
    {
        var shape = Random(3, out var values);
        var table = new WorthTable(new(shape), true);
        int[] demand = [.. shape.Pieces.Select(piece => piece.Demand)];
        var best = table.Run(values);

        LoadLabels.Of(table, best, demand, 1_000_000, new(10_000_000, 2, () => false), out var all).Should().NotBeNull();

        LoadLabels.Of(table, best, demand, 1_000_000, new(all / 2, 2, () => false), out _).Should().BeNull("half of what it takes does not do");
        LoadLabels.Of(table, best, demand, 1_000_000, new(10_000_000, 2, () => true), out _).Should().BeNull("it was stopped");
    }

    [Fact]
    public void A_long_row_beside_a_raw_edge_is_made_once()
    {
        // Each cut made one of its two parts twice: forty cuts, 2⁴⁰ parts.
        var shape = new PlateShape((40 * 12) - 2, 10, 1)
        {
            Kerf = 2, Held = 0, Longest = int.MaxValue, KeepLong = int.MaxValue, KeepShort = int.MaxValue,
            Prices = new(0, 0, 0, 0, 0), Raw = new(3, 0, [1000, 0, 0, 0]), Pieces = [new(10, 10, false, 40, 0)],
        };
        var table = new WorthTable(new(shape), true);

        table.Run([500]).Should().Be(39 * 500, "the fortieth would lie against the raw edge");

        WorthTree.Best(table)!.Children.Count(child => child.Kind == PlateNodeKind.Piece).Should().Be(39);
    }

    [Fact]
    public void Sums_of_pieces_alone_are_not_enough()
    {
        // By hand-made search (28 November 2026): 58 × 82, no kerf, offcuts from 25 × 8 kept at 31e-5 a square mm, a cut 0.01242 + 6e-5 a mm, a
        // piece of 21 × 35 worth 0.35332: 1.93632 with the offcut's thresholds among the positions, 1.89998 with sums of pieces alone.
        var shape = new PlateShape(58, 82, 1)
        {
            Kerf = 0, Held = 0, Longest = int.MaxValue, KeepLong = 25, KeepShort = 8,
            Prices = new(0, 0.01242 * Grain.PerCurrency, 6e-5 * Grain.PerCurrency, 31e-5 * Grain.PerCurrency, 0),
            Pieces = [new(21, 35, true, 100, 0)],
        };

        var worth = new WorthTable(new(shape), true).Run([(int)(0.35332 * Grain.PerCurrency)]) / Grain.PerCurrency;

        worth.Should().BeApproximately(1.93632, 0.002);
    }

    /// <summary>A tree recounted: pieces must be those of the load.</summary>
    internal static double WorthOf(PlateShape shape, PlateNode tree, int[] load, int[]? values = null)
    {
        var counts = new int[load.Length];
        var worth = Visit(tree);
        counts.Should().Equal(load);

        // The edges that stay are those that no blank lies against; cuts that reach them are longer.
        var (touches, cuts) = (0, new double[2]);
        Edges(tree);
        var stays = shape.Raw.Mask & ~touches;
        return worth - shape.Raw.Trims[stays] - ((stays & 1) != 0 ? cuts[0] * shape.Raw.Right * shape.Prices.PerUnit : 0)
            - ((stays & 2) != 0 ? cuts[1] * shape.Raw.Top * shape.Prices.PerUnit : 0);

        void Edges(PlateNode node)
        {
            var (right, top) = (node.Area.X + node.Area.SizeX == shape.SizeX, node.Area.Y + node.Area.SizeY == shape.SizeY);
            touches |= node.Kind != PlateNodeKind.Piece ? 0 : (right ? 1 : 0) | (top ? 2 : 0);
            if (node.Kind == PlateNodeKind.Split)
            {
                var (last, crosscut) = (node.Children[^1].Area, node.Direction == CutDirection.Crosscut);
                var flush = crosscut ? last.X + last.SizeX == node.Area.X + node.Area.SizeX : last.Y + last.SizeY == node.Area.Y + node.Area.SizeY;
                cuts[0] += right && !crosscut ? node.Children.Length - (flush ? 1 : 0) : 0;
                cuts[1] += top && crosscut ? node.Children.Length - (flush ? 1 : 0) : 0;
            }

            foreach (var child in node.Children)
            {
                Edges(child);
            }
        }

        double Visit(PlateNode node)
        {
            var (w, h) = (node.Area.SizeX, node.Area.SizeY);
            switch (node.Kind)
            {
                case PlateNodeKind.Piece:
                    counts[node.Item]++;
                    var piece = shape.Pieces[node.Item];
                    (node.Turned ? (piece.SizeY, piece.SizeX) : (piece.SizeX, piece.SizeY)).Should().Be(((int)w, (int)h));
                    return (values?[node.Item] ?? 0) - piece.Facing;
                case PlateNodeKind.Rest:
                    return (shape.IsKept((int)w, (int)h) ? shape.Prices.Keep : shape.Prices.Scrap) * w * h;
                default:
                    var crosscut = node.Direction == CutDirection.Crosscut;
                    var at = crosscut ? node.Area.X : node.Area.Y;
                    double sum = 0;
                    var cuts = node.Children.Length - 1;
                    foreach (var child in node.Children)
                    {
                        (crosscut ? child.Area.X : child.Area.Y).Should().Be(at, "children lie a kerf apart");
                        at += (crosscut ? child.Area.SizeX : child.Area.SizeY) + shape.Kerf;
                        sum += Visit(child);
                    }

                    var end = crosscut ? node.Area.X + w : node.Area.Y + h;
                    var dust = end - (at - shape.Kerf);
                    dust.Should().BeInRange(0, shape.Kerf);
                    cuts += dust > 0 ? 1 : 0;
                    return sum - (cuts * (shape.Prices.PerCut + (shape.Prices.PerUnit * (crosscut ? h : w))));
            }
        }
    }
}
