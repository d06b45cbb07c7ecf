using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data;

namespace Nest.Tests.Data;

public sealed class StockFilesTest : IDisposable
{
    private readonly JobFolder folder = new();

    public StockFilesTest() => folder.Write("parts.csv", JobFolder.Head + "a,6061,120,62,8,4\nb,S235,30,30,5,1\n");

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("mm")]
    [InlineData("in")]
    public void The_starter_is_read_without_a_finding(string unit)
    {
        var materials = new[]
        {
            "6061-T6", "6082-T6", "5083-H111", "7075-T6", "CAST-5083", "S235JR", "S355J2", "A36", "1018", "304", "316", "POM-C",
        };
        folder.Write("all.csv", JobFolder.Head + string.Concat(materials.Select(material => $"{material},{material},50 mm,40 mm,4 mm,1\n")));
        var result = folder.Job($"parts = \"all.csv\"\nunit = \"{unit}\"\n");
        result.Findings.Should().BeEmpty();
        var job = result.Value!.Job;
        job.Stocks.Length.Should().BeInRange(200, 900);
        job.Stocks.Select(stock => stock.Form).Distinct().Should().HaveCount(4);
        job.Stocks.Should().OnlyContain(stock =>
            stock.Supplier!.Contains("(demo)") && stock.Source.Length > 0 && stock.PiecePrice > Money.Zero && stock.Available == null
            && stock.MinThickness > Length.Zero && stock.MinThickness <= stock.Thickness && stock.MinWidth <= stock.Width);
        job.Stocks.Where(stock => stock.Form == Form.Plate).Should().OnlyContain(stock => stock.Length <= Length.FromMillimetres(3000));
        job.Saws.Select(saw => saw.Kind).Should().Equal(SawKind.BarSaw, SawKind.PlateSaw, SawKind.Cutter);
        job.Materials.Should().OnlyContain(material => material.DensitySource.Length > 0);

        // Every stock has a saw: nothing in the starter is sold that the demo shop cannot cut.
        job.Stocks.Should().OnlyContain(stock => job.SawFor(stock) != null);
    }

    // Rows of published tolerance tables, as quoted in the catalogue's column "source".
    [Theory]
    [InlineData("plate-S235-10-2000x1000", 9.5, 1000)] // DIN 1543 / EN 10029 usual class, 8-15 mm: -0.5 (mesteel.com din1543)
    [InlineData("plate-S235-20-2000x1000", 19.4, 1000)] // 15-25 mm: -0.6
    [InlineData("flat-S235-50x10-6000", 9.5, 49)] // EN 10058: thickness to 20 ±0.5, width 40-80 ±1 (bssa.org.uk)
    [InlineData("flat-S235-100x15-6000", 14.5, 98.5)] // width 80-100 ±1.5
    public void Tolerances_of_the_starter_are_those_of_the_tables(string id, double thickness, double width)
    {
        var result = folder.Job("parts = \"parts.csv\"\n");
        var stock = result.Value!.Job.Stocks.Single(stock => stock.Id == id);
        stock.MinThickness.Should().Be(Length.FromMillimetres((decimal)thickness));
        stock.MinWidth.Should().Be(Length.FromMillimetres((decimal)width));
    }

    [Fact]
    public void A_catalogue_of_ones_own_is_read()
    {
        folder.Write("own.csv", """
            id,form,material,thickness,width,diameter,length,min thickness,width minus,min length,price,per,available,supplier,good faces,source
            p1,plate,6061,10,500,,1000,9.8,1,999,20,kg,3,Demo,yes,mine
            f1,flat bar,S235,10,50,,6000,,,,2.5,m,,,,
            r1,round,S235,,,20,3000,,0.5,,11,,,,,
            s1,square,S235,,20,,3000,,,,3,kg,,,,
            p2,sheet,S235,5,1000,,2000,,,,40,m2,,,,
            """);
        var result = folder.Job("parts = \"parts.csv\"\ncatalogue = \"own.csv\"\n");
        result.Findings.Should().BeEmpty();
        var stocks = result.Value!.Job.Stocks;
        stocks.Select(stock => stock.Id).Should().Equal("p1", "f1", "r1", "s1", "p2");
        stocks[0].Should().BeEquivalentTo(new { Available = 3, Supplier = "Demo", GoodFaces = true, Source = "mine", UnitPrice = 20m });
        stocks[0].MinThickness.Should().Be(Length.FromMillimetres(9.8m));
        stocks[0].MinWidth.Should().Be(Length.FromMillimetres(499));
        stocks[0].MinLength.Should().Be(Length.FromMillimetres(999));
        // 1 × 0.5 × 0.01 m³ × 2700 kg/m³ = 13.5 kg; own arithmetic
        stocks.Select(stock => stock.PiecePrice.Amount).Should().Equal(270m, 15m, 11m, 3m * 9.42m, 80m);
        stocks[2].MinWidth.Should().Be(Length.FromMillimetres(19.5m));
        stocks[2].MinThickness.Should().Be(Length.FromMillimetres(19.5m));
    }

    [Theory]
    [InlineData("p,plate,6061,10,500,,1000,,,,20,kg", "")]
    [InlineData("p,block,6061,10,500,,1000,,,,20,kg", "own.csv:2:2 word-unknown")]
    [InlineData("p,plate,6061,10,,,1000,,,,20,kg", "own.csv:2:5 cell-missing")]
    [InlineData("p,plate,6061,10,500,20,1000,,,,20,kg", "own.csv:2:6 size-not-of-form")]
    [InlineData("p,round bar,6061,10,,20,1000,,,,20,kg", "own.csv:2:4 size-not-of-form")]
    [InlineData("p,flat bar,6061,10,5,,1000,,,,20,kg", "own.csv:2:4 bar-on-edge")]
    [InlineData("p,plate,6061,600,500,,1000,,,,20,kg", "own.csv:2:4 plate-too-thick")]
    [InlineData("p,plate,6061,10,500,,1000,11,,,20,kg", "own.csv:2:8 tolerance-out-of-range")]
    [InlineData("p,plate,6061,10,500,,1000,9,,1,20,kg", "own.csv:2:10 tolerance-twice")]
    [InlineData("p,plate,6061,10,500,,1000,,,,-1,kg", "own.csv:2:11 number-out-of-range")]
    [InlineData("p,plate,6061,10,500,,1000,,,,20,ton", "own.csv:2:12 word-unknown")]
    [InlineData("p,flat bar,6061,10,50,,1000,,,,20,m2", "own.csv:2:12 price-basis-of-form")]
    [InlineData("p,plate,6061,10,500,,1000,,,,9999999,kg", "own.csv:2:11 price-too-high")]
    [InlineData("p,plate,6061,10,500,,1000,,,,20,kg\nP,plate,6061,10,500,,1000,,,,20,kg", "own.csv:3:1 stock-twice")]
    public void A_wrong_catalogue_row_is_told(string rows, string where)
    {
        folder.Write("own.csv", "id,form,material,thickness,width,diameter,length,min thickness,width minus,thickness minus,price,per\n" + rows + "\n");
        var result = folder.Job("parts = \"parts.csv\"\ncatalogue = \"own.csv\"\n");
        JobFolder.Short(result.Findings).Should().BeEquivalentTo(where.Length == 0 ? [] : [where]);
    }

    [Fact]
    public void The_rack_is_read_and_valued_by_the_offcut_rule()
    {
        folder.Write("rack.csv", """
            mark,form,material,thickness,width,diameter,length,clean edges,keep outs,place,value
            R1,plate,6061,9.9,250,,400,left top,"10,20,30,40; 100 100 5 5",shelf 2,
            R2,plate,6061,10,50,,400,all,,,
            R3,plate,S235,12,300,,420,,,,12.5
            R4,flat bar,S235,10,50,,1000,right,,,
            R5,plate,6061,77,250,,400,,,,
            """);
        folder.Write("own.csv", """
            id,form,material,thickness,width,length,price,per
            dear,plate,6061,10,500,1000,200,piece
            cheap,plate,6061,10,1000,2000,600,piece
            bar,flat bar,S235,10,50,6000,30,piece
            """);
        folder.Write("m.csv", "material,family,density,scrap price,aliases\n6061-T6,aluminium,2700,1,6061\nS235JR,steel,7850,0.1,S235\n");
        var result = folder.Job("""
            parts = "parts.csv"
            catalogue = "own.csv"
            materials = "m.csv"
            rack = "rack.csv"
            [[offcuts]]
            keep_length = 300
            keep_width = 100
            fraction = 0.5
            """);
        result.Findings.Should().BeEmpty();
        var rack = result.Value!.Job.Stocks.Where(stock => stock.IsLeftover).ToList();
        rack.Select(stock => stock.Id).Should().Equal("rack-R1", "rack-R2", "rack-R3", "rack-R4", "rack-R5");
        rack.Should().OnlyContain(stock => stock.Available == 1 && stock.Supplier == null && stock.MinLength == stock.Length);
        rack[0].CleanEdges.Should().Be(new CleanEdges(true, false, false, true));
        rack[0].Place.Should().Be("shelf 2");
        rack[0].KeepOuts.Should().Equal(Area(10, 20, 30, 40), Area(100, 100, 5, 5));
        // Own arithmetic: cheapest is 600 / 2 m² = 300 per m² × 0.1 m² × 0.5 = 15.
        rack[0].PiecePrice.Amount.Should().Be(15m);
        // Narrower than the rule keeps: scrap, 0.4 × 0.05 × 0.01 × 2700 = 0.54 kg at 1.
        rack[1].PiecePrice.Amount.Should().Be(0.54m);
        rack[2].PiecePrice.Amount.Should().Be(12.5m);
        // 30 / 6 m × 1 m × 0.5 = 2.5.
        rack[3].PiecePrice.Amount.Should().Be(2.5m);
        // No catalogue stock is like it: scrap, 0.4 × 0.25 × 0.077 × 2700 = 20.79 kg.
        rack[4].PiecePrice.Amount.Should().Be(20.79m);

        static Rect Area(int x, int y, int w, int h) => new(
            Length.FromMillimetres(x), Length.FromMillimetres(y), Length.FromMillimetres(w), Length.FromMillimetres(h));
    }

    [Theory]
    [InlineData("R,plate,6061,10,250,,400,somewhere,,", "rack.csv:2:8 word-unknown")]
    [InlineData("R,plate,6061,10,250,,400,,\"1,2,3\",", "rack.csv:2:9 keep-out-unreadable")]
    [InlineData("R,plate,6061,10,250,,400,,\"390,0,20,20\",", "rack.csv:2:9 keep-out-outside")]
    [InlineData("R,flat bar,6061,10,250,,400,,\"1,2,3,4\",", "rack.csv:2:9 keep-out-on-bar")]
    [InlineData("R,plate,6061,10,250,,400,,,-5", "rack.csv:2:10 number-out-of-range")]
    [InlineData("R,plate,6061,10,250,,400,,,\nr,plate,6061,10,250,,400,,,", "rack.csv:3:1 stock-twice")]
    [InlineData("R,plate,6061,-1,250,,400,,,\nr,plate,6061,10,250,,400,,,", "rack.csv:2:4 length-not-positive", "rack.csv:3:1 stock-twice")]
    public void A_wrong_rack_row_is_told(string rows, params string[] where)
    {
        folder.Write("rack.csv", "mark,form,material,thickness,width,diameter,length,clean edges,keep outs,value\n" + rows + "\n");
        JobFolder.Short(folder.Job("parts = \"parts.csv\"\nrack = \"rack.csv\"\n").Findings).Should().Equal(where);
    }

    [Theory]
    [InlineData("x,alu,2700,", "m.csv:2:2 family-unknown")]
    [InlineData("x,steel,2.7,", "m.csv:2:3 number-out-of-range")]
    [InlineData("x,steel,7850,6061", "m.csv:2:4 material-alias-taken")]
    [InlineData("x,steel,7850,\nX,steel,7850,", "m.csv:3:1 material-twice")]
    public void A_wrong_material_is_told(string rows, string where)
    {
        folder.Write("m.csv", "material,family,density,aliases\n" + rows + "\n");
        JobFolder.Short(folder.Job("parts = \"parts.csv\"\nmaterials = \"m.csv\"\n").Findings).Should().Equal(where);
    }

    [Theory]
    [InlineData("cargo-bike", LengthUnit.Millimetre)]
    [InlineData("cargo-bike-inch", LengthUnit.Inch)]
    public void The_examples_are_read_without_a_finding(string name, LengthUnit unit)
    {
        var result = JobReader.Read(Path.Combine(Repository.Root, "examples", name, "job.toml"));
        result.Findings.Should().BeEmpty();
        var job = result.Value!.Job;
        job.Unit.Should().Be(unit);
        if (unit == LengthUnit.Millimetre)
        {
            job.Parts.Length.Should().BeGreaterThanOrEqualTo(14);
            job.Parts.Sum(job.DemandOf).Should().BeGreaterThanOrEqualTo(200);
            job.Stocks.Count(stock => stock.IsLeftover).Should().Be(6);
        }
    }
}
