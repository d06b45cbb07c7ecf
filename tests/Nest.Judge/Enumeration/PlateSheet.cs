using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Judge.Enumeration;

/// <summary>One plate with its saw and blanks, in whole units: the greatest common divisor of all lengths that matter on it.</summary>
internal sealed class PlateSheet
{
    private readonly long _unit;

    /// <param name="blanks">By kind; null: the kind does not come from this plate.</param>
    public PlateSheet(Job job, Stock stock, Saw saw, Material material, IReadOnlyList<SawnBlank?> blanks)
    {
        (Stock, Saw, Material, Blanks) = (stock, saw, material, blanks);
        Trims = CostRules.Trims(saw, stock);
        Rule = CostRules.KeepRule(job, stock);
        KeepWorth = CostRules.KeepWorth(job, stock, material);
        ScrapWorth = CostRules.ScrapWorth(stock, material);
        var usableX = stock.MinLength - Trims.Left - Trims.Right;
        var usableY = stock.MinWidth - Trims.Bottom - Trims.Top;
        List<Length> all = [saw.Kerf, usableX, usableY, saw.ShortestHeld, saw.LargestCut ?? Length.Zero];
        all.AddRange(blanks.Where(blank => blank is not null).SelectMany(blank => new[] { blank!.X, blank.Y }));
        if (Rule is not null)
        {
            all.AddRange([Rule.KeepLength, Rule.KeepWidth]);
        }

        foreach (var damage in stock.KeepOuts)
        {
            all.AddRange([damage.X - Trims.Left, damage.Y - Trims.Bottom, damage.SizeX, damage.SizeY]);
        }

        _unit = all.Aggregate(0L, (divisor, length) => Divisor(divisor, Math.Abs(length.Nanometres)));
        (X, Y, Kerf, Held) = (Units(usableX), Units(usableY), Units(saw.Kerf), Units(saw.ShortestHeld));
        LargestCut = saw.LargestCut is { } largest ? Units(largest) : int.MaxValue;
        Damage = [.. stock.KeepOuts.Select(damage => new Block(
            Units(damage.X - Trims.Left), Units(damage.Y - Trims.Bottom), Units(damage.SizeX), Units(damage.SizeY)))];
        Whole = (Int128)stock.MinLength.Nanometres * stock.MinWidth.Nanometres;
    }

    public Stock Stock { get; }

    public Saw Saw { get; }

    public Material Material { get; }

    public IReadOnlyList<SawnBlank?> Blanks { get; }

    public EdgeTrims Trims { get; }

    public OffcutRule? Rule { get; }

    public long KeepWorth { get; }

    public long ScrapWorth { get; }

    /// <summary>Usable size.</summary>
    public int X { get; }

    public int Y { get; }

    public int Kerf { get; }

    public int Held { get; }

    public int LargestCut { get; }

    /// <summary>Damaged areas, from the usable area's corner.</summary>
    public Block[] Damage { get; }

    /// <summary>The whole sheet, in square nanometres.</summary>
    public Int128 Whole { get; }

    /// <summary>Whether its saw can trim it and there is something left.</summary>
    public bool CanBeTrimmed
    {
        get
        {
            var ends = Trims.Left + Trims.Right > Length.Zero;
            var sides = Trims.Bottom + Trims.Top > Length.Zero;
            return X > 0 && Y > 0 && (Saw.Kind == SawKind.Cutter
                || ((!ends || (X >= Held && Stock.MinWidth <= (Saw.LargestCut ?? Length.MaxValue)))
                    && (!sides || (Y >= Held && X <= LargestCut))));
        }
    }

    /// <summary>Units to a length.</summary>
    public Length Long(int units) => Length.FromNanometres(units * _unit);

    /// <summary>A length to units.</summary>
    public int Units(Length length) => checked((int)(length.Nanometres / _unit));

    /// <summary>What an offcut of this size gives, in units of money.</summary>
    /// <param name="kept">Whether it may be kept at all.</param>
    public long Credit(int x, int y, bool kept = true)
    {
        var worth = kept && CostRules.Keeps(Rule, Stock, Long(x), Long(y)) ? KeepWorth : ScrapWorth;
        return CostRules.Share(worth, Area(x, y), Whole);
    }

    /// <summary>Square nanometres.</summary>
    public Int128 Area(int x, int y) => (Int128)x * y * _unit * _unit;

    /// <summary>The trims: what their cuts cost (fine) less what their zones are worth as scrap, cut off or not.</summary>
    /// <param name="right">Whether a raw right edge is cut off.</param>
    /// <param name="top">The same of the top.</param>
    public long TrimCost(bool right, bool top)
    {
        var inner = Stock.MinLength - Trims.Left - (right ? Trims.Right : Length.Zero);
        var length = 0m;
        var cuts = 0;
        Cut(Trims.Left > Length.Zero, Stock.MinWidth);
        Cut(right, Stock.MinWidth);
        Cut(Trims.Bottom > Length.Zero, inner);
        Cut(top, inner);
        var usable = Stock.MinLength - Trims.Left - Trims.Right;
        var credit = Zone(Trims.Left, Stock.MinWidth) + Zone(Trims.Right, Stock.MinWidth) + Zone(Trims.Bottom, usable) + Zone(Trims.Top, usable);
        return CostRules.Sawing(Saw, Material, cuts, length * Stock.Thickness.ToMillimetres()) - (credit * CostRules.Fine);

        void Cut(bool made, Length across)
        {
            cuts += made ? 1 : 0;
            length += made ? across.ToMillimetres() : 0m;
        }

        long Zone(Length trim, Length across) => CostRules.Share(
            ScrapWorth, (Int128)Math.Max(0, trim.Nanometres - Saw.Kerf.Nanometres) * across.Nanometres, Whole);
    }

    /// <summary>One cut of this length and what metal is there beyond it, in fine.</summary>
    public long Cut(int length, Length beyond) =>
        CostRules.Sawing(Saw, Material, 1, (Long(length) + beyond).ToMillimetres() * Stock.Thickness.ToMillimetres());

    private static long Divisor(long a, long b) => b == 0 ? a : Divisor(b, a % b);

    /// <summary>A rectangle in units.</summary>
    internal readonly record struct Block(int X, int Y, int SizeX, int SizeY)
    {
        public bool Meets(int x, int y, int sizeX, int sizeY) =>
            x < X + SizeX && X < x + sizeX && y < Y + SizeY && Y < y + sizeY;
    }
}
