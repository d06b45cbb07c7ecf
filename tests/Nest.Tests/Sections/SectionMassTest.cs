using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Tests.Sections;

/// <summary>Areas of sections against handbook tables; corners count as sharp, so tables of rolled sections with a root radius differ by per cents.</summary>
public class SectionMassTest
{
    // Kilograms per metre at 7850 kg/m³; the table's figure and by how much sharp corners may differ from it.
    [Theory]
    [InlineData(Form.RoundTube, 26.9, 26.9, 2.3, 0, 1.40, 0.005)] // EN 10219-2 (from memory)
    [InlineData(Form.RoundTube, 33.7, 33.7, 2.6, 0, 1.99, 0.005)] // EN 10219-2 (from memory)
    [InlineData(Form.RoundTube, 48.3, 48.3, 3.2, 0, 3.56, 0.005)] // EN 10219-2 (from memory)
    [InlineData(Form.RectangularTube, 40, 40, 3, 0, 3.41, 0.03)] // EN 10210-2, rounded corners (from memory)
    [InlineData(Form.RectangularTube, 60, 40, 4, 0, 5.64, 0.03)] // EN 10210-2, rounded corners (from memory)
    [InlineData(Form.Angle, 50, 50, 5, 0, 3.77, 0.015)] // EN 10056-1, root radius 7 (from memory)
    [InlineData(Form.Angle, 60, 40, 5, 0, 3.76, 0.015)] // EN 10056-1 (from memory)
    [InlineData(Form.Tee, 50, 50, 6, 0, 4.44, 0.01)] // EN 10055 (from memory)
    [InlineData(Form.Channel, 80, 45, 6, 8, 8.64, 0.02)] // UPN 80, DIN 1026-1 (from memory)
    [InlineData(Form.HexBar, 19, 19, 0, 0, 2.45, 0.005)] // EN 10278 tables (from memory)
    public void Steel_weighs_per_metre_what_tables_print(Form form, double b, double h, double wall, double flange, double table, double within)
    {
        var mass = Of(form, b, h, wall, flange).PieceMass(Steel(7850m)).Kilograms;
        ((double)mass / table).Should().BeInRange(1 - within, 1 + within);
    }

    [Fact]
    public void A_hex_bar_weighs_in_pounds_what_a_printed_example_says()
    {
        // Steel hex 1 in across flats × 144 in at 0.2833 lb/in³: 35.33 lb (jajalger2018.org). 1 lb/in³ is 0.45359237 ÷ 0.0254³ kg/m³.
        var stock = Of(Form.HexBar, 25.4, 25.4, 0, 0) with { Length = Length.FromInches(144m) };
        var mass = stock.PieceMass(Steel(0.2833m * 0.45359237m / (0.0254m * 0.0254m * 0.0254m)));
        decimal.Round(mass.ToPounds(), 2).Should().Be(35.33m);
    }

    [Fact]
    public void Inch_angle_and_pipe_weigh_per_foot_what_tables_print()
    {
        // L 2 x 2 x 1/4: 3.19 lb/ft (AISC manual, from memory); pipe 1 in schedule 40, 1.315 x 0.133: 1.68 lb/ft (ASME B36.10M, from memory).
        decimal.Round(Foot(Of(Form.Angle, 50.8, 50.8, 6.35, 0)), 2).Should().Be(3.19m);
        decimal.Round(Foot(Of(Form.RoundTube, 33.401, 33.401, 3.3782, 0)), 2).Should().Be(1.68m);

        static decimal Foot(Stock stock) => (stock with { Length = Length.FromInches(12m) }).PieceMass(Steel(7850m)).ToPounds();
    }

    [Fact]
    public void A_listed_mass_counts_in_place_of_that_from_the_sizes()
    {
        // 3.77 kg/m at 7850 kg/m³ is 480.254777 mm².
        var stock = Of(Form.Angle, 50, 50, 5, 0) with { ListedSection = Area.FromSquareNanometres((Int128)480_254_777 * 1_000_000) };
        decimal.Round(stock.PieceMass(Steel(7850m)).Kilograms, 6).Should().Be(3.77m);
        stock.Section.ToSquareMillimetres().Should().Be(480.254777m);
    }

    [Theory]
    [InlineData(Form.RectangularTube, 40, 40, 20, 0, "no room")]
    [InlineData(Form.RectangularTube, 40, 60, 3, 0, "longer")]
    [InlineData(Form.Angle, 50, 50, 50, 0, "no room")]
    [InlineData(Form.Channel, 40, 20, 20, 3, "no room")]
    [InlineData(Form.Tee, 40, 20, 5, 20, "no room")]
    [InlineData(Form.RoundTube, 20, 20, 0, 0, "wall")]
    [InlineData(Form.RoundTube, 20, 22, 2, 0, "differ")]
    [InlineData(Form.Angle, 50, 50, 5, 6, "flange")]
    public void What_is_no_section_is_named(Form form, double b, double h, double wall, double flange, string word)
    {
        var stock = Of(form, b, h, wall, flange);
        var fault = JobSections.Fault(stock) ?? StockShape.Of(form, stock.Length, stock.Width, stock.Thickness);
        fault!.Message.Should().Contain(word);
    }

    internal static Stock Of(Form form, double b, double h, double wall, double flange) => new()
    {
        Id = "s", Form = form, MaterialId = "S235JR", Length = Mm(1000), Width = Mm(b), Thickness = Mm(h), MinLength = Mm(1000), MinWidth = Mm(b), MinThickness = Mm(h),
        PiecePrice = Money.FromAmount(10), Supplier = "Invented Metals",
        Detail = new() { Wall = wall == 0 ? null : Mm(wall), Flange = flange == 0 ? null : Mm(flange) },
    };

    private static Length Mm(double value) => Length.FromMillimetres((decimal)value);

    private static Material Steel(decimal density) => new() { Id = "S235JR", Family = "steel", Density = density };
}
