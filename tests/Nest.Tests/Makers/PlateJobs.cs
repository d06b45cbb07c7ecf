using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Tests.Makers;

/// <summary>Jobs of plates made from a seed, in whole millimetres: tiny (1 to 4 pieces), small (5 to 12), middle (24 to 40) and large (300), and those of a small shop.</summary>
internal static class PlateJobs
{
    /// <summary>One to four pieces of one or two kinds, one to three plates and leftovers.</summary>
    /// <param name="scale">Largest plate, in tenths of 40 mm: 10 makes plates of up to 400 × 240.</param>
    public static Job Tiny(int seed, int scale = 10)
    {
        var random = new Random(seed);
        var parts = Enumerable.Range(0, random.Next(1, 3)).Select(i => Part(
            random, i, random.Next(2 * scale, 16 * scale), random.Next(2 * scale, 10 * scale), random.Next(1, 3), 1)).ToList();
        return Make(random, parts, 40 * scale, 24 * scale, random.Next(1, 4), 2, 24 * Math.Min(scale, 10) / 10);
    }

    /// <summary>Five to twelve pieces of up to four kinds, up to three plates.</summary>
    public static Job Small(int seed)
    {
        var random = new Random(seed);
        var wanted = random.Next(5, 13);
        var kinds = random.Next(1, 5);
        var parts = Enumerable.Range(0, kinds).Select(i => Part(
            random, i, random.Next(40, 260), random.Next(30, 160), (wanted / kinds) + (i < wanted % kinds ? 1 : 0), 11)).ToList();
        return Make(random, parts, 600, 400, random.Next(1, 4), 12, 24);
    }

    /// <summary>Two to four kinds, up to eight pieces of each, in a shop like that of <c>nest new</c>: one plate of 1000 × 500 to buy, one leftover, blanks a little larger than parts, a kerf of 3.2, settings to pay.</summary>
    public static Job Starter(int seed)
    {
        var random = new Random(seed);
        int[] quantities = [1, 2, 2, 3, 4, 4, 6, 8];
        var parts = Enumerable.Range(0, random.Next(4, 10) / 2).Select(i =>
        {
            var length = random.Next(40, 260);
            return Part(random, i, length, random.Next(25, Math.Min(length, 150) + 1), quantities[random.Next(quantities.Length)], 7) with { MayTurn = true };
        }).ToList();
        return JobMaker.Job(
            parts,
            [
                JobMaker.Plate("1000x500", 1000, 500, 12, 85),
                JobMaker.Plate("rack", 320, 210, 12, 6.45m, 1) with { RackMark = "R1", Supplier = null, CleanEdges = new(true, false, true, false) },
            ],
            JobMaker.PlateSaw with { Kerf = JobMaker.Mm(3.2m), ShortestHeld = JobMaker.Mm(60), HourlyRate = 55, ChargePerCut = 0, SettingMinutes = 1 });
    }

    /// <summary>Two to six kinds, up to ten pieces of each, in the shop of <see cref="Starter"/> with a delivery to pay, a smallest order and a second, smaller plate for each other seed: one to three plates.</summary>
    public static Job Shop(int seed)
    {
        var random = new Random(seed);
        int[] quantities = [2, 4, 6, 8, 10];
        var parts = Enumerable.Range(0, random.Next(2, 7)).Select(i =>
        {
            var length = random.Next(60, 301);
            return Part(random, i, length, random.Next(30, Math.Min(length, 160) + 1), quantities[random.Next(quantities.Length)], 7) with { MayTurn = true };
        }).ToList();
        var starter = Starter(seed);
        return starter with
        {
            Parts = [.. parts],
            Stocks = seed % 2 == 0 ? starter.Stocks.Add(JobMaker.Plate("500x500", 500, 500, 12, 46)) : starter.Stocks,
            Suppliers = [new() { Name = "Invented Metals", Delivery = Money.FromAmount(15), MinimumOrder = Money.FromAmount(40), FreeDeliveryFrom = Money.FromAmount(300) }],
        };
    }

    /// <summary>Three to five kinds, 24 to 40 pieces, plates of 1000 × 500 and leftovers of 420 × 300 and 610 × 330.</summary>
    public static Job Middle(int seed)
    {
        var random = new Random(seed);
        var kinds = random.Next(3, 6);
        var wanted = random.Next(24, 41);
        var parts = Enumerable.Range(0, kinds).Select(i => Part(
            random, i, random.Next(60, 300), random.Next(40, 180), (wanted / kinds) + (i < wanted % kinds ? 1 : 0), 11)).ToList();
        var job = JobMaker.Job(
            parts,
            [
                JobMaker.Plate("1000x500", 1000, 500, 12, 62),
                JobMaker.Plate("rack-a", 420, 300, 12, 9, 1) with { RackMark = "P1", Supplier = null },
                JobMaker.Plate("rack-b", 610, 330, 12, 15, 1) with { RackMark = "P2", Supplier = null },
            ],
            Saw(random, 60));
        return Bare(job, 200, 100);
    }

    /// <summary>25 kinds of 12 pieces; plates of 2500 × 1250 and 2000 × 1000, six leftovers.</summary>
    public static Job Large(int seed)
    {
        var random = new Random(seed);
        var parts = Enumerable.Range(0, 25).Select(i => Part(random, i, random.Next(60, 500), random.Next(40, 300), 12, 11)).ToList();
        var racked = Enumerable.Range(0, 6).Select(i =>
        {
            var (length, width) = (random.Next(400, 1200), random.Next(300, 800));
            return JobMaker.Plate($"rack-{i}", length, width, 12, length * width / 16_000, 1) with { RackMark = $"P{i}", Supplier = null };
        });
        return Bare(
            JobMaker.Job(parts, [JobMaker.Plate("2500x1250", 2500, 1250, 12, 390), JobMaker.Plate("2000x1000", 2000, 1000, 12, 248), .. racked], Saw(random, 60)), 400, 200);
    }

    private static Part Part(Random random, int i, int length, int width, int quantity, int thickness) =>
        JobMaker.Part($"P{i}", Math.Max(length, width), Math.Min(length, width), thickness, quantity, Forms.Plate) with { MayTurn = random.Next(4) > 0 };

    private static Job Make(Random random, List<Part> parts, int longest, int widest, int plates, int thickness, int more)
    {
        var (x, y) = (parts.Max(part => (int)part.Length.ToMillimetres()) + more, parts.Max(part => (int)part.Width.ToMillimetres()) + more);
        var stocks = Enumerable.Range(0, plates).Select(i =>
        {
            var (length, width) = (random.Next(x, Math.Max(x + 1, longest)), random.Next(y, Math.Max(y + 1, widest)));
            var price = Math.Max(1, length * width / 10_000 * random.Next(60, 140) / 50);
            return i == 0 || random.Next(2) == 0
                ? JobMaker.Plate($"plate-{i}", length, width, thickness, price)
                : JobMaker.Plate($"rack-{i}", length, width, thickness, Math.Max(0, price - random.Next(0, price + 1)), random.Next(1, 3)) with
                {
                    RackMark = $"P{i}",
                    Supplier = null,
                    CleanEdges = new(random.Next(2) == 0, random.Next(2) == 0, random.Next(2) == 0, random.Next(2) == 0),
                };
        }).ToList();
        var sizes = longest / 10;
        return Bare(
            JobMaker.Job(parts, stocks, Saw(random, random.Next(3) == 0 ? 0 : random.Next(sizes / 4, sizes + 1), more >= 10)),
            random.Next(sizes, 5 * sizes), random.Next(sizes / 2, 3 * sizes));
    }

    private static Saw Saw(Random random, int held, bool trims = true) => JobMaker.PlateSaw with
    {
        Kerf = JobMaker.Mm(random.Next(1, 5)),
        Trims = random.Next(2) == 0 || !trims ? default : new(JobMaker.Mm(5), JobMaker.Mm(5), JobMaker.Mm(5), JobMaker.Mm(5)),
        ShortestHeld = JobMaker.Mm(held),
        FirstCut = random.Next(6) switch { 0 => CutDirection.Rip, 1 => CutDirection.Crosscut, _ => null },
    };

    /// <summary>Blanks are the parts, and these offcuts are kept.</summary>
    private static Job Bare(Job job, int keepLength, int keepWidth) => job with
    {
        AllowanceRules = [new() { Allowances = new() }],
        OffcutRules = [new() { Form = Form.Plate, KeepLength = JobMaker.Mm(Math.Max(keepLength, keepWidth)), KeepWidth = JobMaker.Mm(Math.Min(keepLength, keepWidth)) }],
    };
}
