using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Database;
using Nest.Rack.Pieces;
using Nest.RackStress;

namespace Nest.Tests.Rack;

/// <summary>A clock that stands where it was put.</summary>
internal sealed class StillClock(DateTimeOffset now) : TimeProvider
{
    public DateTimeOffset Now { get; set; } = now;

    public override DateTimeOffset GetUtcNow() => Now;
}

/// <summary>A rack in a folder of its own that goes away with the test.</summary>
internal sealed class RackFixture : IDisposable
{
    public RackFixture(RackOptions? options = null)
    {
        Folder = Directory.CreateTempSubdirectory("nest-rack-").FullName;
        File = Path.Combine(Folder, "rack.db");
        Options = options ?? new RackOptions { Durable = false, Who = "tester", Clock = Clock };
        Store = RackStore.Open(File, Options);
        Store.Learn([SamplePlans.Aluminium, SamplePlans.Steel]);
    }

    public StillClock Clock { get; } = new(new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero));

    public string Folder { get; }

    public string File { get; }

    public RackOptions Options { get; }

    public RackStore Store { get; }

    public static RackPiece Plate(decimal length, decimal width, decimal thickness = 10m, string heat = "H1") => new()
    {
        Form = Form.Plate,
        MaterialId = SamplePlans.Aluminium.Id,
        Length = SamplePlans.Mm(length),
        Width = SamplePlans.Mm(width),
        Thickness = SamplePlans.Mm(thickness),
        Heat = heat,
        Place = "A1",
        Value = Money.FromAmount(20m),
    };

    public void Dispose()
    {
        Store.Dispose();
        Directory.Delete(Folder, recursive: true);
    }
}
