using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Jobs;

/// <summary>Made middle jobs from a seed: 3 to 5 kinds, 24 to 40 pieces, plates of 1000 × 500 and 2000 × 1000 to buy, leftovers of
/// 420 × 300 and 610 × 330, the clamp holds 60, kept from 200 × 100. Too large to enumerate.</summary>
public static class MiddleJobs
{
    public static Job Make(int seed)
    {
        var random = new JudgeRandom((ulong)seed ^ 0x3D1EUL << 32);
        var kinds = random.From(3, 5);
        var left = random.From(24, 40);
        var parts = new List<Part>();
        for (var i = 0; i < kinds; i++)
        {
            var pieces = i == kinds - 1 ? left : random.From(3, Math.Max(3, left - (3 * (kinds - 1 - i))) / 2 + 2);
            left -= pieces;
            parts.Add(new()
            {
                Id = $"P{i + 1}", MaterialId = MadeShop.MaterialId, Length = Mm(random.From(60, 320)), Width = Mm(random.From(40, 180)),
                Thickness = Mm(9), Quantity = pieces, Forms = Forms.Plate, MayTurn = random.Percent(70),
            });
        }

        return new()
        {
            Name = $"middle-{seed}",
            Materials =
            [
                new() { Id = MadeShop.MaterialId, Family = "aluminium", Density = 2700, DensitySource = "made", ScrapPricePerKilogram = 0.9m },
            ],
            Parts = [.. parts],
            Stocks =
            [
                Plate("1000x500x10", 1000, 500, random.From(68, 84)),
                Plate("2000x1000x10", 2000, 1000, random.From(260, 310)),
                Plate("420x300x10", 420, 300, random.From(8, 11)) with { RackMark = "R1", Available = 1, Supplier = null, CleanEdges = new(true, random.Percent(50), random.Percent(50), false) },
                Plate("610x330x10", 610, 330, random.From(12, 17)) with { RackMark = "R2", Available = 1, Supplier = null, CleanEdges = new(random.Percent(50), false, true, random.Percent(50)) },
            ],
            Saws =
            [
                new()
                {
                    Id = "plate-saw", Kind = SawKind.PlateSaw, Kerf = Mm(3), Trims = new(Mm(10), Mm(10), Mm(10), Mm(10)),
                    ShortestHeld = Mm(60), HourlyRate = 55, HandlingMinutes = 1, DefaultCutRate = 300, LargestCut = Mm(3100),
                },
            ],
            AllowanceRules =
            [
                new()
                {
                    Allowances = new()
                    {
                        SideCleanUp = Mm(1.5m), EndCleanUp = Mm(1.5m), FaceTop = Mm(0.5m), FaceBottom = Mm(0.5m), Grip = Length.Zero,
                    },
                },
            ],
            OffcutRules = [new() { KeepLength = Mm(200), KeepWidth = Mm(100), Fraction = 0.6m, LeftoverFraction = 0.9m }],
            Mill = new() { HourlyRate = 60, DefaultRemovalRate = 100 },
        };
    }

    private static Stock Plate(string id, decimal length, decimal width, decimal price) => new()
    {
        Id = id, Form = Form.Plate, MaterialId = MadeShop.MaterialId, Length = Mm(length), Width = Mm(width), Thickness = Mm(10),
        MinLength = Mm(length), MinWidth = Mm(width), MinThickness = Mm(10), PiecePrice = Money.FromAmount(price), UnitPrice = price,
        Supplier = "Alder (demo)",
    };

    private static Length Mm(decimal value) => Length.FromMillimetres(value);
}
