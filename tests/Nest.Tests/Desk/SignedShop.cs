using Nest.Core.Plans;
using Nest.Planning;
using Nest.Rack;

namespace Nest.Tests.Desk;

/// <summary>A shop with one small job whose plan is signed, and where asked on the rack.</summary>
internal static class SignedShop
{
    public static readonly (string Name, string Text)[] Files =
    [
        ("lamp/job.toml", "name = \"Lamp arm\"\nunit = \"mm\"\nbatch = 3\nparts = \"parts.csv\"\ncatalogue = \"starter\"\nsaws = \"starter\"\n"),
        ("lamp/parts.csv", "part,material,length,width,thickness,quantity\nbase plate,6082-T6,120,80,10,2\narm,6082-T6,300,30,10,4\n"),
    ];

    /// <summary>The lamp and a second job.</summary>
    public static readonly (string Name, string Text)[] WithShelf =
    [
        .. Files,
        ("shelf/job.toml", "name = \"Shelf\"\nunit = \"mm\"\nbatch = 2\nparts = \"parts.csv\"\ncatalogue = \"starter\"\nsaws = \"starter\"\n"),
        ("shelf/parts.csv", "part,material,length,width,thickness,quantity\nbracket,6082-T6,200,30,10,2\n"),
    ];

    private static readonly Lazy<Plan> Planned = new(() =>
    {
        var folder = Directory.CreateTempSubdirectory("nest-signed-");
        foreach (var (name, text) in Files)
        {
            File.WriteAllText(Path.Combine(folder.FullName, Path.GetFileName(name)), text);
        }

        var given = Planner.Read(Path.Combine(folder.FullName, "job.toml")).Value!;
        folder.Delete(recursive: true);
        return Planner.Plan(given, new() { Work = 2000, Threads = 1 }).Plan!;
    });

    public static Plan Plan => Planned.Value;

    public static string Mark => Fingerprint.Of(Plan);

    /// <summary>Signs the plan; <paramref name="onRack"/> enters it on the shop's rack too.</summary>
    /// <param name="whole">With all sheets, so that another plan may take its place; else the plan file alone, which takes far less time.</param>
    public static void Sign(string shop, bool onRack = false, bool whole = false)
    {
        var folder = Path.Combine(shop, "lamp", "plan");
        if (whole)
        {
            Planner.Write(Plan, folder, new());
        }
        else
        {
            Directory.CreateDirectory(Path.Combine(folder, "data"));
            Planner.Save(Plan, Path.Combine(folder, "data", "plan.json")).Should().BeEmpty();
        }

        if (onRack)
        {
            using var rack = RackStore.Open(Path.Combine(shop, "rack.db"));
            rack.Reserve(Plan);
        }
    }
}
