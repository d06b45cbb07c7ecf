using Nest.Solve.Exact;

namespace Nest.Tests.Exact;

/// <summary>Positions of the stop that sizes need at least: worked by hand, and against cuts made at random with few positions.</summary>
public sealed class StopPositionsTest
{
    [Theory]
    [InlineData("100", 8, 1)]
    [InlineData("100,60", 8, 2)]
    // 1000 − (100 + 3) = 897, and 1000 − 2 (100 + 3) = 794: what is left falls out.
    [InlineData("100,897", 8, 1)]
    [InlineData("100,794", 8, 1)]
    [InlineData("100,794", 1, 2)]
    // Both fall out behind cuts at 147: 1000 − 150 and 1000 − 2 · 150.
    [InlineData("850,700", 8, 1)]
    [InlineData("137,61,43", 5, 3)]
    // 1000 − (100 + 3) − (60 + 3) = 834.
    [InlineData("100,60,834", 8, 2)]
    // Three unlike sizes behind eight cuts are looked at to the end, and so are four.
    [InlineData("137,61,43", 8, 3)]
    [InlineData("237,137,61,43", 8, 3)]
    // A strip of 163 has 100 and 60 side by side, so that one of them falls out of it.
    [InlineData("100,60,163", 2, 2)]
    // What the plate measures needs nothing.
    [InlineData("1000", 8, 0)]
    [InlineData("1000,60", 8, 1)]
    public void By_hand(string sizes, long most, int least) =>
        StopPositions.Of(sizes.Split(',').Select(long.Parse), [1000], 3, most, all: true).Least.Should().Be(least);

    [Fact]
    public void With_any_number_of_cuts_almost_anything_falls_out_and_one_is_all_that_is_claimed() =>
        StopPositions.Of([100, 60, 41], [1000], 3, long.MaxValue, all: true).Least.Should().Be(1);

    /// <summary>Against a search that tries all pairs of whole positions: three and more sizes, small plates.</summary>
    [Fact]
    public void Pairs_are_all_that_there_are()
    {
        var random = new Random(7);
        var (some, none) = (0, 0);
        for (var turn = 0; turn < 300; turn++)
        {
            var (kerf, whole, most) = (random.Next(0, 4), random.Next(30, 90), random.Next(2, 7));
            long[] extents = random.Next(2) == 0 ? [whole] : [whole, whole + random.Next(1, 5)];
            long[] sizes = [.. Enumerable.Range(0, random.Next(3, 5)).Select(_ => (long)random.Next(3, whole)).Distinct().Order()];
            // Where one position serves, another may be anything.
            if (sizes.Length < 3 || StopPositions.Of(sizes, extents, kerf, most, all: false).Least == 1)
            {
                continue;
            }

            var right = new HashSet<(long, long)>();
            for (var p = 1; p < extents.Max(); p++)
            {
                for (var q = p; q < extents.Max(); q++)
                {
                    if (sizes.All(size => ComesAbout(size, p, q)))
                    {
                        right.Add((p, q));
                    }
                }
            }

            var found = new HashSet<(long, long)>();
            new PositionPairs(sizes, extents, kerf, most, (p, q, of) =>
            {
                if (p % of == 0 && q % of == 0 && (Math.Max(p, q) / of) - kerf < extents.Max())
                {
                    found.Add(((Math.Min(p, q) / of) - kerf, (Math.Max(p, q) / of) - kerf));
                }
            }, () => false).Look();
            found.Should().BeEquivalentTo(right, "{0} out of {1}, kerf {2}, {3} cuts", string.Join(' ', sizes), string.Join(' ', extents), kerf, most);
            some += right.Count > 0 ? 1 : 0;
            none += right.Count == 0 ? 1 : 0;

            bool ComesAbout(long size, int p, int q)
            {
                for (var i = 0; i <= most; i++)
                {
                    for (var j = 0; i + j <= most; j++)
                    {
                        var off = (i * (p + kerf)) + (j * (q + kerf));
                        if (extents.Any(extent => i + j > 0 && extent - off == size) || (i == 0 && p - (j * (q + kerf)) == size) || (j == 0 && q - (i * (p + kerf)) == size))
                        {
                            return true;
                        }
                    }
                }

                return false;
            }
        }

        some.Should().BeGreaterThan(50);
        none.Should().BeGreaterThan(50);
    }

    /// <summary>Whatever is cut with some positions, no more are said to be needed for the sizes that came about.</summary>
    [Fact]
    public void Cuts_at_random_never_need_fewer_and_are_among_the_sets()
    {
        var random = new Random(5);
        var (tight, listed) = (0, 0);
        for (var turn = 0; turn < 4000; turn++)
        {
            var (kerf, whole, cuts) = (random.Next(0, 4), random.Next(60, 400), random.Next(1, 8));
            var positions = Enumerable.Range(0, random.Next(1, 4)).Select(_ => (long)random.Next(3, whole)).Distinct().ToList();
            var metal = new List<long> { whole };
            var used = new HashSet<long>();
            for (var cut = 0; cut < cuts; cut++)
            {
                var (at, position) = (random.Next(metal.Count), positions[random.Next(positions.Count)]);
                if (metal[at] - position - kerf > 0)
                {
                    used.Add(position);
                    metal.Add(metal[at] - position - kerf);
                    metal[at] = position;
                }
            }

            // Blanks are some of what came about.
            var sizes = metal.Where(size => size != whole && random.Next(3) > 0).Distinct().Take(4).ToList();
            var (least, sets) = StopPositions.Of(sizes, [whole], kerf, cuts, all: true);
            least.Should().BeLessThanOrEqualTo(used.Count, "{0} out of {1}, kerf {2}, with {3}", string.Join(' ', sizes), whole, kerf, string.Join(' ', used));
            tight += least == used.Count ? 1 : 0;
            if (least == used.Count && sets is not null)
            {
                listed++;
                sets.Should().Contain(set => set.Denominator == 1 && set.Numerators.SequenceEqual(used.Order()), "{0} out of {1}, kerf {2}", string.Join(' ', sizes), whole, kerf);
            }
        }

        tight.Should().BeGreaterThan(1000, "else it says too little");
        listed.Should().BeGreaterThan(800);
    }
}
