using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Values;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>What the rack does not offer to a plan, no part could have been cut from.</summary>
public sealed class EarlyRulingOutTest : IDisposable
{
    private readonly RackFixture rack = new();

    /// <summary>Against the blank sizer itself, which decides what serves; it knows nothing of the rack's index.</summary>
    [Fact]
    public void Every_piece_that_the_blank_sizer_takes_is_offered()
    {
        var random = new Random(11);
        Form[] forms = [Form.Plate, Form.FlatBar, Form.SquareBar, Form.RoundBar];
        decimal[] sections = [10, 12, 16, 20, 25, 30];
        for (var i = 0; i < 300; i++)
        {
            var form = forms[random.Next(forms.Length)];
            var thickness = sections[random.Next(4)];
            var width = form switch { Form.Plate => 40m + random.Next(200), Form.FlatBar => sections[random.Next(2, 6)], _ => thickness };
            if (width < thickness)
            {
                continue;
            }

            // As delivered: up to half a millimetre below nominal.
            var below = random.Next(6) / 10m;
            rack.Store.Add(new RackPiece
            {
                Form = form, MaterialId = SamplePlans.Aluminium.Id, Length = SamplePlans.Mm(100 + random.Next(400)),
                Width = SamplePlans.Mm(width), Thickness = SamplePlans.Mm(thickness),
                MinWidth = SamplePlans.Mm(width - below), MinThickness = SamplePlans.Mm(thickness - below), GoodFaces = random.Next(2) == 0,
            });
        }

        var all = rack.Store.List(new()).Select(piece => piece.ToStock(Money.FromAmount(1))).ToList();
        var (taken, byTolerance) = (0, 0);
        for (var round = 0; round < 60; round++)
        {
            var part = SamplePlans.Part("p", SamplePlans.Aluminium.Id, 30 + random.Next(200), sections[random.Next(2, 6)], sections[random.Next(3)], 1) with
            {
                Round = false,
                MillFaces = random.Next(3) > 0,
                MillSides = random.Next(3) > 0,
            };
            var job = SamplePlans.Job("any", [part], []);
            var offered = rack.Store.AvailableStock(StockRequest.For(job)).Stocks.Select(stock => stock.Id).ToHashSet();
            foreach (var fit in BlankSizer.Size(job with { Stocks = [.. all] })[0].Fits)
            {
                offered.Should().Contain(fit.StockId);
                var stock = all.Single(one => one.Id == fit.StockId);
                taken++;
                byTolerance += stock.MinThickness < part.Thickness || stock.MinWidth < part.Width ? 1 : 0;
            }
        }

        // The test must have met both kinds.
        taken.Should().BeGreaterThan(500);
        byTolerance.Should().BeGreaterThan(20);
    }

    /// <summary>The case that was lost: a drawn bar of 20 × 10 that may measure 19.9, for a part of 20 × 10 whose surfaces stay.</summary>
    [Fact]
    public void A_bar_below_nominal_is_offered_to_a_part_of_the_bars_own_section()
    {
        var bar = rack.Store.Add(new RackPiece
        {
            Form = Form.FlatBar, MaterialId = SamplePlans.Aluminium.Id, Length = SamplePlans.Mm(1000), Width = SamplePlans.Mm(20), Thickness = SamplePlans.Mm(10),
            MinWidth = SamplePlans.Mm(19.9m), MinThickness = SamplePlans.Mm(9.9m), GoodFaces = true,
        });
        var part = SamplePlans.Part("stop", SamplePlans.Aluminium.Id, 150, 20, 10, 4) with { MillFaces = true, MillSides = true };
        var answer = rack.Store.AvailableStock(StockRequest.For(SamplePlans.Job("j", [part], [])));
        answer.Stocks.Should().ContainSingle().Which.RackMark.Should().Be(bar.Mark);
    }

    public void Dispose() => rack.Dispose();
}
