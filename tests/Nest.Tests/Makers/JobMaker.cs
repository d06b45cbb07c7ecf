using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Tests.Makers;

/// <summary>Small jobs made from a seed: parts that may come from plate or bar, leftovers, trims, kerf, credits.</summary>
internal static class JobMaker
{
    public static Length Mm(decimal value) => Length.FromMillimetres(value);

    public static Material Aluminium { get; } = new()
    {
        Id = "6061-T6", Family = "aluminium", Density = 2700, DensitySource = "test", ScrapPricePerKilogram = 0.9m,
    };

    public static Saw BarSaw { get; } = new()
    {
        Id = "bar-saw", Kind = SawKind.BarSaw, Kerf = Mm(2.5m), Trims = new(Mm(10), Mm(10), default, default),
        HourlyRate = 40, HandlingMinutes = 1, ChargePerCut = 0.05m,
    };

    public static Saw PlateSaw { get; } = new()
    {
        Id = "plate-saw", Kind = SawKind.PlateSaw, Kerf = Mm(3), Trims = new(Mm(10), Mm(10), Mm(10), Mm(10)),
        HourlyRate = 40, HandlingMinutes = 1, ChargePerCut = 0.1m,
    };

    public static Saw Cutter { get; } = new()
    {
        Id = "cutter", Kind = SawKind.Cutter, Kerf = Mm(10), Trims = new(Mm(20), Mm(20), Mm(20), Mm(20)),
        HourlyRate = 60, HandlingMinutes = 0.5m,
    };

    public static Stock Bar(string id, decimal width, decimal thickness, decimal length, decimal price, int? available = null) => new()
    {
        Id = id, Form = Form.FlatBar, MaterialId = Aluminium.Id, Length = Mm(length), Width = Mm(width), Thickness = Mm(thickness),
        MinLength = Mm(length), MinWidth = Mm(width), MinThickness = Mm(thickness), PiecePrice = Money.FromAmount(price),
        Available = available, Supplier = "Invented Metals",
    };

    public static Stock Plate(string id, decimal length, decimal width, decimal thickness, decimal price, int? available = null) => new()
    {
        Id = id, Form = Form.Plate, MaterialId = Aluminium.Id, Length = Mm(length), Width = Mm(width), Thickness = Mm(thickness),
        MinLength = Mm(length), MinWidth = Mm(width), MinThickness = Mm(thickness), PiecePrice = Money.FromAmount(price),
        Available = available, Supplier = "Invented Metals",
    };

    public static Part Part(string id, decimal length, decimal width, decimal thickness, int quantity, Forms forms = Forms.Any) => new()
    {
        Id = id, MaterialId = Aluminium.Id, Length = Mm(length), Width = Mm(width), Thickness = Mm(thickness), Quantity = quantity,
        Forms = forms,
    };

    public static Job Job(IEnumerable<Part> parts, IEnumerable<Stock> stocks, params Saw[] saws) => new()
    {
        Name = "test", Materials = [Aluminium], Parts = [.. parts], Stocks = [.. stocks],
        Saws = saws.Length == 0 ? [BarSaw, PlateSaw] : [.. saws],
        AllowanceRules =
        [
            new()
            {
                Allowances = new()
                {
                    SideCleanUp = Mm(1.5m), EndCleanUp = Mm(1), FaceTop = Mm(0.5m), FaceBottom = Mm(0.5m), Grip = Mm(3),
                },
            },
        ],
        OffcutRules =
        [
            new() { Form = Form.Plate, KeepLength = Mm(200), KeepWidth = Mm(80) },
            new() { KeepLength = Mm(150) },
        ],
        Mill = new() { HourlyRate = 55, DefaultRemovalRate = 60 },
    };

    /// <summary>A job of bars and plates; which parts may come from which form is chosen at random.</summary>
    public static Job Random(int seed, bool bars = true, bool plates = true, bool free = false, int most = 6)
    {
        var random = new Random(seed);
        var forms = (bars ? Forms.FlatBar : Forms.None) | (plates ? Forms.Plate : Forms.None);
        var parts = Enumerable.Range(0, random.Next(2, most)).Select(i => Part(
            $"P{i}", random.Next(30, 400), random.Next(20, 45), random.Next(6, 14), random.Next(1, 12),
            bars && plates && random.Next(3) == 0 ? (random.Next(2) == 0 ? Forms.Plate : Forms.FlatBar) : forms) with
        {
            MayTurn = random.Next(3) > 0,
        }).ToList();
        var stocks = new List<Stock>();
        if (bars)
        {
            stocks.Add(Bar("50x20x3000", 50, 20, 3000, 42));
            stocks.Add(Bar("60x25x3000", 60, 25, 3000, 61));
            stocks.Add(Bar("rack-bar", 50, 20, random.Next(450, 1200), 6, 1) with { RackMark = "B1", Supplier = null });
        }

        if (plates)
        {
            stocks.Add(Plate("1000x500x15", 1000, 500, 15, 70));
            stocks.Add(Plate("1000x500x20", 1000, 500, 20, 92));
            stocks.Add(Plate("rack-plate", random.Next(450, 700), random.Next(200, 400), 20, 18, 1) with { RackMark = "P1", Supplier = null });
        }

        return Job(parts, stocks, free ? [BarSaw, Cutter] : [BarSaw, PlateSaw]);
    }
}
