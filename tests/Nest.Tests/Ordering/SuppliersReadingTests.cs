using MiniExcelLibs;
using Nest.Check;
using Nest.Core.Blanks;
using Nest.Core.Inputs;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Tests.Data;

namespace Nest.Tests.Ordering;

public sealed class SuppliersReadingTests : IDisposable
{
    private const string Head = "id,form,material,thickness,width,length,price,per,price from 5,price from 10,break rule,line minimum,cut to size,charge per cut piece,charge per cut\n";

    private readonly JobFolder folder = new();

    public SuppliersReadingTests() => folder.Write("parts.csv", JobFolder.Head + "a,6061,100,60,8,4\n");

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Terms_and_price_list_are_read()
    {
        folder.Write("alder.csv", Head
            + "p10,plate,6061,10,500,1000,40,piece,38.50,35,all units,60,no,,\n"
            + "p12,plate,6061,12,500,1000,50,piece,,45,incremental,,no,,\n");
        var result = folder.Job("""
            parts = "parts.csv"
            most_suppliers = 2
            wanted_in_days = 10
            [rates]
            USD = 0.5
            [[supplier]]
            name = "Alder Metals (demo)"
            currency = "USD"
            minimum_order = 100
            delivery = 25
            free_delivery_from = 500
            lead_days = 4
            cut_piece_charge = 3
            cut_plus = 1.5
            price_list = "alder.csv"
            """);
        result.Findings.Should().BeEmpty();
        var job = result.Value!.Job;
        job.MostSuppliers.Should().Be(2);
        job.WantedInDays.Should().Be(10);
        job.Suppliers.Should().ContainSingle().Which.Should().Be(new Supplier
        {
            Name = "Alder Metals (demo)", MinimumOrder = Money.FromAmount(50), Delivery = Money.FromAmount(12.5m),
            FreeDeliveryFrom = Money.FromAmount(250), LeadDays = 4, CutPieceCharge = Money.FromAmount(1.5m),
            CutPlus = Length.FromMillimetres(1.5m), Currency = "USD", Rate = 0.5m,
        });
        job.Stocks.Should().HaveCount(2).And.OnlyContain(stock => stock.Supplier == "Alder Metals (demo)");
        var first = job.Stocks[0];
        first.PiecePrice.Should().Be(Money.FromAmount(20));
        first.Terms.Rule.Should().Be(BreakRule.AllUnits);
        first.Terms.Breaks.Should().Equal(new PriceBreak(5, Money.FromAmount(19.25m)), new PriceBreak(10, Money.FromAmount(17.5m)));
        first.Terms.LineMinimum.Should().Be(Money.FromAmount(30));
        job.Stocks[1].Terms.Rule.Should().Be(BreakRule.Incremental);
        job.Stocks[1].Terms.Breaks.Should().Equal(new PriceBreak(10, Money.FromAmount(22.5m)));
    }

    [Fact]
    public void Breaks_may_be_one_text()
    {
        folder.Write("alder.csv", "id,form,material,thickness,width,length,price,breaks\np10,plate,6061,10,500,1000,40,5: 38.50; 10: 35\n");
        var job = folder.Job("parts = \"parts.csv\"\n[[supplier]]\nname = \"Alder\"\nprice_list = \"alder.csv\"\n").Value!.Job;
        job.Stocks[0].Terms.Breaks.Should().Equal(new PriceBreak(5, Money.FromAmount(38.5m)), new PriceBreak(10, Money.FromAmount(35)));
    }

    [Fact]
    public void A_workbook_reads_as_the_same_table()
    {
        var rows = new List<Dictionary<string, object?>>
        {
            new() { ["id"] = "p10", ["form"] = "plate", ["material"] = "6061", ["thickness"] = 10, ["width"] = 500.5, ["length"] = 1000, ["price"] = 40.1, ["price from 5"] = 38.5 },
            new() { ["id"] = "p12", ["form"] = "plate", ["material"] = "6061", ["thickness"] = "x", ["width"] = 500, ["length"] = 1000, ["price"] = 50, ["price from 5"] = 60 },
        };
        var path = Path.Combine(folder.Root, "alder.xlsx");
        MiniExcel.SaveAs(path, rows.Take(1).ToList());
        const string text = "parts = \"parts.csv\"\n[[supplier]]\nname = \"Alder\"\nprice_list = \"alder.xlsx\"\n";
        var job = folder.Job(text).Value!.Job;
        job.Stocks.Should().ContainSingle();
        job.Stocks[0].Width.Should().Be(Length.FromMillimetres(500.5m));
        job.Stocks[0].PiecePrice.Should().Be(Money.FromAmount(40.1m));
        job.Stocks[0].Terms.Breaks.Should().Equal(new PriceBreak(5, Money.FromAmount(38.5m)));

        MiniExcel.SaveAs(path, rows, overwriteFile: true);
        JobFolder.Short(folder.Job(text).Findings).Should().BeEquivalentTo("alder.xlsx:3:4 length-unreadable", "alder.xlsx:3:8 break-rises");

        File.WriteAllText(path, "no workbook");
        JobFolder.Short(folder.Job(text).Findings).Should().BeEquivalentTo("alder.xlsx workbook-unreadable");
    }

    [Fact]
    public void All_errors_come_at_once()
    {
        folder.Write("alder.csv", Head
            + "p10,plate,6061,10,500,1000,40,piece,44,35,all units,,no,,\n"
            + "p12,plate,6061,12,500,1000,50,piece,abc,45,both,-1,perhaps,,\n"
            + "p15,plate,6061,15,500,1000,50,piece,,,,,no,3,\n");
        var result = folder.Job("""
            parts = "parts.csv"
            [rates]
            dollars = 0.9
            [[supplier]]
            name = "Alder"
            minimum_order = -3
            price_list = "alder.csv"
            [[supplier]]
            name = "Birch"
            currency = "USD"
            [[supplier]]
            delivery = 5
            [[supplier]]
            name = "Cedar"
            free_delivery_from = 100
            minimum_orders = 3
            price_list = "cedar.csv"
            """);
        JobFolder.Short(result.Findings).Should().BeEquivalentTo(
            "job.toml:3:11 currency-unknown",
            "job.toml:6:17 number-out-of-range",
            "job.toml:10:12 rate-missing",
            "job.toml:11:1 key-missing",
            "job.toml:15:22 delivery-missing",
            "job.toml:16:1 key-unknown");
    }

    [Fact]
    public void All_errors_of_a_price_list_come_at_once()
    {
        folder.Write("alder.csv", Head
            + "p10,plate,6061,10,500,1000,40,piece,44,35,all units,,no,,\n"
            + "p12,plate,6061,12,500,1000,50,piece,abc,45,both,-1,perhaps,,\n"
            + "p15,plate,6061,15,500,1000,50,piece,,,,,no,3,\n");
        var result = folder.Job("parts = \"parts.csv\"\n[[supplier]]\nname = \"Alder\"\nprice_list = \"alder.csv\"\n");
        JobFolder.Short(result.Findings).Should().BeEquivalentTo(
            "alder.csv:2:9 break-rises",
            "alder.csv:3:9 number-unreadable",
            "alder.csv:3:11 word-unknown",
            "alder.csv:3:12 number-out-of-range",
            "alder.csv:3:13 word-unknown",
            "alder.csv:4:14 cut-charge-unused");
    }

    [Fact]
    public void All_errors_of_a_workbook_come_at_once()
    {
        string[] heads = Head.TrimEnd().Split(',');
        string[][] lines =
        [
            "p10,plate,6061,10,500,1000,40,piece,44,35,all units,,no,,".Split(','),
            "p12,plate,6061,12,500,1000,50,piece,abc,45,both,-1,perhaps,,".Split(','),
            "p15,plate,6061,15,500,1000,50,piece,,,,,no,3,".Split(','),
        ];
        MiniExcel.SaveAs(
            Path.Combine(folder.Root, "alder.xlsx"),
            lines.Select(line => heads.Zip(line).ToDictionary(pair => pair.First, pair => (object?)pair.Second)).ToList());
        var result = folder.Job("parts = \"parts.csv\"\n[[supplier]]\nname = \"Alder\"\nprice_list = \"alder.xlsx\"\n");
        result.Value.Should().BeNull();
        JobFolder.Short(result.Findings).Should().BeEquivalentTo(
            "alder.xlsx:2:9 break-rises",
            "alder.xlsx:3:9 number-unreadable",
            "alder.xlsx:3:11 word-unknown",
            "alder.xlsx:3:12 number-out-of-range",
            "alder.xlsx:3:13 word-unknown",
            "alder.xlsx:4:14 cut-charge-unused");
    }

    [Fact]
    public void What_comes_too_late_is_left_out_with_a_note()
    {
        folder.Write("alder.csv", "id,form,material,thickness,width,length,price\np10,plate,6061,10,500,1000,40\n");
        folder.Write("birch.csv", "id,form,material,thickness,width,length,price\np12,plate,6061,12,500,1000,40\n");
        var result = folder.Job("""
            parts = "parts.csv"
            wanted_in_days = 5
            [[supplier]]
            name = "Alder"
            lead_days = 6
            price_list = "alder.csv"
            [[supplier]]
            name = "Birch"
            lead_days = 5
            price_list = "birch.csv"
            """);
        JobFolder.Short(result.Findings).Should().Equal("job.toml:3:1 supplier-late");
        result.Value!.Job.Stocks.Select(stock => stock.Id).Should().Equal("p12");
        result.Value!.Job.Suppliers.Select(supplier => supplier.Name).Should().Equal("Birch");
    }

    // 0.1 m × 0.06 m and clean-up of 1.5 mm a side: 103 × 63 mm of plate at 200 a square metre is 1.2978; 2.50 for the piece and two
    // cuts of 0.75 make 5.2978. Worked by hand.
    [Fact]
    public void Pieces_cut_to_size_become_stock_of_their_part_alone()
    {
        folder.Write("parts.csv", JobFolder.Head + "a,6061,100,60,8,4\nb,6061,700,400,8,4\nc,6061,30,30,20,1\n");
        folder.Write("alder.csv", Head
            + "p10,plate,6061,10,500,1000,200,m2,180,,,20,only,2.50,0.75\n"
            + "bar,flat bar,6061,10,70,3000,10,m,,,,,yes,,\n");
        var job = folder.Job("""
            parts = "parts.csv"
            [allowances]
            side_clean_up = 1.5
            end_clean_up = 1
            face_top = 0.5
            face_bottom = 0.5
            grip = 0
            [[supplier]]
            name = "Alder"
            cut_piece_charge = 4
            price_list = "alder.csv"
            """).Value!.Job;
        job.Stocks.Select(stock => stock.Id).Should().Equal("bar", "p10 cut for a", "p10 cut for b", "bar cut for a");
        var piece = job.Stocks[1];
        (piece.CutFor, piece.PiecePrice.Amount).Should().Be(("a", 5.2978m));
        (piece.Length, piece.Width).Should().Be((Length.FromMillimetres(103), Length.FromMillimetres(63)));
        piece.Terms.LineMinimum.Amount.Should().Be(20);

        // 180 a square metre from the fifth piece on: 1.16802 + 4.
        piece.Terms.Breaks.Should().Equal(new PriceBreak(5, Money.FromAmount(5.1680m)));

        // 0.102 m at 10 a metre, the supplier's 4 for the piece.
        job.Stocks[3].PiecePrice.Amount.Should().Be(5.02m);
        JobChecker.Check(job).Where(finding => finding.Severity == Severity.Error).Should().BeEmpty();
        var blanks = BlankSizer.Size(job);
        blanks[0].Fits.Select(fit => fit.StockId).Should().Equal("bar", "p10 cut for a", "bar cut for a");
        blanks[1].Fits.Select(fit => fit.StockId).Should().Equal("p10 cut for b");

        var plan = JointSolverTests.Solve(job with { Parts = [.. job.Parts.Take(2)], Stocks = [.. job.Stocks.Skip(1)] });
        PlanChecker.Check(plan).Should().BeEmpty();
        plan.Unplaced.Should().BeEmpty();
    }
}
