using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Judge.Jobs;

/// <summary>The rules and saws of a made job. All prices and names are invented.</summary>
/// <remarks>On plates all lengths are whole units, so that the enumeration needs few places. Rates are chosen so that the cost of a cut is
/// a short decimal.</remarks>
internal sealed record MadeShop
{
    public const string MaterialId = "6061-T6";

    private static readonly string[] Sellers = ["Alder (demo)", "Birch (demo)"];

    /// <summary>Unit of the plates, in millimetres.</summary>
    public required decimal Unit { get; init; }

    public required Allowances Allowances { get; init; }

    /// <summary>Thickness that blanks need at most.</summary>
    public required decimal Thickness { get; init; }

    /// <summary>Width of bars.</summary>
    public required decimal BarWidth { get; init; }

    public required ImmutableArray<Saw> Saws { get; init; }

    public required ImmutableArray<OffcutRule> Rules { get; init; }

    public required decimal ScrapPrice { get; init; }

    public required decimal MetalPrice { get; init; }

    /// <summary>All parts are turned from round bars.</summary>
    public bool Round { get; init; }

    /// <summary>A cutter takes plates: they are smaller then.</summary>
    public bool Cutter { get; init; }

    public ImmutableArray<Supplier> Suppliers { get; init; } = [];

    public int? MostSuppliers { get; init; }

    /// <summary>A length of so many units.</summary>
    public Length Units(int count) => Length.FromMillimetres(count * Unit);

    public static Length Mm(decimal value) => Length.FromMillimetres(value);

    public static MadeShop Tiny(JudgeRandom random, JobClass kind)
    {
        var unit = random.Pick(5m, 5m, 4m, 10m, 2.5m, 6.35m);
        var cutter = kind != JobClass.Bars && random.Percent(15);
        var round = kind == JobClass.Bars && random.Percent(15);
        var shop = new MadeShop
        {
            // A plate is never thicker than wide.
            Unit = cutter ? Math.Max(unit, 4m) : unit,
            Allowances = new(
                Mm(random.Pick(0m, 0m, 0.5m, 1m)), Mm(random.Pick(0m, 0.5m, 1m)), Mm(random.Pick(0m, 0.5m)), Mm(random.Pick(0m, 0.5m)),
                Mm(random.Pick(0m, 0m, 3m))),
            Thickness = random.Pick(10m, 15m, 20m),
            BarWidth = random.Pick(25m, 40m, 50m),
            Saws = [],
            Rules = [],
            ScrapPrice = random.Pick(0m, 0.9m, 1.3m),
            MetalPrice = random.Pick(5m, 8m, 12m),
            Round = round,
            Cutter = cutter,
            Suppliers = [.. Sellers.Where(_ => random.Percent(50)).Select(name => Terms(random, name))],
            MostSuppliers = random.Percent(12) ? 1 : null,
        };
        return shop with { Saws = MadeSaws(random, shop), Rules = MadeRules(random, shop) };
    }

    public static string Seller(JudgeRandom random) => random.Pick(Sellers);

    public Job Job(string name, JudgeRandom random, IEnumerable<Part> parts, IEnumerable<Stock> stocks) => new()
    {
        Name = name,
        Unit = Unit == 6.35m ? LengthUnit.Inch : LengthUnit.Millimetre,
        Batch = 1,
        Materials =
        [
            new() { Id = MaterialId, Family = "aluminium", Density = 2700, DensitySource = "made", ScrapPricePerKilogram = ScrapPrice },
        ],
        Parts = [.. parts],
        Stocks = [.. stocks],
        Saws = Saws,
        Suppliers = Suppliers,
        MostSuppliers = MostSuppliers,
        AllowanceRules =
        [
            new()
            {
                Allowances = new()
                {
                    SideCleanUp = Allowances.SideCleanUp, EndCleanUp = Allowances.EndCleanUp, FaceTop = Allowances.FaceTop,
                    FaceBottom = Allowances.FaceBottom, Grip = Allowances.Grip,
                },
            },
        ],
        OffcutRules = Rules,
        Mill = new() { HourlyRate = random.Pick(0m, 30m, 54m), DefaultRemovalRate = random.Pick(20m, 60m) },
    };

    private static ImmutableArray<OffcutRule> MadeRules(JudgeRandom random, MadeShop shop)
    {
        var rules = new List<OffcutRule>();
        if (random.Percent(85))
        {
            rules.Add(new()
            {
                Form = Form.Plate,
                KeepLength = shop.Units(shop.Cutter ? random.From(6, 10) : random.From(3, 16)),
                KeepWidth = shop.Units(shop.Cutter ? random.From(4, 6) : random.From(0, 8)),
                Fraction = random.Pick(0m, 0.4m, 0.6m, 0.8m), LeftoverFraction = random.Pick(0m, 0.5m, 0.9m, 0.98m),
            });
        }

        if (random.Percent(85))
        {
            rules.Add(new()
            {
                Form = random.Percent(50) ? (shop.Round ? Form.RoundBar : Form.FlatBar) : shop.Cutter ? Form.FlatBar : null,
                KeepLength = shop.Units((int)(random.From(2, 12) * 20 / shop.Unit)), Fraction = random.Pick(0m, 0.4m, 0.6m, 0.8m),
                LeftoverFraction = random.Pick(0m, 0.6m, 0.9m, 0.98m),
            });
        }

        return [.. rules];
    }

    private static ImmutableArray<Saw> MadeSaws(JudgeRandom random, MadeShop shop)
    {
        var bar = Rates(random, new Saw
        {
            Id = "bar-saw", Kind = SawKind.BarSaw, Kerf = Mm(random.Pick(1.5m, 2.5m, 3m)),
            Trims = new(Mm(random.Pick(0m, 0m, 5m, 10m)), Mm(random.Pick(0m, 0m, 4m, 10m)), default, default),
            ShortestHeld = random.Percent(40) ? Mm(random.From(3, 12) * 10) : Length.Zero,
            MostPieces = random.Percent(15) ? random.From(1, 3) : null,
        });
        var kerf = random.Pick(1, 1, 1, 2);
        var trims = random.Percent(35) ? default : new EdgeTrims(Trim(), Trim(), Trim(), Trim());
        var plate = Rates(random, new Saw
        {
            Id = "plate-saw", Kind = SawKind.PlateSaw, Kerf = shop.Units(kerf), Trims = trims,
            ShortestHeld = random.Percent(40) ? shop.Units(random.From(3, 9)) : Length.Zero,
            LargestCut = random.Percent(12) ? shop.Units(random.From(14, 40)) : null,
            LargestThickness = shop.Cutter && random.Percent(60) ? Mm(shop.Thickness) : null,
            Stages = random.Percent(18) ? random.From(2, 3) : null,
            TrimmingCut = random.Percent(50),
            FirstCut = random.Percent(12) ? random.Pick(CutDirection.Rip, CutDirection.Crosscut) : null,
            SettingMinutes = 0,
        });
        var cutter = Rates(random, new Saw
        {
            Id = "cutter", Kind = SawKind.Cutter, Kerf = shop.Units(1),
            Trims = new(shop.Units(random.From(0, 1)), shop.Units(random.From(0, 1)), shop.Units(random.From(0, 1)), shop.Units(random.From(0, 1))),
        });
        return shop.Cutter ? plate.LargestThickness is null ? [bar, cutter] : [bar, plate, cutter] : [bar, plate];

        Length Trim() => random.Percent(25) ? Length.Zero : shop.Units(kerf + random.From(0, 2));
    }

    private static Saw Rates(JudgeRandom random, Saw saw) => saw with
    {
        HourlyRate = random.Pick(0m, 30m, 48m, 60m),
        ChargePerCut = random.Pick(0m, 0.1m, 0.3m, 1m),
        HandlingMinutes = random.Pick(0m, 0.5m, 1m, 2m),
        DefaultCutRate = random.Pick(20m, 25m, 40m),
        CutRates = random.Percent(40) ? [new("steel", 10m), new("aluminium", random.Pick(40m, 50m, 80m))] : [],
    };

    private static Supplier Terms(JudgeRandom random, string name) => new()
    {
        Name = name,
        MinimumOrder = random.Percent(30) ? Money.FromAmount(random.From(2, 24) / 2m) : Money.Zero,
        Delivery = random.Percent(60) ? Money.FromAmount(random.From(1, 12) / 2m) : Money.Zero,
        FreeDeliveryFrom = random.Percent(50) ? Money.FromAmount(random.From(4, 40)) : null,
    };
}
