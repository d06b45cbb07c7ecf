using System.Globalization;
using Nest.Core.Plans;
using Nest.Data;
using Nest.Output;

namespace Nest.Tests.Rack;

/// <summary>A shop with one saw, one bar to buy and a rack, worked by whole commands. Suppliers and prices are invented.</summary>
/// <remarks>A bar of 3 m gives 9 feet of 300: blanks of 310, 9 × 310 + 8 × 2 + 2 × 10 = 2826; a tenth would want 3138.</remarks>
internal sealed class BarShop : IDisposable
{
    public BarShop() => Console.Add("flat-bar 1018 500x30x10");

    public RackConsole Console { get; } = new();

    public void Dispose() => Console.Dispose();

    public Plan Plan(string job, string folder, params string[] more)
    {
        Console.Good("plan", [job, "--out", Console.In(folder), "--work", "500", .. more]);
        return PlanFile.Read(Console.In($"{folder}/{OutputFolder.PlanPlace}")).Value!;
    }

    /// <summary>So many feet of 300 × 38 × 10.</summary>
    public string Job(int feet, string price = "73.22") =>
        JobOf($"foot,6061-T6,300,38,10,{feet.ToString(CultureInfo.InvariantCulture)},flat bar\n", price);

    /// <param name="parts">Rows: part, material, length, width, thickness, quantity, forms.</param>
    public string JobOf(string parts, string price = "73.22")
    {
        File.WriteAllText(Console.In("parts.csv"), "part,material,length,width,thickness,quantity,forms\n" + parts);
        File.WriteAllText(Console.In("metal.csv"), $"id,form,material,thickness,width,length,price,supplier\nbar,flat bar,6061-T6,12,40,3000,{price},Invented Metals\n");
        File.WriteAllText(Console.In("job.toml"), """
            currency = "USD"
            parts = "parts.csv"
            catalogue = "metal.csv"
            [allowances]
            side_clean_up = "0 mm"
            end_clean_up = "5 mm"
            face_top = "1 mm"
            face_bottom = "1 mm"
            grip = "0 mm"
            [[offcuts]]
            keep_length = "200 mm"
            keep_width = "40 mm"
            fraction = 0.6
            leftover_fraction = 0.9
            [[saw]]
            name = "bandsaw"
            kind = "bar saw"
            kerf = 2
            trim = 10
            hourly_rate = 40
            handling_minutes = 1
            """);
        return Console.In("job.toml");
    }
}
