using CsCheck;
using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using static Nest.Tests.Check.TestShop;

namespace Nest.Tests.Blanks;

/// <summary>The sizer and the checker work blanks out independently; on random parts and stocks they must agree.</summary>
public class BlankAgreementTest
{
    private static readonly Gen<(Part Part, Stock Stock)> Pairs = Gen.Int[0, int.MaxValue - 1].Select(seed =>
    {
        var random = new Random(seed);
        decimal Size(int from, int to) => random.Next(from * 2, to * 2) / 2m;
        var round = random.Next(3) == 0;
        var part = (round ? Round("p", Size(5, 60), Size(5, 120)) : Flat("p", Size(5, 120), Size(5, 80), Size(5, 40))) with
        {
            MayTurn = random.Next(2) == 0,
            Holding = (Holding)random.Next(4),
            MillFaces = random.Next(2) == 0,
            MillSides = random.Next(2) == 0,
            Allowances = random.Next(2) == 0 ? null : new() { Grip = Mm(random.Next(4)), EndCleanUp = Mm(random.Next(4)), SideCleanUp = Mm(random.Next(3)) },
        };
        if (random.Next(4) == 0)
        {
            // Long enough to be held at its shorter edge.
            part = part with { Length = part.Length + Mm(400), Ends = new(Angle.FromDegrees(random.Next(-60, 61)), Angle.FromDegrees(random.Next(1, 61) / 4m)) };
        }

        var form = (Form)random.Next(4);
        var (width, thickness) = (Size(5, 130), Size(5, 70));
        // Half the time the stock is nominally a size of the part.
        if (random.Next(2) == 0)
        {
            (width, thickness) = (part.Width.ToMillimetres(), part.Thickness.ToMillimetres());
        }

        var stock = form switch
        {
            Form.Plate => Plate("s", 1000, 800, thickness),
            Form.FlatBar => Bar("s", form, Math.Max(width, thickness), Math.Min(width, thickness)),
            _ => Bar("s", form, width, width),
        };
        return (part, stock with { GoodFaces = random.Next(2) == 0 });
    });

    [Fact]
    public void Sizer_and_checker_agree()
    {
        var fitted = 0;
        Pairs.Sample(pair =>
        {
            var job = Job([pair.Part], [pair.Stock]);
            var fit = BlankSizer.Size(job).Single().Fits.SingleOrDefault();
            var expected = ExpectedBlanks.Of(job, pair.Part, Aluminium, pair.Stock, job.SawFor(pair.Stock) ?? BarSaw);
            if (fit is null)
            {
                return expected.Count == 0;
            }

            fitted++;
            return expected.Any(size => size.SizeX == fit.SizeX && size.SizeY == fit.SizeY && size.Facing == fit.ExtraCost && size.Ends == fit.Ends
                && (pair.Stock.Form == Form.Plate || size.Across == fit.Turned));
        }, iter: 5000, threads: 1);
        fitted.Should().BeGreaterThan(1000);
    }
}
