using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using static Nest.Tests.Makers.JobMaker;

namespace Nest.Tests.Blanks;

/// <summary>Pieces that a supplier cuts to size, by hand. The blank of a part of 100 × 50 × 10 is 103 × 53 × 14 from plate: 1.5 mm a side, two faces of 0.5 mm, 3 mm grip. From bar it is 102 long: 1 mm an end.</summary>
public class CutToSizeTest
{
    private static readonly Part Lug = Part("lug", 100, 50, 10, 4);
    private static readonly Stock Sheet = Plate("sheet", 1000, 500, 15, 0) with { PriceBasis = PriceBasis.SquareMetre, UnitPrice = 200 };
    private static readonly Stock Flat = Bar("flat", 60, 20, 3000, 0) with { PriceBasis = PriceBasis.Metre, UnitPrice = 12 };

    private static Job Shop => Job([Lug], []);

    private static CutOffer Offer(Stock from) => new(from, Money.FromAmount(1.5m), Money.FromAmount(0.75m), []);

    [Fact]
    public void A_piece_of_plate_costs_its_area_and_two_cuts()
    {
        // 0.103 × 0.053 = 0.005459 m² at 200 = 1.0918, and 1.50 + 2 × 0.75.
        var piece = CutToSize.Piece(Shop, Lug, Offer(Sheet))!;

        (piece.Id, piece.CutFor, piece.Length, piece.MinWidth).Should().Be(("sheet cut for lug", "lug", Mm(103), Mm(53)));
        piece.PiecePrice.Should().Be(Money.FromAmount(4.0918m));
        BlankSizer.Size(Shop with { Stocks = [piece] })[0].Fits.Should().ContainSingle("it is the blank, with clean edges on all sides");
    }

    [Fact]
    public void A_piece_of_bar_costs_its_length_and_one_cut()
    {
        // 0.102 m at 12 = 1.224, and 1.50 + 0.75.
        var piece = CutToSize.Piece(Shop, Lug, Offer(Flat))!;

        (piece.Length, piece.Width, piece.PiecePrice).Should().Be((Mm(102), Mm(60), Money.FromAmount(3.474m)));
    }

    [Fact]
    public void Of_a_price_a_piece_it_costs_its_share_and_of_many_what_the_breaks_say()
    {
        // 103 × 53 of 1000 × 500 is 0.010918; of 100: 1.0918, of 80 from ten on: 0.87344, rounded to a ten-thousandth.
        var piece = CutToSize.Piece(Shop, Lug, Offer(Sheet with { PriceBasis = PriceBasis.Piece, UnitPrice = 100 }) with { Breaks = [(10, 80m)] })!;

        piece.PiecePrice.Should().Be(Money.FromAmount(4.0918m));
        piece.Terms.Breaks.Should().ContainSingle().Which.Should().Be(new PriceBreak(10, Money.FromAmount(3.87344m)));
    }

    [Fact]
    public void What_does_not_serve_is_not_offered()
    {
        CutToSize.Piece(Shop, Lug, Offer(Sheet with { MaterialId = "304" })).Should().BeNull("another material");
        CutToSize.Piece(Shop, Lug with { Forms = Forms.FlatBar }, Offer(Sheet)).Should().BeNull("another form");
        CutToSize.Piece(Shop, Lug, Offer(Sheet with { Thickness = Mm(12), MinThickness = Mm(12) })).Should().BeNull("14 mm are needed");
        CutToSize.Piece(Shop, Lug, Offer(Sheet with { Length = Mm(101), MinLength = Mm(101), Width = Mm(101), MinWidth = Mm(101) })).Should().BeNull("103 mm are needed");
        CutToSize.Piece(Shop, Lug, Offer(Flat with { Length = Mm(101), MinLength = Mm(101) })).Should().BeNull("102 mm are needed");
    }

    [Fact]
    public void Every_offer_is_tried_for_every_part()
    {
        var job = Job([Lug, Part("long", 2000, 50, 10, 1)], [Plate("whole", 1000, 500, 15, 100)]);

        // The long part comes from the bar alone; the plate is too short.
        CutToSize.Expand(job, [Offer(Sheet), Offer(Flat)]).Stocks.Select(stock => stock.Id)
            .Should().Equal("whole", "sheet cut for lug", "flat cut for lug", "flat cut for long");
        CutToSize.Expand(job, [Offer(Sheet with { MaterialId = "304" })]).Should().BeSameAs(job);
    }

    [Fact]
    public void A_piece_is_cut_anew_for_a_part_that_was_changed()
    {
        var piece = CutToSize.Piece(Shop, Lug, Offer(Sheet))!;

        // 0.123 × 0.053 = 0.006519 m² at 200 = 1.3038, and the charges of before.
        var again = CutToSize.Again(Shop, Lug with { Length = Mm(120) }, piece)!;
        (again.Id, again.Length, again.PiecePrice).Should().Be(("sheet cut for lug", Mm(123), Money.FromAmount(4.3038m)));

        CutToSize.Again(Shop, Lug with { Length = Mm(1200) }, piece).Should().BeNull("it comes from no more than 1000 × 500");
        CutToSize.Again(Shop, Lug, Sheet).Should().BeNull("nobody cut it");
        CutToSize.Again(Shop, Lug, piece with { Terms = new() { Breaks = [new(10, Money.FromAmount(3))] } }).Should().BeNull("what ten of another size cost is not known");
    }

    [Fact]
    public void Stock_that_nearly_serves_is_told_with_what_would_help()
    {
        // By hand: 15 mm plate lacks nothing for 14; 13 mm does with the faces as they are (10 + 3 grip), 12 mm only without grip (10 + 1 faces), 9 mm never.
        var job = Job(
            [Lug with { Forms = Forms.Plate }],
            [Plate("15", 500, 300, 15, 1), Plate("13", 500, 300, 13, 1), Plate("12", 500, 300, 12, 1), Plate("9", 500, 300, 9, 1), Plate("none", 500, 300, 13, 1, 0), Bar("bar", 60, 13, 500, 1)]) with
        {
            StockRules = [new() { Parts = ["lug"], Not = ["12"] }],
        };

        var told = NearMisses.Of(job, BlankSizer.Size(job)[0]).ToList();

        told.Should().HaveCount(2);
        told[0].Should().StartWith("13: would do if its faces (good enough to stay) stayed (blank needs ").And.EndWith("1 mm too little)");
        told[1].Should().Be("12: left out by the job's rules");
        NearMisses.Of(job with { StockRules = [] }, BlankSizer.Size(job)[0]).Should().Contain(line => line.StartsWith("12: would do with smaller allowances (", StringComparison.Ordinal));
    }
}
