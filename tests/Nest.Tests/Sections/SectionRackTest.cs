using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Data.Racks;
using Nest.Rack;
using Nest.Rack.Exchange;
using Nest.Rack.Values;
using Nest.RackStress;
using Nest.Tests.Rack;

namespace Nest.Tests.Sections;

/// <summary>Leftovers of sections on the rack: entered, exported and read again, and offered only to parts that ask for them.</summary>
public sealed class SectionRackTest : IDisposable
{
    private readonly RackFixture rack = new();

    private RackStore Store => rack.Store;

    public void Dispose() => rack.Dispose();

    private static Length Mm(decimal value) => Length.FromMillimetres(value);

    private static RackPiece Tube(decimal length, decimal wall) => new()
    {
        Form = Form.RectangularTube, MaterialId = SamplePlans.Aluminium.Id, Length = Mm(length), Width = Mm(60), Thickness = Mm(40), Detail = new() { Wall = Mm(wall) },
    };

    [Fact]
    public void A_piece_keeps_its_section_and_weighs_by_it()
    {
        var added = Store.Add([Tube(900, 3), Tube(700, 2) with { Form = Form.Profile, Detail = new() { Name = "Slot / 40" }, ListedSection = Area.FromSquareNanometres((Int128)600_000_000 * 1_000_000) }]);

        // 2 · 3 · (60 + 40 − 6) = 564 mm² of tube, 600 mm² as listed.
        var density = SamplePlans.Aluminium.Density;
        added.Select(piece => decimal.Round(piece.Mass.Kilograms, 6)).Should().Equal(decimal.Round(0.000564m * 0.9m * density, 6), decimal.Round(0.0006m * 0.7m * density, 6));
        foreach (var piece in added)
        {
            var back = Store.Show(piece.Mark);
            (back.Detail!.Key, back.ListedSection).Should().Be((piece.Detail!.Key, piece.ListedSection));
        }
    }

    [Fact]
    public void What_export_writes_import_reads()
    {
        var pieces = new[] { Tube(900, 3), Tube(700, 2) with { Form = Form.Profile, Detail = new() { Name = "Slot 40" }, ListedSection = Area.FromSquareNanometres((Int128)600_000_001 * 1_000_000) } };
        var csv = string.Join(',', RackTable.Heads) + "\n" + string.Concat(pieces.Select((piece, at) =>
            string.Join(',', RackTable.Row(piece with { Mark = $"A{at}", Entered = new(2026, 1, 1) }).Select(cell => Convert.ToString(cell, System.Globalization.CultureInfo.InvariantCulture))) + "\n"));
        var read = RackTableReader.Read(csv, "rack.csv", ShopMaterials.Load(null).Value!, LengthUnit.Millimetre);
        read.Findings.Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        read.Value!.Rows.Select(row => (row.Piece.Form, row.Piece.Detail!.Key, row.Piece.ListedSection)).Should().Equal(pieces.Select(piece => (piece.Form, piece.Detail!.Key, piece.ListedSection)));
    }

    [Theory]
    [InlineData(Form.RectangularTube, "60x40x3x800", "60 × 40 × 3 × 800 mm")]
    [InlineData(Form.Angle, "L 50x30x4 x 800", "L 50 × 30 × 4 × 800 mm")]
    [InlineData(Form.HexBar, "hex 19 x 600", "hex 19 × 600 mm")]
    [InlineData(Form.RoundTube, "25x2x600", "Ø 25 × 2 × 600 mm")]
    [InlineData(Form.Channel, "U 80x45x6x8x600", "U 80 × 45 × 6 × 8 × 600 mm")]
    public void Sizes_are_typed_and_shown_alike(Form form, string typed, string shown)
    {
        var size = PieceSizes.Of(form, typed, LengthUnit.Millimetre, reading => reading.Error, out var error);
        error.Should().BeEmpty();
        var piece = new RackPiece { Form = form, MaterialId = "x", Length = size!.Value.Length, Width = size.Value.Width, Thickness = size.Value.Thickness, Detail = size.Value.Detail };
        PieceSizes.Text(piece, LengthFormat.Metric).Should().Be(shown);
    }

    [Theory]
    [InlineData(Form.RectangularTube, "60x40", "none")]
    [InlineData(Form.Angle, "hex 19 x 600", "hex bar")]
    public void What_is_no_size_of_the_section_is_said(Form form, string typed, string word)
    {
        PieceSizes.Of(form, typed, LengthUnit.Millimetre, reading => reading.Error, out var error).Should().BeNull();
        error.Should().Contain(word == "none" ? "no size of a rectangular tube" : word);
    }

    [Fact]
    public void A_job_is_offered_the_sections_that_it_asks_for_alone()
    {
        Store.Add([Tube(900, 3), Tube(800, 2)]);
        var part = new Part { Id = "p", MaterialId = SamplePlans.Aluminium.Id, Length = Mm(300), Width = Mm(60), Thickness = Mm(40), Quantity = 1, Forms = Forms.RectangularTube, Detail = new() { Wall = Mm(3) } };
        var job = new Job { Name = "j", Materials = [SamplePlans.Aluminium], Parts = [part], Stocks = [], Saws = [] };
        Store.AvailableStock(StockRequest.For(job)).Stocks.Select(stock => stock.Detail!.Wall).Should().Equal(Mm(3));
        Store.AvailableStock(StockRequest.For(job with { Parts = [part with { Forms = Forms.Any, Detail = null, Width = Mm(10), Thickness = Mm(5) }] })).Stocks.Should().BeEmpty();
    }
}
