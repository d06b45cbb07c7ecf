using System.Globalization;
using Nest.Core.Plans;
using Nest.Solve;
using Nest.Solve.Bars;

namespace Nest.Tests.Bars;

/// <summary>Examples from textbooks and public documentation with their known optima. Surplus pieces are allowed in the sources (they may
/// simply be left uncut), kerf is zero.</summary>
public class BarTextbookTests
{
    [Theory]
    //// Chvatal, Linear Programming (1983), ch. 13; data as in the SAS/OR example omode05. LP 452.25.
    [InlineData("Chvatal", 100, "45x97 36x610 31x395 14x211", 453)]
    //// The same as printed in the SAS/OR PROC OPTMODEL documentation, with 35 for 36.
    [InlineData("SAS/OR", 100, "45x97 35x610 31x395 14x211", 453)]
    //// AMPL book, cut.dat. LP 46.25.
    [InlineData("AMPL cut.dat", 110, "20x48 45x35 50x24 55x10 75x8", 47)]
    //// Wikipedia, "Cutting stock problem" (paper rolls of 5600 mm). LP 72.92.
    [InlineData("paper rolls", 5600, "1380x22 1520x25 1560x12 1710x14 1820x18 1880x18 1930x20 2000x10 2050x12 2100x14 2140x16 2150x18 2200x20", 73)]
    //// Sierksma and Zwols, Linear and Integer Optimization, ch. 16 (trim loss), lengths × 2. LP 36.46.
    [InlineData("Sierksma", 760, "257x20 252x9 201x22 173x19 164x56 141x23", 37)]
    //// MiniZinc benchmarks, cutstock.mzn (Puchinger 2007).
    [InlineData("MiniZinc cutstock", 10, "7x2 5x2 3x4", 4)]
    //// Gueret, Prins, Sevaux, Applications of Optimization: desk legs from 2 m tubes. LP 376.4.
    [InlineData("desk legs", 200, "40x432 60x500 70x400", 377)]
    //// Mosel user guide, column generation. LP 96.11.
    [InlineData("Mosel guide", 100, "6x9 11x6 17x20 21x30 24x17 28x19 30x25 33x12 42x8 49x20 56x5 69x14 74x15 87x18 91x10", 97)]
    //// JuMP documentation, column generation tutorial, lengths × 10 (data from memory, optimum checked by an exact LP bound). LP 334.0.
    [InlineData("JuMP tutorial", 1000, "750x38 750x44 750x30 750x41 750x36 538x33 530x36 510x41 502x35 322x37 308x44 298x49 201x37 162x36 145x42 110x33 86x47 82x35 66x49 51x42", 334)]
    //// A small teaching example (github: gh-aw discussion 60609); material alone would say 38.
    [InlineData("teaching example", 100, "50x40 40x30 30x20", 40)]
    //// Own arithmetic with an exact LP bound of 4.46.
    [InlineData("mixed lots", 120, "33x8 30x3 18x10", 5)]
    public void KnownOptimumIsProven(string name, long length, string items, long bars)
    {
        var problem = new BarProblem { Stocks = [new BarStock(length, 1)], Items = [.. Items(items)] };
        BarSolution answer = BarSolver.Solve(problem, new SolveLimits { Seconds = 30 });
        answer.Status.Should().Be(SolveStatus.Proven, name);
        answer.Cost.Should().Be(bars, name);
        answer.Bound.Should().Be(bars, name);
    }

    /// <summary>Kantor, CBE40455 notebook 05.07: bars of 15 m and 10 m, three of each; 60 m are cut without waste.</summary>
    [Fact]
    public void TwoLengthsWithFewOfEach()
    {
        var problem = new BarProblem
        {
            Stocks = [new BarStock(15, 15, 3), new BarStock(10, 10, 3)],
            Items = [.. Items("7x3 6x2 4x6 3x1")],
        };
        BarSolution answer = BarSolver.Solve(problem, new SolveLimits());
        answer.Status.Should().Be(SolveStatus.Proven);
        answer.Cost.Should().Be(60);
        answer.Layouts.Where(l => l.Stock == 0).Sum(l => l.Count).Should().Be(2);
        answer.Layouts.Where(l => l.Stock == 1).Sum(l => l.Count).Should().Be(3);
    }

    /// <summary>Gueret, Prins, Sevaux, desk legs from tubes of 1.5 m and 2 m, least length bought: 75 280 cm are needed and what is bought
    /// is a multiple of 50 cm, so 75 300 is the least possible (own arithmetic).</summary>
    [Fact]
    public void DeskLegsFromTwoTubes()
    {
        var problem = new BarProblem { Stocks = [new BarStock(150, 150), new BarStock(200, 200)], Items = [.. Items("40x432 60x500 70x400")] };
        BarSolution answer = BarSolver.Solve(problem, new SolveLimits());
        answer.Status.Should().Be(SolveStatus.Proven);
        answer.Cost.Should().Be(75_300);
    }

    /// <summary>n pieces need n lengths and n−1 cuts: n = ⌊(L + kerf)/(piece + kerf)⌋ (own arithmetic; the formula is standard).</summary>
    [Theory]
    [InlineData(6000, 123, 2, 48)]
    [InlineData(6000, 123, 3, 47)]
    [InlineData(5970, 250, 3, 23)]
    [InlineData(96, 8, 0, 12)]
    [InlineData(1536, 128, 1, 11)]
    public void KerfDecidesHowManyFit(long length, long piece, long kerf, int fit)
    {
        foreach ((int demand, int bars) in new[] { (fit, 1), (fit + 1, 2) })
        {
            var problem = new BarProblem { Stocks = [new BarStock(length, 1)], Items = [new BarItem(piece, demand)], Kerf = kerf };
            BarSolution answer = BarSolver.Solve(problem, new SolveLimits());
            answer.Status.Should().Be(SolveStatus.Proven);
            answer.Cost.Should().Be(bars);
        }
    }

    private static IEnumerable<BarItem> Items(string text) => text.Split(' ').Select(t => t.Split('x')).Select(t =>
        new BarItem(long.Parse(t[0], CultureInfo.InvariantCulture), int.Parse(t[1], CultureInfo.InvariantCulture)));
}
