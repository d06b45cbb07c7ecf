using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Solve.Choose;
using Nest.Solve.Exact;
using Nest.Tests.Makers;

namespace Nest.Tests.Exact;

/// <summary>Whether plates can hold blanks that nearly fill them: against plates that were cut at random, and against the table of all loads.</summary>
public sealed class FullLoadsTest
{
    private const long Plenty = 100_000_000;

    private static PlateShape Plate(int x, int y, int kerf, int held, params ReadOnlySpan<PlatePiece> pieces) => new(x, y, 1)
    {
        Kerf = kerf, Held = held, Longest = int.MaxValue, KeepLong = int.MaxValue, KeepShort = int.MaxValue, Prices = new(0, 1000, 0, 0, 0), Pieces = [.. pieces],
    };

    /// <summary>Cuts a rectangle with a person's rules: one of the two parts is held.</summary>
    private static List<(int X, int Y)> Cut(Random random, int x, int y, int kerf, int held, int pieces)
    {
        for (var tries = 0; pieces > 1 && tries < 20; tries++)
        {
            var across = random.Next(2) == 0;
            var at = random.Next(5, Math.Max(6, across ? x : y));
            var rest = (across ? x : y) - kerf - at;
            if (rest >= 5 && Math.Max(at, rest) >= held)
            {
                var some = Math.Clamp(pieces * at / (at + rest), 1, pieces - 1);
                return
                [
                    .. Cut(random, across ? at : x, across ? y : at, kerf, held, some),
                    .. Cut(random, across ? rest : x, across ? y : rest, kerf, held, pieces - some),
                ];
            }
        }

        return [(x, y)];
    }

    private static PlatePiece[] Kinds(Random random, IEnumerable<(int X, int Y)> pieces) =>
        [.. pieces.Select(piece => random.Next(2) == 0 ? piece : (X: piece.Y, Y: piece.X)).CountBy(piece => piece).Select(kind => new PlatePiece(kind.Key.X, kind.Key.Y, true, kind.Value, 0))];

    private static bool MayHold(PlateShape shape, int[] load, long pairs = Plenty)
    {
        var packed = PackedLoads.Of([.. shape.Pieces.Select(piece => piece.Demand)], _ => true)!;
        var waste = Grown(shape.SizeX, shape.SizeY, shape.Kerf) - shape.Pieces.Select((piece, k) => load[k] * Grown(piece.SizeX, piece.SizeY, shape.Kerf)).Sum();
        var loads = new FullLoads(shape, packed, waste, pairs, () => false);
        var holds = loads.MayHold(packed.Of(load));
        (loads.IsBrokenOff && pairs == Plenty).Should().BeFalse();
        return holds;
    }

    private static long Grown(long x, long y, long kerf) => (x + kerf) * (y + kerf);

    [Fact]
    public void What_was_cut_from_a_plate_has_room_on_it()
    {
        var (all, full) = (0, 0);
        for (var seed = 1; seed <= 300; seed++)
        {
            var random = new Random(seed);
            var (x, y, kerf, held) = (random.Next(60, 200), random.Next(40, 120), random.Next(0, 4), random.Next(2) * random.Next(5, 30));
            var pieces = Cut(random, x, y, kerf, held, random.Next(2, 14));

            // Now and then one is put aside, or a plate is a little larger.
            var aside = random.Next(3) == 0 && pieces.Count > 1 ? 1 : 0;
            var shape = Plate(x + random.Next(2), y + random.Next(2), kerf, held, Kinds(random, pieces.Skip(aside)));
            int[] load = [.. shape.Pieces.Select(piece => piece.Demand)];
            MayHold(shape, load).Should().BeTrue("seed {0}: {1}", seed, shape);

            // Broken off it may hold anything.
            MayHold(shape, load, pairs: 1).Should().BeTrue("seed {0}: {1}", seed, shape);
            MayHold(shape, load, pairs: random.Next(1, 300)).Should().BeTrue("seed {0}: {1}", seed, shape);
            (all, full) = (all + pieces.Count, full + 1 - aside);
        }

        all.Should().BeGreaterThan(1500);
        full.Should().BeGreaterThan(150);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_plate_holds_a_load_where_the_table_of_all_loads_has_it(bool held)
    {
        var (has, not) = (0, 0);
        for (var seed = 1; seed <= 60; seed++)
        {
            // Pieces of a plate a little larger than this one: some loads nearly fill it and do not fit.
            var random = new Random(seed);
            var (x, y, kerf) = (random.Next(30, 60), random.Next(25, 50), random.Next(0, 3));
            var shape = Plate(x, y, kerf, held ? random.Next(5, 25) : 0, Kinds(random, Cut(random, x + random.Next(4), y + random.Next(4), kerf, 0, random.Next(3, 7))));
            var listed = new LoadTable(new(shape, everywhere: true), everyRow: true).Loads().Select(load => string.Join(',', load.Counts)).ToHashSet(StringComparer.Ordinal);
            foreach (var load in PlateOracle.Shares([.. shape.Pieces.Select(piece => piece.Demand)]).Where(load => load.Sum() > 0))
            {
                var (holds, right) = (MayHold(shape, load), listed.Contains(string.Join(',', load)));
                if (held)
                {
                    // What is held in a part that is larger than its pieces is taken to be free.
                    (holds || !right).Should().BeTrue("seed {0}, load {1} of {2}", seed, string.Join(',', load), shape);
                }
                else
                {
                    holds.Should().Be(right, "seed {0}, load {1} of {2}", seed, string.Join(',', load), shape);
                }

                (has, not) = (has + (right ? 1 : 0), not + (holds ? 0 : 1));
            }
        }

        has.Should().BeGreaterThan(500);
        not.Should().BeGreaterThan(30);
    }

    [Fact]
    public void Rows_fit_and_a_pinwheel_does_not()
    {
        // By hand: four 3 × 2 around a 1 × 1 fill 5 × 5, but no cut goes through from edge to edge.
        MayHold(Plate(5, 5, 0, 0, new PlatePiece(3, 2, true, 4, 0), new PlatePiece(1, 1, true, 1, 0)), [4, 1]).Should().BeFalse();
        MayHold(Plate(5, 5, 0, 0, new PlatePiece(5, 2, true, 2, 0), new PlatePiece(1, 1, true, 5, 0)), [2, 5]).Should().BeTrue();

        // With a kerf of 1 a row of 4 × 3 and 5 × 3 takes 10; of the plate's 10 × 7 two such rows take all.
        MayHold(Plate(10, 7, 1, 0, new PlatePiece(4, 3, false, 2, 0), new PlatePiece(5, 3, false, 2, 0)), [2, 2]).Should().BeTrue();
        MayHold(Plate(10, 7, 1, 0, new PlatePiece(4, 3, false, 2, 0), new PlatePiece(5, 3, false, 1, 0), new PlatePiece(5, 4, false, 1, 0)), [2, 1, 1]).Should().BeFalse();

        // The last two strips of 2 leave no part of 3 to hold.
        MayHold(Plate(6, 5, 0, 3, new PlatePiece(2, 5, false, 3, 0)), [3]).Should().BeFalse();
        MayHold(Plate(6, 5, 0, 2, new PlatePiece(2, 5, false, 3, 0)), [3]).Should().BeTrue();
    }

    [Fact]
    public void Plates_that_were_cut_hold_the_blanks_and_fewer_do_only_where_trying_all_finds_it()
    {
        var (no, full) = (0, 0);
        for (var seed = 1; seed <= 120; seed++)
        {
            var random = new Random(seed);
            var (kerf, sizes) = (random.Next(0, 3), new[] { (X: random.Next(40, 60), Y: random.Next(30, 40)), (X: random.Next(30, 40), Y: random.Next(20, 30)) });
            var cut = new[] { random.Next(1, 3), random.Next(0, 2) };
            var pieces = sizes.SelectMany((size, s) => Enumerable.Range(0, cut[s]).SelectMany(_ => Cut(random, size.X, size.Y, kerf, 0, random.Next(1, 4)))).ToList();
            var job = JobMaker.Job(
                pieces.Select((piece, i) => JobMaker.Part($"P{i}", Math.Max(piece.X, piece.Y), Math.Min(piece.X, piece.Y), 10, 1, Forms.Plate) with { MayTurn = true }),
                sizes.Select((size, s) => JobMaker.Plate($"plate-{s}", size.X, size.Y, 10, 10)),
                JobMaker.PlateSaw with { Kerf = JobMaker.Mm(kerf), Trims = default, ShortestHeld = Length.Zero, FirstCut = null }) with
            { AllowanceRules = [new() { Allowances = new() }] };
            var components = Components.Of(job, BlankSizer.Size(job));
            if (components.Length != 1)
            {
                continue;
            }

            var exact = new ExactJob(job, components, tied: false, 1e6);
            var room = new CountRoom(exact);
            var loads = exact.Sources.Select(source => new LoadTable(new(((PlateLoads)source).Shape, everywhere: true), everyRow: true).Loads().Select(load => load.Counts.ToArray()).ToList()).ToList();
            for (var a = 0; a <= cut[0]; a++)
            {
                for (var b = 0; b <= cut[1] + 1; b++)
                {
                    var counts = exact.Sources.Select(source => string.Equals(source.Frame.Stock.Id, "plate-0", StringComparison.Ordinal) ? a : b).ToArray();
                    if (counts.Sum() > 0)
                    {
                        var holds = room.MayHold(counts, new(1000, 1e9, default));
                        var right = Covers(exact.Demand, counts, loads, 0);
                        (holds || !right).Should().BeTrue("seed {0}: {1} and {2}", seed, a, b);
                        no += holds ? 0 : 1;

                        // Where its work was not enough it says nothing.
                        for (var work = 1; right && work < 1000; work *= 3)
                        {
                            room.MayHold(counts, new(1000, work, default)).Should().BeTrue("seed {0}: {1} and {2}, {3} units of work", seed, a, b, work);
                        }

                        full += holds && right && a <= cut[0] && b <= cut[1] ? 1 : 0;
                    }
                }
            }

            room.MayHold([.. exact.Sources.Select(source => string.Equals(source.Frame.Stock.Id, "plate-0", StringComparison.Ordinal) ? cut[0] : cut[1])], new(1000, 1e9, default)).Should().BeTrue("seed {0}", seed);
        }

        no.Should().BeGreaterThan(100);
        full.Should().BeGreaterThan(80);
    }

    [Fact]
    public void A_plate_that_would_be_nearly_full_and_does_not_hold_the_blanks_is_not_what_a_plan_is_held_against()
    {
        // The blanks are 97 % of the plate, so values of the blanks ask for one: without a look at the room the bound stays at 150.
        (int Length, int Width, int Pieces)[] sizes = [(158, 67, 4), (284, 34, 10), (181, 53, 10), (302, 43, 4), (243, 148, 4)];
        var job = JobMaker.Job(
            sizes.Select((size, i) => JobMaker.Part($"P{i}", size.Length, size.Width, 12, size.Pieces, Forms.Plate) with { MayTurn = true }),
            [JobMaker.Plate("1000x500", 1000, 500, 12, 104)],
            JobMaker.PlateSaw with { Kerf = JobMaker.Mm(3.2m), ShortestHeld = JobMaker.Mm(60), FirstCut = null, Trims = new(JobMaker.Mm(10), JobMaker.Mm(10), JobMaker.Mm(10), JobMaker.Mm(10)) })
            with
        { AllowanceRules = [new() { Allowances = new() }], OffcutRules = [new() { Form = Form.Plate, KeepLength = JobMaker.Mm(250), KeepWidth = JobMaker.Mm(100) }] };

        var exact = new ExactJob(job, Components.Of(job, BlankSizer.Size(job)), tied: false, 1e6);
        var search = new ExactSearch(exact, 1, 100, withSettings: false, (_, _) => double.PositiveInfinity) { ListsAll = false, Upper = 170 * Grain.PerCurrency };
        search.Run(new(1000, 8_000_000, default));

        search.Log.Should().ContainMatch("*no room at 0×1*");
        (search.Bound / Grain.PerCurrency).Should().BeGreaterThan(169);
    }

    /// <summary>Whether plates hold what is left, by trying all loads.</summary>
    private static bool Covers(int[] left, int[] counts, List<List<int[]>> loads, int source)
    {
        if (left.All(pieces => pieces <= 0))
        {
            return true;
        }

        if (source == counts.Length)
        {
            return false;
        }

        return counts[source] == 0
            ? Covers(left, counts, loads, source + 1)
            : loads[source].Exists(load => Covers([.. left.Zip(load, (pieces, some) => Math.Max(0, pieces - some))], [.. counts.Select((count, s) => s == source ? count - 1 : count)], loads, source));
    }
}
