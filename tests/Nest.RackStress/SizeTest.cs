using System.Diagnostics;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack;
using Nest.Rack.Database;
using Nest.Rack.Pieces;
using Nest.Rack.Values;

namespace Nest.RackStress;

/// <summary>Seconds that a large rack takes.</summary>
/// <param name="Fitting">Pieces that could serve the job.</param>
/// <param name="Given">Of these, given to the solver.</param>
internal sealed record SizeFigures(int Pieces, double Open, double ListFiltered, int Listed, double ListAll, double Available, int Fitting, int Given)
{
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"{Pieces} pieces: open {Open:0.000} s, list with filter {ListFiltered:0.000} s ({Listed} rows), list all {ListAll:0.000} s, stock for a job {Available:0.000} s ({Fitting} fit, {Given} given to the solver)");
}

/// <summary>A rack of many pieces.</summary>
internal static class SizeTest
{
    public static SizeFigures Run(string path, int count, int seed = 1)
    {
        var options = new RackOptions { Durable = false };
        using (var filling = RackStore.Open(path, options))
        {
            Fill(filling, count, seed);
        }

        var watch = Stopwatch.StartNew();
        using var store = RackStore.Open(path, options);
        var open = Lap();
        var filtered = store.List(new() { MaterialId = "M3", ThicknessFrom = SamplePlans.Mm(12), Holds = [SamplePlans.Mm(400), SamplePlans.Mm(200)] });
        var list = Lap();
        store.List(new());
        var all = Lap();
        var job = SamplePlans.Job("large", [SamplePlans.Part("a", "M3", 300, 200, 18, 4), SamplePlans.Part("b", "M4", 700, 300, 12, 4)], []);
        watch.Restart();
        var answer = store.AvailableStock(StockRequest.For(job));
        return new(count, open, list, filtered.Length, all, Lap(), answer.Fitting, answer.Stocks.Length);

        double Lap()
        {
            var seconds = watch.Elapsed.TotalSeconds;
            watch.Restart();
            return seconds;
        }
    }

    public static void Fill(RackStore store, int count, int seed)
    {
        var random = new Random(seed);
        var materials = Enumerable.Range(1, 20).Select(i => SamplePlans.Aluminium with { Id = string.Create(CultureInfo.InvariantCulture, $"M{i}") }).ToList();
        store.Learn(materials);
        decimal[] thicknesses = [6, 8, 10, 12, 16, 20, 25, 30];
        for (var i = 0; i < count; i += 1000)
        {
            store.Add([.. Enumerable.Range(0, Math.Min(1000, count - i)).Select(_ => new RackPiece
            {
                Form = Form.Plate,
                MaterialId = materials[random.Next(materials.Count)].Id,
                Length = SamplePlans.Mm(100 + random.Next(900)),
                Width = SamplePlans.Mm(50 + random.Next(450)),
                Thickness = SamplePlans.Mm(thicknesses[random.Next(thicknesses.Length)]),
                Place = string.Create(CultureInfo.InvariantCulture, $"R{random.Next(40)}"),
                Value = Money.FromAmount(1 + random.Next(60)),
            })]);
        }
    }
}
