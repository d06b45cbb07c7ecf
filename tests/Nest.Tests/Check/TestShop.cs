using System.Collections.Immutable;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Check;

/// <summary>A small shop for tests; all prices invented.</summary>
internal static class TestShop
{
    public static Length Mm(decimal millimetres) => Length.FromMillimetres(millimetres);

    public static Rect Box(decimal x, decimal y, decimal sizeX, decimal sizeY) => new(Mm(x), Mm(y), Mm(sizeX), Mm(sizeY));

    public static Material Aluminium { get; } =
        new() { Id = "6061-T651", Family = "aluminium", Density = 2700m, ScrapPricePerKilogram = 1.2m };

    public static Material Steel { get; } = new() { Id = "S235", Family = "steel", Density = 7850m };

    public static Saw PlateSaw { get; } = new()
    {
        Id = "plate saw",
        Kind = SawKind.PlateSaw,
        Kerf = Mm(4),
        Trims = new(Mm(10), Mm(10), Mm(10), Mm(10)),
        HourlyRate = 60m,
        ChargePerCut = 0.1m,
        HandlingMinutes = 1.5m,
        SettingMinutes = 2m,
        DefaultCutRate = 90m,
    };

    public static Saw BarSaw { get; } = new()
    {
        Id = "bar saw",
        Kind = SawKind.BarSaw,
        Kerf = Mm(2),
        Trims = new(Mm(8), Mm(8), Mm(0), Mm(0)),
        ShortestHeld = Mm(60),
        HourlyRate = 50m,
        HandlingMinutes = 1m,
        SettingMinutes = 1m,
        DefaultCutRate = 40m,
    };

    public static Saw Cutter { get; } = new()
    {
        Id = "router",
        Kind = SawKind.Cutter,
        Kerf = Mm(12),
        Trims = new(Mm(20), Mm(20), Mm(20), Mm(20)),
        HourlyRate = 80m,
        DefaultCutRate = 25m,
    };

    public static AllowanceRule Usual { get; } = new()
    {
        Allowances = new() { SideCleanUp = Mm(2), EndCleanUp = Mm(1), FaceTop = Mm(1), FaceBottom = Mm(1), Grip = Mm(0) },
    };

    public static OffcutRule Keep { get; } = new() { KeepLength = Mm(500), KeepWidth = Mm(150) };

    public static Stock Plate(string id, decimal length, decimal width, decimal thickness, decimal price = 200m, decimal minus = 0.3m) => new()
    {
        Id = id,
        Form = Form.Plate,
        MaterialId = Aluminium.Id,
        Length = Mm(length),
        Width = Mm(width),
        Thickness = Mm(thickness),
        MinLength = Mm(length),
        MinWidth = Mm(width),
        MinThickness = Mm(thickness - minus),
        PiecePrice = Money.FromAmount(price),
    };

    public static Stock Leftover(string id, decimal length, decimal width, decimal thickness, decimal price = 20m) =>
        Plate(id, length, width, thickness, price) with { RackMark = id, Available = 1, CleanEdges = new(true, true, true, true) };

    public static Stock Bar(string id, Form form, decimal width, decimal thickness, decimal length = 3000m, decimal price = 40m, decimal minus = 0.2m) => new()
    {
        Id = id,
        Form = form,
        MaterialId = Aluminium.Id,
        Length = Mm(length),
        Width = Mm(width),
        Thickness = Mm(thickness),
        MinLength = Mm(length),
        MinWidth = Mm(width - minus),
        MinThickness = Mm(thickness - minus),
        PiecePrice = Money.FromAmount(price),
    };

    public static Part Flat(string id, decimal length, decimal width, decimal thickness, int quantity = 1) => new()
    {
        Id = id,
        MaterialId = Aluminium.Id,
        Length = Mm(length),
        Width = Mm(width),
        Thickness = Mm(thickness),
        Quantity = quantity,
    };

    public static Part Round(string id, decimal diameter, decimal length, int quantity = 1) =>
        Flat(id, length, diameter, diameter, quantity) with { Round = true };

    public static Job Job(ImmutableArray<Part> parts, ImmutableArray<Stock> stocks, params ImmutableArray<Saw> saws) => new()
    {
        Name = "test",
        Materials = [Aluminium, Steel],
        Parts = parts,
        Stocks = stocks,
        Saws = saws.Length == 0 ? [PlateSaw, BarSaw] : saws,
        AllowanceRules = [Usual],
        OffcutRules = [Keep],
        Mill = new() { HourlyRate = 90m, DefaultRemovalRate = 30m },
    };
}
