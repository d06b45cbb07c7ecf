using System.IO.Compression;
using Microsoft.Extensions.DependencyInjection;
using Nest.Core.Quantities;
using Nest.Desk;
using Nest.Desk.Model;
using Nest.Planning;
using Nest.Rack;

namespace Nest.Tests.Desk;

/// <summary>A shop is begun, kept whole in one file, brought back, and its texts are changed on a page.</summary>
public sealed class ShopTest : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("nest-shop-");

    public void Dispose() => _folder.Delete(recursive: true);

    [Theory]
    [InlineData(LengthUnit.Millimetre, "1.3", "none", "60", "mm", "1.3")]
    [InlineData(LengthUnit.Inch, "1/16", "3/32", "2-1/2", "in", "1.5875")]
    public void Five_answers_make_a_shop_that_can_be_planned(LengthUnit unit, string bar, string plate, string vise, string word, string kerf)
    {
        var shop = In("shop");
        ShopMaker.Make(shop, new() { Unit = unit, BarKerf = bar, PlateKerf = plate, Vise = vise, Suppliers = ["Larkfield \"Metals\" (invented)"], Example = true }).Should().BeEmpty();

        var read = Planner.Read(Path.Combine(shop, "first-job", "job.toml"));

        read.Findings.Where(finding => finding.Severity == Core.Jobs.Severity.Error).Should().BeEmpty();
        var job = read.Value!.Job;
        job.Unit.Should().Be(unit);
        job.Saws[0].Kerf.ToMillimetres().Should().Be(decimal.Parse(kerf, System.Globalization.CultureInfo.InvariantCulture));
        job.Saws.Any(saw => saw.Kind == Core.Jobs.SawKind.PlateSaw).Should().Be(plate != "none");
        job.Suppliers.Should().ContainSingle().Which.Name.Should().Be("Larkfield \"Metals\" (invented)");
        File.ReadAllText(Path.Combine(shop, "saws.toml")).Should().Contain("# ");
        File.ReadAllText(Path.Combine(shop, "shop.toml")).Should().Contain($"unit = \"{word}\"");
        ShopMaker.Make(shop, new()).Should().Contain("already");
    }

    [Theory]
    [InlineData("wide", "", "", "kerf of the bar saw")]
    [InlineData("", "0", "", "kerf of the plate saw")]
    [InlineData("", "", "euros", "currency")]
    public void A_wrong_answer_is_named_and_nothing_is_written(string bar, string plate, string currency, string named)
    {
        var problem = ShopMaker.Make(In("shop"), new() { BarKerf = bar, PlateKerf = plate, Currency = currency });

        problem.Should().Contain(named);
        Directory.Exists(In("shop")).Should().BeFalse();
    }

    [Fact]
    public void A_backup_holds_the_whole_shop_but_no_pairing_and_comes_back_the_same()
    {
        var shop = In("shop");
        ShopMaker.Make(shop, new() { Example = true }).Should().BeEmpty();
        using (var rack = RackStore.Open(Path.Combine(shop, "rack.db")))
        {
            rack.Learn(SignedShop.Plan.Job.Materials);
            rack.Reserve(SignedShop.Plan);
        }

        Directory.CreateDirectory(Path.Combine(shop, ".nest-desk", "ticks"));
        File.WriteAllText(Path.Combine(shop, ".nest-desk", "devices.json"), "secret");
        File.WriteAllText(Path.Combine(shop, ".nest-desk", "ticks", "A.jsonl"), "{}");

        ShopArchive.Backup(shop, In("shop.zip")).Should().Be(7);
        ShopArchive.Restore(In("shop.zip"), In("back")).Should().Be(7);

        foreach (var name in new[] { "shop.toml", "saws.toml", "first-job/job.toml", ".nest-desk/ticks/A.jsonl" })
        {
            File.ReadAllBytes(Path.Combine(In("back"), name)).Should().Equal(File.ReadAllBytes(Path.Combine(shop, name)));
        }

        File.Exists(Path.Combine(In("back"), ".nest-desk", "devices.json")).Should().BeFalse();
        using (var rack = RackStore.Open(Path.Combine(In("back"), "rack.db")))
        {
            rack.Plan(1).Layouts.Length.Should().Be(SignedShop.Plan.Layouts.Length);
        }

        var again = () => ShopArchive.Restore(In("shop.zip"), In("back"));
        again.Should().Throw<IOException>().WithMessage("*already*");
    }

    [Fact]
    public void An_archive_whose_names_lead_elsewhere_writes_nothing()
    {
        using (var zip = ZipFile.Open(In("evil.zip"), ZipArchiveMode.Create))
        {
            using var text = new StreamWriter(zip.CreateEntry("../escaped.txt").Open());
            text.Write("x");
        }

        var restore = () => ShopArchive.Restore(In("evil.zip"), In("back"));

        restore.Should().Throw<InvalidDataException>();
        Directory.EnumerateFileSystemEntries(_folder.FullName).Select(Path.GetFileName).Should().Equal("evil.zip");
    }

    [Fact]
    public async Task Texts_are_written_as_typed_unless_another_program_was_first_or_they_are_broken()
    {
        await using var desk = await OpenDesk.StartAsync(SignedShop.Files);
        await File.WriteAllTextAsync(Path.Combine(desk.Folder, "saws.toml"), "# mine\n");
        var texts = desk.Server.Services.GetRequiredService<ShopTexts>();
        texts.Names().Should().Equal("saws.toml", "lamp/job.toml");

        texts.Write("saws.toml", "# mine\n", "# mine\r\n[[saw]]\r\n").Should().BeEmpty();
        (await File.ReadAllTextAsync(Path.Combine(desk.Folder, "saws.toml"))).Should().Be("# mine\n[[saw]]\n");
        texts.Write("saws.toml", "# mine\n", "x = 1\n").Should().Contain("Another program");
        texts.Write("lamp/job.toml", texts.Read("lamp/job.toml")!, "name = = 1\n").Should().Contain("row 1");
        texts.Write("../outside.toml", "", "x = 1\n").Should().Contain("no such text");
        texts.Read("../outside.toml").Should().BeNull();
        (await (await desk.GuestAsync()).GetStringAsync("/settings?file=saws.toml")).Should().Contain("# mine");
    }

    [Fact]
    public async Task A_new_job_takes_the_settings_of_the_shop()
    {
        await using var desk = await OpenDesk.StartAsync();
        ShopMaker.Make(desk.Folder, new() { Unit = LengthUnit.Inch, Currency = "CAD", BarKerf = "1/16", Suppliers = ["North (invented)"] }).Should().BeEmpty();
        var list = new DroppedFile("arm.csv", "part,material,length (in),width (in),thickness (in),quantity\narm,6061-T6,10,1,0.5,4\n"u8.ToArray());
        var draft = PartsDraft.Of([list], new(), desk.Folder);

        JobMaker.Make(desk.Server.Services.GetRequiredService<Shop>(), "Arm", 2, draft.Job!, draft.Files).Folder.Should().Be("arm");

        var job = Planner.Read(Path.Combine(desk.Folder, "arm", "job.toml")).Value!.Job;
        (job.Currency, job.Unit, job.Batch, job.Suppliers.Length).Should().Be(("CAD", LengthUnit.Inch, 2, 1));
    }

    [Fact]
    public async Task Models_are_dropped_like_lists_and_stay_with_the_job()
    {
        await using var desk = await OpenDesk.StartAsync();
        DroppedFile[] files = [new("../fo<ot.stl", BoxModel.Stl(60, 40, 12))];

        PartsDraft.Of(files, new(), desk.Folder).Findings.Should().Contain(finding => finding.Rule == "material-open");
        var draft = PartsDraft.Of(files, new() { Material = "6082-T6" }, desk.Folder);

        draft.Findings.Where(finding => finding.Severity == Core.Jobs.Severity.Error).Should().BeEmpty();
        draft.Rows.Should().ContainSingle().Which.Finished.Should().Be("60 × 40 × 12");
        JobMaker.Make(desk.Server.Services.GetRequiredService<Shop>(), "Foot", 1, draft.Job!, draft.Files).Folder.Should().Be("foot");
        Directory.GetFiles(Path.Combine(desk.Folder, "foot", "models")).Select(Path.GetFileName).Should().Equal("fo-ot.stl");
        Directory.GetDirectories(desk.Folder).Select(Path.GetFileName).Should().BeEquivalentTo(".nest-desk", "foot");
    }

    private string In(string name) => Path.Combine(_folder.FullName, name);
}
