using Nest.Core.Plans;
using Nest.Solve.Exact;

namespace Nest.Tests.Exact;

/// <summary>Loads that are worked out one by one without a table: against <see cref="PlateOracle"/>, which tries every cut at every unit, and against the table of all loads on larger plates.</summary>
public sealed class BareLoadsTest
{
    private const double Rounding = 60;

    private static ExactMeter Meter => new(1000, null, default);

    private static PlateShape Large(int seed)
    {
        var random = new Random(seed);
        var keep = random.Next(10, 60);
        var sigma = random.Next(0, 100);
        return new PlateShape(random.Next(50, 140), random.Next(40, 100), 1)
        {
            Kerf = random.Next(0, 4), Held = random.Next(3) * random.Next(3, 20), Longest = random.Next(5) == 0 ? random.Next(40, 140) : int.MaxValue,
            FirstCut = random.Next(4) switch { 0 => CutDirection.Rip, 1 => CutDirection.Crosscut, _ => null },
            KeepLong = keep, KeepShort = random.Next(5, keep + 1),
            Prices = new(0, random.Next(6_000, 60_000), random.Next(0, 300), sigma + random.Next(0, 60), sigma),
            Pieces = [.. Enumerable.Range(0, random.Next(1, 4)).Select(_ => new PlatePiece(random.Next(8, 50), random.Next(6, 30), random.Next(3) > 0, random.Next(1, 4), random.Next(2) * 3000))],
        };
    }

    private static IEnumerable<int[]> LoadsOf(PlateShape shape) => PlateOracle.Shares([.. shape.Pieces.Select(piece => piece.Demand)]).Where(load => load.Sum() > 0);

    /// <summary>A load, its bound raised until it is worked out; null: it can't be cut.</summary>
    private static Load? WorkedOut(BareLoads bare, PlateShape shape, int[] counts, double most)
    {
        var load = new Load(0, [.. counts], bare.LeastOf(counts, Meter)!.Value, null, false) { IsBare = true };
        for (Load? last = load; load.IsBare; load = last)
        {
            ((double)load.Cost).Should().BeLessThanOrEqualTo(most + 1e-6, "a bound is never above the cost: {0} of {1}", string.Join(',', counts), shape);
            if (load.Cost > 400_000_000 || (last = bare.Raised(load, long.MaxValue, Meter)) is null)
            {
                return null;
            }
        }

        return load;
    }

    [Fact]
    public void A_load_costs_what_the_cheapest_of_all_cuts_costs()
    {
        var found = 0;
        for (var seed = 1; seed <= 60; seed++)
        {
            var shape = TablesTest.Random(seed, out _);
            shape = shape with { Prices = shape.Prices with { PerCut = shape.Prices.PerCut + 1 } };
            var (oracle, bare) = (new PlateOracle(shape), new BareLoads(shape, load => load with { Real = true }));
            foreach (var counts in LoadsOf(shape))
            {
                var right = oracle.Plate(counts);
                var load = WorkedOut(bare, shape, counts, -right);
                (load is not null).Should().Be(right > double.NegativeInfinity, "seed {0}, load {1}", seed, string.Join(',', counts));
                if (load is not null)
                {
                    found++;
                    ((double)-load.Cost).Should().BeInRange(right - 1e-6, right + Rounding, "seed {0}, load {1}", seed, string.Join(',', counts));
                    TablesTest.WorthOf(shape, load.Tree!, counts).Should().BeApproximately(-load.Cost, Rounding, "seed {0}: the tree is worth what is said", seed);
                }
            }
        }

        found.Should().BeGreaterThan(80);
    }

    [Fact]
    public void On_larger_plates_it_costs_what_the_table_of_all_loads_has()
    {
        var found = 0;
        for (var seed = 1; seed <= 30; seed++)
        {
            var shape = Large(seed);
            var table = new LoadTable(new(shape)).Loads().ToDictionary(load => string.Join(',', load.Counts), load => load.Worth, StringComparer.Ordinal);
            var bare = new BareLoads(shape, load => load with { Real = true });
            foreach (var counts in LoadsOf(shape))
            {
                var listed = table.TryGetValue(string.Join(',', counts), out var worth);
                var load = WorkedOut(bare, shape, counts, listed ? -worth + Rounding : double.PositiveInfinity);
                (load is not null).Should().Be(listed, "seed {0}, load {1}", seed, string.Join(',', counts));
                if (load is not null)
                {
                    found++;
                    (-load.Cost).Should().BeCloseTo(worth, (uint)Rounding, "seed {0}, load {1}", seed, string.Join(',', counts));
                    TablesTest.WorthOf(shape, load.Tree!, counts).Should().BeApproximately(-load.Cost, Rounding, "seed {0}: the tree is worth what is said", seed);
                }
            }
        }

        found.Should().BeGreaterThan(150);
    }

    /// <summary>Offcuts that are just large enough to be kept, where cuts cost little: then some cut lies at what an offcut needs and not at a row of pieces (<see cref="TablesTest.Sums_of_pieces_alone_are_not_enough"/>).</summary>
    private static PlateShape WithCheapCuts(int seed)
    {
        var random = new Random(seed);
        var keep = random.Next(10, 40);
        return new PlateShape(random.Next(40, 80), random.Next(40, 90), 1)
        {
            Kerf = random.Next(0, 2), Held = random.Next(3) == 0 ? random.Next(5, 30) : 0, Longest = int.MaxValue, KeepLong = keep, KeepShort = random.Next(5, keep + 1),
            Prices = new(0, random.Next(300, 2000), random.Next(0, 40), random.Next(20, 40), random.Next(0, 3)),
            Pieces = [.. Enumerable.Range(0, random.Next(1, 3)).Select(_ => new PlatePiece(random.Next(8, 36), random.Next(6, 40), random.Next(2) == 0, random.Next(1, 3), 0))],
        };
    }

    [Fact]
    public void What_an_offcut_needs_to_be_kept_fixes_cuts_too()
    {
        var found = 0;
        for (var seed = 1; seed <= 60; seed++)
        {
            var shape = WithCheapCuts(seed);
            var bare = new BareLoads(shape, load => load with { Real = true });
            foreach (var (counts, worth) in new LoadTable(new(shape)).Loads())
            {
                found++;
                (-WorkedOut(bare, shape, [.. counts], -worth + Rounding)!.Cost).Should().BeCloseTo(worth, (uint)Rounding, "seed {0}, load {1}", seed, string.Join(',', counts));
            }
        }

        found.Should().BeGreaterThan(150);
    }

    [Fact]
    public void Cuts_further_in_are_no_longer_than_the_smallest_piece_of_a_load()
    {
        // By hand: once 100 × 100 is parted from 10 × 10 nine cuts may go through what holds the small one alone, 10 long each.
        var shape = new PlateShape(300, 200, 1)
        {
            Kerf = 1, Held = 0, Longest = int.MaxValue, KeepLong = 50, KeepShort = 20, Prices = new(0, 1000, 100, 0, 0),
            Pieces = [new(100, 100, true, 1, 0), new(10, 10, true, 1, 0)],
        };
        var (loads, shares) = LoadShares.Of(shape);

        new LeastCuts(new(shape), loads, shares).Of(300, 200, 3, 0, terms: 9).Should().BeLessThan(21_000 + 11_000 + (9 * 2000));
    }

    [Fact]
    public void A_rectangle_may_hold_a_load_just_where_cuts_anywhere_get_it_out()
    {
        var held = 0;
        for (var seed = 1; seed <= 40; seed++)
        {
            var shape = Large(seed) with { Held = 0, Longest = int.MaxValue, FirstCut = null };
            var (loads, shares) = LoadShares.Of(shape);
            var (table, sizes) = (new LoadTable(new(shape, everywhere: true), everyRow: true), new LeastRectangles(shape, loads, shares));
            for (var load = 1; load < loads.Length; load++)
            {
                for (var w = 1; w <= shape.SizeX; w += 3)
                {
                    for (var h = 1; h <= shape.SizeY; h += 2)
                    {
                        sizes.MayHold(w, h, load).Should().Be(table.Most(w, h, load) > -500_000_000, "{0} × {1} of {2}, load {3}", w, h, shape, string.Join(',', loads[load]));
                        held += sizes.MayHold(w, h, load) ? 1 : 0;
                    }
                }
            }
        }

        held.Should().BeGreaterThan(1000);
    }
}
