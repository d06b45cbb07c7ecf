using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Plates;

namespace Nest.Tests.Plates;

/// <summary>A quick subset of published instances (see Data/plates/README.md).</summary>
public class ThroughCutPublishedTests
{
    [Theory]
    // Optima of the free, not turned problem from the page "Best known solution and lower bound for each instance" of the Operations
    // Research group of the University of Bologna; the through-cut plan found meets them, so it is optimal as well.
    [InlineData("CLASS01_020_01", 8)]
    [InlineData("CLASS02_020_01", 1)]
    [InlineData("CLASS04_060_01", 3)]
    // No published value of the single instance: plates and bound must meet each other.
    [InlineData("CLASS05_060_01", null)]
    [InlineData("CLASS07_020_01", null)]
    [InlineData("CLASS08_020_01", null)]
    [InlineData("CLASS09_060_01", null)]
    [InlineData("CLASS10_020_01", null)]
    public void Bin_packing_is_solved_and_proven(string name, int? plates)
    {
        var (stock, items, _) = Read("bin-packing.txt")[name];
        var problem = new PlateProblem { Stocks = [stock], Items = items, Cutting = new PlateCutting() };
        var solution = PlateSolver.Solve(problem, new SolveLimits { Seconds = 30, Work = 1_500_000 });
        ThroughCutChecker.Check(problem, solution).Should().BeEmpty();
        solution.Status.Should().Be(SolveStatus.Proven);
        if (plates is { } known)
        {
            solution.Layouts.Sum(l => l.Count).Should().Be(known);
        }
    }

    [Theory]
    // Unlimited copies: Cintra, Miyazawa, Wakabayashi, Xavier, EJOR 191 (2008) (gcut); Hifi, Zissimopoulos, EJOR 91 (1996) (cgcut, OF).
    [InlineData("gcut1", true, false, 56460)]
    [InlineData("gcut4", true, false, 61698)]
    [InlineData("gcut8", true, false, 246633)]
    [InlineData("gcut1", true, true, 58136)]
    [InlineData("gcut4", true, true, 62265)]
    [InlineData("gcut8", true, true, 247787)]
    [InlineData("cgcut1", true, false, 249)]
    [InlineData("cgcut2", true, false, 3076)]
    [InlineData("cgcut3", true, false, 2240)]
    [InlineData("OF1", true, false, 2758)]
    [InlineData("OF2", true, false, 2776)]
    // Limited copies: Fayard, Hifi, Zissimopoulos, JORS 49 (1998).
    [InlineData("cgcut2", false, false, 2892)]
    [InlineData("cgcut3", false, false, 1860)]
    [InlineData("CU1", false, false, 12330)]
    [InlineData("CU2", false, false, 26100)]
    [InlineData("CW1", false, false, 6402)]
    [InlineData("CW2", false, false, 5354)]
    // Limited copies, free layouts: Fekete, Schepers 2004 (page fs-eahdo-04 of packlib). A through-cut layout reaches these optima, so no through-cut one is worth more.
    [InlineData("okp2", false, false, 22502)]
    [InlineData("okp3", false, false, 24019)]
    [InlineData("okp4", false, false, 32893)]
    [InlineData("okp5", false, false, 27923)]
    // From memory (Christofides, Whitlock 1977; Oliveira, Ferreira 1990).
    [InlineData("cgcut1", false, false, 244)]
    [InlineData("OF1", false, false, 2737)]
    [InlineData("OF2", false, false, 2690)]
    public void Single_plate_values_are_reached_and_proven(string name, bool unlimited, bool turn, long known)
    {
        var (stock, read, values) = Read("value.txt")[name];
        var items = read.Select(i => i with { MayTurn = turn }).ToImmutableArray();
        var value = PlateValues.Of(stock, 0, items, values, unlimited);
        value.Should().BeEquivalentTo(new { Value = known, Bound = known });
        var problem = new PlateProblem { Stocks = [stock], Items = items, Cutting = new PlateCutting() };
        ThroughCutChecker.CheckLayout(problem, value.Layout!).Should().BeEmpty();
        value.Layout!.Pieces.Sum(p => values[p.Item]).Should().Be(known);
        if (!unlimited)
        {
            value.Layout.Pieces.GroupBy(p => p.Item).Should().OnlyContain(g => g.Count() <= items[g.Key].Demand);
        }
    }

    private static Dictionary<string, (PlateStock Stock, ImmutableArray<PlateItem> Items, ImmutableArray<long> Values)> Read(string file)
    {
        var all = new Dictionary<string, (PlateStock, ImmutableArray<PlateItem>, ImmutableArray<long>)>();
        var path = Path.Combine(AppContext.BaseDirectory, "Data", "plates", file);
        using var lines = File.ReadLines(path).Where(l => l.Length > 0 && l[0] != '#').Select(l => l.Split(' ')).GetEnumerator();
        while (lines.MoveNext())
        {
            var name = lines.Current[1];
            var types = int.Parse(lines.Current[3], CultureInfo.InvariantCulture);
            lines.MoveNext();
            var plate = lines.Current.Skip(1).Take(3).Select(Long).ToArray();
            var items = ImmutableArray.CreateBuilder<PlateItem>();
            var values = ImmutableArray.CreateBuilder<long>();
            for (var t = 0; t < types && lines.MoveNext(); t++)
            {
                var c = lines.Current.Select(Long).ToArray();
                items.Add(new PlateItem(c[0], c[1], (int)c[2], false));
                values.Add(c[3]);
            }

            all.Add(name, (new PlateStock(plate[0], plate[1], plate[2]), items.ToImmutable(), values.ToImmutable()));
        }

        return all;
    }

    private static long Long(string text) => long.Parse(text, CultureInfo.InvariantCulture);
}
