using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Tests.Costing;

/// <summary>Masses of published tables, and prices made from them.</summary>
public class StockPriceTest
{
    private const decimal PoundPerCubicInch = Mass.KilogramsPerPound / (0.0254m * 0.0254m * 0.0254m);

    // Plates by thickness × width × length. Sources beside each row; the printed value is met to its last digit.
    [Theory]
    [InlineData("0.80 mm", "1250 mm", "2500 mm", 2.80, 7.00)] // 2014 sheet: sanghvioverseasinc.com weight table
    [InlineData("4.00 mm", "1250 mm", "2500 mm", 2.80, 35.00)] // sanghvioverseasinc.com weight table
    [InlineData("3.0 mm", "380 mm", "728 mm", 2.7, 2.24)] // haomei-aluminium.com sheet weight example
    [InlineData("10 mm", "1000 mm", "2000 mm", 7.85, 157.00)] // own arithmetic: 78.5 kg/m2
    [InlineData("20 mm", "1000 mm", "2000 mm", 2.70, 108.00)] // own arithmetic: 54.0 kg/m2
    [InlineData("20 mm", "1000 mm", "1000 mm", 2.66, 53.20)] // own arithmetic: 5083
    [InlineData("20 mm", "1000 mm", "1000 mm", 2.81, 56.20)] // own arithmetic: 7075
    public void Plates_weigh_in_kilograms_what_tables_print(string t, string w, string l, double density, double kilograms)
    {
        var mass = Of(Form.Plate, t, w, l).PieceMass(Material((decimal)density * 1000m));
        decimal.Round(mass.Kilograms, 2).Should().Be((decimal)kilograms);
    }

    [Theory]
    [InlineData("0.063 in", "48 in", "144 in", 0.101, 43.98)] // 2014 sheet: sanghvioverseasinc.com weight table
    [InlineData("0.125 in", "48 in", "144 in", 0.101, 87.26)] // sanghvioverseasinc.com weight table
    [InlineData("3/16 in", "12 in", "12 in", 0.2836, 7.66)] // lb/ft2, steel tables print 7.66 (from memory)
    [InlineData("1/4 in", "12 in", "12 in", 0.2836, 10.21)] // lb/ft2, steel tables print 10.21 (from memory)
    [InlineData("1/2 in", "12 in", "12 in", 0.0975, 7.02)] // lb/ft2 of 6061, own arithmetic
    [InlineData("1 in", "48 in", "96 in", 0.0975, 449.28)] // 6061, own arithmetic: 449.3 lb
    public void Plates_weigh_in_pounds_what_tables_print(string t, string w, string l, double density, double pounds)
    {
        var mass = Of(Form.Plate, t, w, l).PieceMass(Material((decimal)density * PoundPerCubicInch));
        decimal.Round(mass.ToPounds(), 2).Should().Be((decimal)pounds);
    }

    [Theory]
    [InlineData(Form.FlatBar, "1/2 in", "2 in", "120 in", 0.2833, 34.00)] // own check; jajalger2018.org prints 33.99
    [InlineData(Form.RoundBar, "1 in", "1 in", "144 in", 0.2833, 32.04)] // jajalger2018.org
    [InlineData(Form.RoundBar, "3/4 in", "3/4 in", "48 in", 0.2833, 6.01)] // jajalger2018.org: 6.00 to 6.01
    [InlineData(Form.SquareBar, "1 in", "1 in", "144 in", 0.2833, 40.80)] // own check of jajalger2018.org, which slips to 40.97
    public void Bars_weigh_in_pounds_what_tables_print(Form form, string t, string w, string l, double density, double pounds)
    {
        var mass = Of(form, t, w, l).PieceMass(Material((decimal)density * PoundPerCubicInch));
        decimal.Round(mass.ToPounds(), 2).Should().Be((decimal)pounds);
    }

    // Per metre, steel at 7.85.
    [Theory]
    [InlineData(Form.FlatBar, "10 mm", "50 mm", 7.85, 3.93)] // EN 10058 tables print 3.93 (from memory)
    [InlineData(Form.FlatBar, "8 mm", "60 mm", 7.85, 3.77)] // own arithmetic: 3.768
    [InlineData(Form.FlatBar, "15 mm", "150 mm", 7.85, 17.66)] // own arithmetic: 17.6625
    [InlineData(Form.RoundBar, "20 mm", "20 mm", 7.85, 2.47)] // own arithmetic; d²/162 (ufoscience.org) gives 2.469
    [InlineData(Form.RoundBar, "50 mm", "50 mm", 7.85, 15.41)] // own arithmetic
    [InlineData(Form.RoundBar, "100 mm", "100 mm", 7.85, 61.65)] // own arithmetic
    [InlineData(Form.RoundBar, "50 mm", "50 mm", 2.70, 5.30)] // own arithmetic
    [InlineData(Form.SquareBar, "20 mm", "20 mm", 7.85, 3.14)] // own arithmetic
    [InlineData(Form.FlatBar, "20 mm", "100 mm", 2.70, 5.40)] // own arithmetic
    public void Bars_weigh_per_metre_what_tables_print(Form form, string t, string w, double density, double kilograms)
    {
        var mass = Of(form, t, w, "1 m").PieceMass(Material((decimal)density * 1000m));
        decimal.Round(mass.Kilograms, 2, MidpointRounding.AwayFromZero).Should().Be((decimal)kilograms);
    }

    [Theory]
    [InlineData(PriceBasis.Piece, 19.99, 19.99)]
    [InlineData(PriceBasis.Metre, 10, 60)]
    [InlineData(PriceBasis.Foot, 3.048, 60)] // 6 m ÷ 0.3048 m × 3.048
    [InlineData(PriceBasis.Kilogram, 2, 47.1)] // 6 × 3.925 × 2; on the rounded 3.93 it would be 47.16
    [InlineData(PriceBasis.Pound, 0.45359237, 23.55)] // one per pound at this price is one per kg
    public void The_price_of_a_bar_follows_its_basis(PriceBasis basis, double price, double piece) =>
        StockPrice.PerPiece(basis, (decimal)price, Of(Form.FlatBar, "10 mm", "50 mm", "6 m"), Material(7850m)).Amount
            .Should().Be((decimal)piece);

    [Theory]
    [InlineData(PriceBasis.SquareMetre, 100, 200)]
    [InlineData(PriceBasis.SquareFoot, 9.290304, 200)] // a square foot is 0.09290304 m² exactly
    [InlineData(PriceBasis.Kilogram, 1, 157)]
    public void The_price_of_a_plate_follows_its_basis(PriceBasis basis, double price, double piece) =>
        StockPrice.PerPiece(basis, (decimal)price, Of(Form.Plate, "10 mm", "1 m", "2 m"), Material(7850m)).Amount
            .Should().Be((decimal)piece);

    private static Material Material(decimal density) => new() { Id = "x", Family = "steel", Density = density };

    private static Stock Of(Form form, string t, string w, string l)
    {
        var (thickness, width, length) = (Size(t), Size(w), Size(l));
        return new()
        {
            Id = "x",
            Form = form,
            MaterialId = "x",
            Length = length,
            Width = width,
            Thickness = thickness,
            MinLength = length,
            MinWidth = width,
            MinThickness = thickness,
            PiecePrice = Money.Zero,
        };
    }

    private static Length Size(string text) =>
        LengthText.TryParse(text, LengthUnit.Millimetre, '.', out var length, out var error) ? length : throw new ArgumentException(error);
}
