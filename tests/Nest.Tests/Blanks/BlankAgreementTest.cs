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
    private static readonly Gen<(Job Job, Part Part, Stock Stock)> Cases = Gen.Int[0, int.MaxValue - 1].Select(seed =>
    {
        var random = new Random(seed);
        bool Maybe(int of = 2) => random.Next(of) == 0;
        decimal Size(int from, int to) => random.Next(from * 2, to * 2) / 2m;
        var round = Maybe(3);
        var part = (round ? Round("p", Size(5, 60), Size(5, 120)) : Flat("p", Size(5, 120), Size(5, 80), Size(5, 40))) with
        {
            MayTurn = Maybe(),
            Holding = (Holding)random.Next(4),
            MillFaces = Maybe(),
            MillSides = Maybe(),
            Lie = Maybe() ? null : (Lie)random.Next(3),
            Allowances = Maybe() ? null : new() { Grip = Mm(random.Next(4)), EndCleanUp = Mm(random.Next(4)), SideCleanUp = Mm(random.Next(3)) },
        };
        if (Maybe(4))
        {
            // Long enough to be held at its shorter edge.
            part = part with { Length = part.Length + Mm(400), Ends = new(Angle.FromDegrees(random.Next(-60, 61)), Angle.FromDegrees(random.Next(1, 61) / 4m), Maybe()) };
        }
        else if (!round && Maybe(4))
        {
            part = part with { PerBlank = new() { Gap = Mm(random.Next(4)) } };
            part = Maybe(4) ? part : part with { Gang = new() { Rows = random.Next(1, 4), Columns = random.Next(1, 3), Blanks = 1, Rest = Maybe(), Members = [new("p", 1, 1)] } };
        }

        var form = (Form)random.Next(4);
        var (width, thickness) = (Size(5, 130), Size(5, 70));

        // Half the time the stock is nominally a size of the part.
        if (Maybe())
        {
            (width, thickness) = (part.Width.ToMillimetres(), part.Thickness.ToMillimetres());
        }

        var stock = form switch
        {
            Form.Plate => Plate("s", 1000, 800, thickness),
            Form.FlatBar => Bar("s", form, Math.Max(width, thickness), Math.Min(width, thickness)),
            _ => Bar("s", form, width, width),
        };
        if (!round && part.PerBlank is null && Maybe(6))
        {
            // A length of a section, of this one or of another.
            var detail = new SectionDetail { Wall = Mm(random.Next(1, 3)) };
            form = Maybe() ? Form.RectangularTube : Form.Angle;
            stock = Bar("s", form, 40, 30) with { Detail = Maybe(4) ? new() { Wall = Mm(2) } : detail };
            part = part with { Width = Mm(40), Thickness = Mm(30), Forms = form == Form.Angle ? Forms.Angle : Forms.RectangularTube, Detail = detail };
        }
        else if (round && part.Ends is null && Maybe(6))
        {
            stock = Bar("s", Form.HexBar, width, width) with { Detail = new() };
            part = part with { Forms = Forms.Any | Forms.HexBar };
        }

        var job = Job([part], [stock with { GoodFaces = Maybe() }]) with
        {
            AllowanceRules = [Usual, .. Enumerable.Range(0, random.Next(3)).Select(_ => new AllowanceRule
            {
                MaterialId = random.Next(3) switch { 0 => "6061-t651", 1 => "S235", _ => null }, Family = random.Next(3) switch { 0 => "Aluminium", 1 => "steel", _ => null },
                Holding = Maybe() ? null : (Holding)random.Next(4), Allowances = new() { EndCleanUp = Maybe() ? null : Mm(random.Next(4)), FaceTop = Mm(random.Next(4)), FaceBottom = Mm(random.Next(3)) },
            })],
            Mill = new() { HourlyRate = 90m, DefaultRemovalRate = 30m, BlankMinutes = random.Next(4), RemovalRates = Maybe() ? [] : [new("steel", 7m), new("ALUMINIUM", 44m)] },
            Fuss = new() { FurtherSizeMinutes = random.Next(3) * 5m },
        };
        return (job, part, job.Stocks[0]);
    });

    [Fact]
    public void Sizer_and_checker_agree()
    {
        var fitted = 0;
        Cases.Sample(pair =>
        {
            var job = pair.Job;
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
