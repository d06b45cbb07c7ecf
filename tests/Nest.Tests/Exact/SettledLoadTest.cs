using System.Numerics;
using Nest.Core.Plans;
using Nest.Solve.Exact;
using Nest.Solve.Plates;

namespace Nest.Tests.Exact;

/// <summary>Layouts at given positions of the stop, and what loads cost at least with their settings, against layouts cut at random, position after position: every one of them is a witness.</summary>
public sealed class SettledLoadTest
{
    /// <summary>Each cut, rest and piece is rounded by less than a grain.</summary>
    private const double Rounding = 60;

    /// <summary>A layout that was cut with each position set once, and what it costs.</summary>
    /// <param name="Shape">The plate with the blanks that came about.</param>
    /// <param name="InX">Positions of crosscuts in the order in which they were set, and those of rips; the places of all.</param>
    /// <param name="Cost">Beside its settings, in grains.</param>
    /// <param name="Trims">Right and top edges that were cut off.</param>
    private sealed record Witness(PlateShape Shape, int[] InX, int[] InY, int[] Order, double Cost, int Cuts, int Trims, (bool AlongX, int At) Last)
    {
        public int Settings => InX.Length + InY.Length;

        public Load Load(LoadTable table)
        {
            int[] counts = [.. Shape.Pieces.Select(piece => piece.Demand)];
            return new(0, [.. counts], -table.Loads().First(load => load.Counts.SequenceEqual(counts)).Worth, null, true);
        }
    }

    private static ExactMeter Meter => new(1000, null, default);

    private static IEnumerable<Witness> Witnesses(int from, int count) =>
        Enumerable.Range(from, count).Select(Cut).OfType<Witness>();

    /// <summary>A plate cut at random; null where no blank came about.</summary>
    private static Witness? Cut(int seed)
    {
        var random = new Random(seed);
        var (x, y, kerf) = (random.Next(12, 40), random.Next(10, 36), random.Next(0, 3));
        var keep = random.Next(4, 20);
        var sigma = random.Next(0, 300);
        var bare = new PlateShape(x, y, 60)
        {
            Kerf = kerf, Held = random.Next(2) * random.Next(3, 12), Longest = int.MaxValue,
            FirstCut = random.Next(4) switch { 0 => CutDirection.Rip, 1 => CutDirection.Crosscut, _ => null },
            KeepLong = keep, KeepShort = random.Next(2, keep + 1),
            Prices = new(0, random.Next(500, 3000), random.Next(0, 100), sigma + random.Next(0, 500), sigma), Pieces = [],
        };
        var positions = Enumerable.Range(0, random.Next(2, 5)).Select(_ => (Crosscut: random.Next(2) == 0, At: random.Next(2, 24))).Distinct().ToList();

        // Raw edges stay, or are cut off first, which takes a setting each.
        var (zoneX, zoneY) = (random.Next(3) == 0 ? random.Next(1, 4) : 0, random.Next(3) == 0 ? random.Next(1, 4) : 0);
        var raw = new RawEdges(zoneX, zoneY, [2000, 1500, 1700, 100]);
        var stays = random.Next(4) & raw.Mask;
        var metal = new List<(int W, int H, int Raw)> { (x, y, stays) };
        var used = new List<(bool Crosscut, int At)>();
        var (cost, cuts, trims) = ((double)raw.Trims[stays], 0, BitOperations.PopCount((uint)(raw.Mask & ~stays)));
        foreach (var (crosscut, at) in positions)
        {
            for (var turn = random.Next(1, 4); turn > 0; turn--)
            {
                var place = random.Next(metal.Count);
                var (w, h, edges) = metal[place];
                var (size, across) = (crosscut ? w : h, crosscut ? 1 : 2);
                var touches = (edges & across) != 0;

                // Measured from the near side, or from the raw edge on.
                var near = touches && random.Next(2) == 0 ? size - kerf - (at - (crosscut ? zoneX : zoneY)) : at;
                var rest = size - kerf - near;
                if (near < 1 || near >= size || Math.Max(near, rest) < bare.Held || (cuts == 0 && bare.FirstCut is { } first && first != (crosscut ? CutDirection.Crosscut : CutDirection.Rip)))
                {
                    continue;
                }

                cuts++;
                cost += bare.Prices.PerCut + (bare.Prices.PerUnit * (crosscut ? h + ((edges & 2) != 0 ? zoneY : 0) : w + ((edges & 1) != 0 ? zoneX : 0)));
                metal[place] = crosscut ? (near, h, edges & ~1) : (w, near, edges & ~2);
                if (rest > 0)
                {
                    metal.Add(crosscut ? (rest, h, edges) : (w, rest, edges));
                }

                if (!used.Contains((crosscut, at)))
                {
                    used.Add((crosscut, at));
                }
            }
        }

        // Of one or two sizes that came about some are blanks, the others rests.
        var kinds = metal.Where(part => part.Raw == 0).Select(part => (part.W, part.H)).Distinct().OrderBy(_ => random.Next()).Take(random.Next(1, 3)).ToList();
        var counts = new int[kinds.Count];
        foreach (var (w, h, edges) in metal)
        {
            if (edges == 0 && kinds.IndexOf((w, h)) is >= 0 and var kind && counts[kind] < 3)
            {
                counts[kind]++;
            }
            else
            {
                cost -= (bare.IsKept(w, h) ? bare.Prices.Keep : bare.Prices.Scrap) * w * h;
            }
        }

        PlatePiece[] pieces = [.. kinds.Select((size, k) => random.Next(2) == 0 ? new PlatePiece(size.W, size.H, random.Next(2) == 0, counts[k], 0) : new PlatePiece(size.H, size.W, true, counts[k], 0))];
        int[] inX = [.. used.Where(one => one.Crosscut).Select(one => one.At)];
        int[] inY = [.. used.Where(one => !one.Crosscut).Select(one => one.At)];
        int[] order = [.. inX.Select(at => used.IndexOf((true, at))), .. inY.Select(at => used.IndexOf((false, at)))];
        return cuts == 0 || kinds.Count == 0 || !raw.AreSeen(pieces.Min(piece => Math.Min(piece.SizeX, piece.SizeY)), pieces.Min(piece => Math.Min(piece.SizeX, piece.SizeY)), kerf, bare.Prices)
            ? null
            : new(bare with { Pieces = pieces, Raw = raw }, inX, inY, order, cost, cuts, trims, used[^1]);
    }

    private static StopPositions.Set Set(int[] positions) => new([.. positions.Select(at => (long)at)], 1);

    [Fact]
    public void A_layout_cut_at_positions_is_never_worth_more_than_the_best_one_at_them()
    {
        var least = 0;
        foreach (var witness in Witnesses(1, 500))
        {
            foreach (var table in new[] { new LoadTable(new(witness.Shape with { Raw = RawEdges.None }), everyRow: true), null })
            {
                var layouts = new StopLayout(witness.Shape, table);
                foreach (var (inX, inY, order) in new (StopPositions.Set?, StopPositions.Set?, int[]?)[]
                {
                    (Set(witness.InX), Set(witness.InY), witness.Order), (Set(witness.InX), Set(witness.InY), null), (Set(witness.InX), null, null), (null, Set(witness.InY), null),
                    (new([.. witness.InX.Select(at => 3L * at)], 3), Set(witness.InY), null), (new([.. witness.InX.Select(at => 2L * at)], 2), null, null),
                })
                {
                    var answer = layouts.Best(inX, inY, 0, (int)Math.Floor(-witness.Cost - Rounding), witness.Cuts, order, withTree: true, Meter);
                    ((double)answer!.Value.Worth).Should().BeGreaterThanOrEqualTo(-witness.Cost - Rounding, "{0}", witness);
                    if (order is not null && table is not null)
                    {
                        int[] counts = [.. witness.Shape.Pieces.Select(piece => piece.Demand)];
                        TablesTest.WorthOf(witness.Shape, Unscaled(answer.Value.Tree!, 60), counts).Should().BeGreaterThanOrEqualTo(answer.Value.Worth - Rounding, "edges that no blank lies against stay in the end");
                        answer.Value.Worth.Should().BeLessThanOrEqualTo(table.Loads().First(load => load.Counts.SequenceEqual(counts)).Worth);
                        least += answer.Value.Worth < table.Loads().First(load => load.Counts.SequenceEqual(counts)).Worth - Rounding ? 1 : 0;
                    }
                }
            }
        }

        least.Should().BeGreaterThan(60, "else positions would mean nothing");
    }

    [Fact]
    public void No_layout_costs_less_with_its_settings_than_is_claimed()
    {
        var (raised, met, apart) = (0, 0, 0);
        foreach (var (witness, at) in Witnesses(1, 900).Select((witness, at) => (witness, at)))
        {
            var (random, trims) = (new Random(at), at % 3);
            var setting = random.Next(500, 4000);
            var whole = witness.Cost + ((witness.Settings + trims + witness.Trims) * (double)setting);
            var table = new LoadTable(new(witness.Shape with { Raw = RawEdges.None }), everyRow: true);
            var load = witness.Load(new(new(witness.Shape)));
            var search = new SettledLoad(
                witness.Shape, load, at % 4 == 0 ? null : table, setting, trims, _ => witness.Cuts + random.Next(2), [(witness.Last.AlongX, witness.Last.At)], Meter);

            // As if a dearer layout were known, at times: then there is more to look for.
            var (cost, ending) = search.Least(whole + (random.Next(2) * random.Next(0, 3 * setting)), tree => double.PositiveInfinity);

            cost.Should().BeLessThanOrEqualTo(whole + Rounding, "{0}, setting {1}", witness, setting);
            ending[0].Should().BeLessThanOrEqualTo(whole + Rounding, "it ends there: {0}", witness);
            raised += cost > load.Cost + ((trims + 2) * (double)setting) + Rounding ? 1 : 0;
            met += cost > whole - Rounding ? 1 : 0;
            apart += ending[0] > cost + Rounding ? 1 : 0;
        }

        (raised, met, apart).Should().Match<(int Raised, int Met, int Apart)>(seen => seen.Raised > 50 && seen.Met > 100 && seen.Apart > 20, "else it says too little");
    }

    [Fact]
    public void Layouts_at_the_sizes_of_the_blanks_have_no_other_positions()
    {
        var found = 0;
        foreach (var witness in Witnesses(1, 400).Where(witness => witness.Shape.Raw.Mask == 0))
        {
            var table = new LoadTable(new(witness.Shape with { Raw = RawEdges.None }), everyRow: true);
            var search = new SettledLoad(witness.Shape, witness.Load(new(new(witness.Shape))), table, 100, 0, _ => 100, [], Meter);
            search.AtSizes(1e8, tree =>
            {
                found++;
                Sizes(Unscaled(tree, 60), witness.Shape);
                return 1e8;
            });
        }

        found.Should().BeGreaterThan(60);

        static void Sizes(PlateNode node, PlateShape shape)
        {
            var crosscut = node.Direction == CutDirection.Crosscut;
            foreach (var (child, at) in node.Children.Select((child, at) => (child, at)))
            {
                // Each but the last was measured, or what was behind it was.
                var behind = crosscut ? node.Area.X + node.Area.SizeX - child.Area.X - child.Area.SizeX - shape.Kerf : node.Area.Y + node.Area.SizeY - child.Area.Y - child.Area.SizeY - shape.Kerf;
                if (at < node.Children.Length - 1)
                {
                    shape.Pieces.SelectMany(piece => new[] { piece.SizeX, piece.SizeY }).Should().Contain(size => size == (crosscut ? child.Area.SizeX : child.Area.SizeY) || size == behind);
                }

                Sizes(child, shape);
            }
        }
    }

    /// <summary>By hand, 2 of 86 × 68 and one of 94 × 35 out of 268 × 164 with a kerf of 1: two cuts at 86 leave 94 (268 − 2 · 87), so three settings are enough, where the layout with the cheapest cuts has four.</summary>
    [Fact]
    public void What_falls_out_of_a_row_needs_no_setting()
    {
        var shape = new PlateShape(268, 164, 1)
        {
            Kerf = 1, Held = 0, Longest = int.MaxValue, KeepLong = 56, KeepShort = 43, Prices = new(0, 60_000, 20, 3, 1),
            Pieces = [new(86, 68, false, 2, 0), new(94, 35, false, 1, 0)],
        };
        var table = new LoadTable(new(shape), everyRow: true);
        var trees = new List<PlateNode>();
        var load = new Load(0, [2, 1], -table.Loads().First(one => one.Counts.SequenceEqual([2, 1])).Worth, null, true);

        var (cost, _) = new SettledLoad(shape, load, table, 50_000, 0, _ => 6, [], Meter).Least(
            load.Cost + (4 * 50_000), tree =>
        {
            trees.Add(tree);
            return 0;
        });

        trees.Should().NotBeEmpty();
        cost.Should().BeGreaterThan(load.Cost + (3 * 50_000)).And.BeLessThan(load.Cost + (4 * 50_000));
        TablesTest.WorthOf(shape, trees[^1], [2, 1]).Should().BeApproximately((3 * 50_000) - cost, Rounding);
    }

    private static PlateNode Unscaled(PlateNode node, long scale) => node with
    {
        Area = new(node.Area.X / scale, node.Area.Y / scale, node.Area.SizeX / scale, node.Area.SizeY / scale),
        Children = [.. node.Children.Select(child => Unscaled(child, scale))],
    };
}
