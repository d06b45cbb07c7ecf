using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Judge.Enumeration;

/// <summary>The rules of cost as they are written down (README "What a plan costs", stock/README.md, DEVELOPERS "Decisions"), one function
/// each. When a rule changes it changes here and, where it needs to know more of a layout, in the table that calls it.</summary>
/// <remarks>Amounts are whole ten-thousandths of the currency ("units"). Amounts that are rounded only after summing are in "fine": a
/// millionth of a unit; with the rates of the made jobs these are exact.</remarks>
internal static class CostRules
{
    /// <summary>Fine amounts in a unit.</summary>
    public const long Fine = 1_000_000;

    private const decimal Pi = 3.14159265358979323846m;

    /// <summary>The first saw that takes the stock cuts it; null: none does.</summary>
    public static Saw? SawFor(Job job, Stock stock)
    {
        foreach (var saw in job.Saws)
        {
            var bars = saw.Kind == SawKind.BarSaw;
            if (bars == (stock.Form != Form.Plate)
                && (saw.LargestThickness is null || stock.Thickness <= saw.LargestThickness)
                && (saw.LongestStock is null || (stock.Length <= saw.LongestStock && stock.Width <= saw.LongestStock))
                && (!bars || saw.LargestCut is null || stock.Width <= saw.LargestCut))
            {
                return saw;
            }
        }

        return null;
    }

    /// <summary>Trims that the saw makes on this stock: none on a clean edge; a cutter keeps its border all round; bars have ends only.</summary>
    public static EdgeTrims Trims(Saw saw, Stock stock)
    {
        var (trims, clean) = (saw.Trims, stock.CleanEdges);
        if (saw.Kind == SawKind.Cutter)
        {
            return trims;
        }

        var bar = stock.Form != Form.Plate;
        return new(
            clean.Left ? Length.Zero : trims.Left, clean.Right ? Length.Zero : trims.Right,
            bar || clean.Bottom ? Length.Zero : trims.Bottom, bar || clean.Top ? Length.Zero : trims.Top);
    }

    /// <summary>Whether a bar's left end is cut off: only where neither end is clean; else the work starts at the clean one.</summary>
    public static bool TrimsBar(EdgeTrims trims, Stock stock) => trims.Left > Length.Zero && !stock.CleanEdges.Right;

    /// <summary>Whether a plate's raw edge at the right or top is cut off even where no blank lies against it: a cut would else be longer
    /// than the saw makes. (Left and bottom are measured from and always cut off; right and top else only where a blank lies there.)</summary>
    public static bool TrimsAlways(Saw saw, Length side) => saw.LargestCut is { } largest && side > largest;

    /// <summary>Cuts through so much section, unrounded, in fine.</summary>
    /// <param name="squareMillimetres">Σ length × nominal thickness, or Σ sections.</param>
    public static long Sawing(Saw saw, Material material, int cuts, decimal squareMillimetres)
    {
        var rate = saw.DefaultCutRate;
        foreach (var one in saw.CutRates)
        {
            if (one.Family.Equals(material.Family, StringComparison.OrdinalIgnoreCase))
            {
                rate = one.SquareCentimetresPerMinute;
                break;
            }
        }

        // First all factors, then one division: exact where the quotient is.
        var time = ((cuts * saw.HandlingMinutes * rate * 100m) + squareMillimetres) * saw.HourlyRate / (6000m * rate);
        return (long)decimal.Round((time + (cuts * saw.ChargePerCut)) * Money.UnitsPerCurrency * Fine);
    }

    /// <summary>From fine to units: half a unit and more goes up.</summary>
    public static long Rounded(long fine) => FloorDivide(fine + (Fine / 2), Fine);

    /// <summary>Square millimetres of a section of this stock, by nominal size.</summary>
    public static decimal Section(Stock stock)
    {
        var (b, h) = (stock.Width.ToMillimetres(), stock.Thickness.ToMillimetres());
        var t = (stock.Detail?.Wall ?? default).ToMillimetres();
        var f = (stock.Detail?.Flange ?? stock.Detail?.Wall ?? default).ToMillimetres();
        switch (stock.Form)
        {
            case Form.RectangularTube:
                return 2m * t * (b + h - (2m * t));
            case Form.Angle:
                return (b * t) + ((h - t) * t);
            case Form.Channel:
                return (2m * f * h) + ((b - (2m * f)) * t);
            case Form.Tee:
                return (b * f) + ((h - f) * t);
            case Form.HexBar:
                return decimal.Truncate(b * b * 1_000_000_000_000m * 0.866025403784438646765m) / 1_000_000_000_000m;
            case Form.RoundTube:
                return decimal.Truncate(4m * t * (b - t) * 1_000_000_000_000m * Pi / 4m) / 1_000_000_000_000m;
        }

        if (stock.Form != Form.RoundBar)
        {
            return stock.Width.ToMillimetres() * stock.Thickness.ToMillimetres();
        }

        // Whole square nanometres, as the size of a round section is defined.
        var square = (decimal)((Int128)stock.Width.Nanometres * stock.Width.Nanometres);
        return decimal.Truncate(square * Pi / 4m) / 1_000_000_000_000m;
    }

    /// <summary>Milling away so many cubic millimetres, rounded.</summary>
    public static long Facing(Job job, Material material, decimal cubicMillimetres)
    {
        var rate = job.Mill.DefaultRemovalRate;
        foreach (var one in job.Mill.RemovalRates)
        {
            if (one.Family.Equals(material.Family, StringComparison.OrdinalIgnoreCase))
            {
                rate = one.CubicCentimetresPerMinute;
                break;
            }
        }

        var amount = Math.Max(0m, cubicMillimetres) / 1000m / rate * job.Mill.HourlyRate / 60m;
        return (long)decimal.Round(amount * Money.UnitsPerCurrency, MidpointRounding.AwayFromZero);
    }

    /// <summary>The whole piece as scrap: nominal thickness or section, smallest length and width; rounded down.</summary>
    public static long ScrapWorth(Stock stock, Material material)
    {
        var cubicMillimetres = stock.Form == Form.Plate
            ? stock.MinLength.ToMillimetres() * stock.MinWidth.ToMillimetres() * stock.Thickness.ToMillimetres()
            : Section(stock) * stock.MinLength.ToMillimetres();
        var kilograms = cubicMillimetres / 1_000_000_000m * material.Density;
        return (long)decimal.Floor(kilograms * material.ScrapPricePerKilogram * Money.UnitsPerCurrency);
    }

    /// <summary>The whole piece as a leftover: the lowest break price × the rule's fraction, rounded down, never below its scrap.</summary>
    public static long KeepWorth(Job job, Stock stock, Material material)
    {
        var lowest = stock.PiecePrice.Units;
        foreach (var step in stock.Terms.Breaks)
        {
            lowest = Math.Min(lowest, step.PiecePrice.Units);
        }

        var rule = KeepRule(job, stock);
        var fraction = rule is null ? 0m : stock.RackMark is null ? rule.Fraction : rule.LeftoverFraction;
        return Math.Max((long)decimal.Floor(lowest * fraction), ScrapWorth(stock, material));
    }

    /// <summary>The first rule that matches; null: nothing is kept.</summary>
    public static OffcutRule? KeepRule(Job job, Stock stock) => job.OffcutRules.FirstOrDefault(rule =>
        (rule.Form is null || rule.Form == stock.Form)
        && (rule.MaterialId is null || rule.MaterialId.Equals(stock.MaterialId, StringComparison.OrdinalIgnoreCase)));

    /// <summary>Whether an offcut is kept: on plates either way round, on bars by its length.</summary>
    public static bool Keeps(OffcutRule? rule, Stock stock, Length x, Length y)
    {
        if (rule is null)
        {
            return false;
        }

        var (longer, shorter) = x >= y ? (x, y) : (y, x);
        return stock.Form == Form.Plate ? longer >= rule.KeepLength && shorter >= rule.KeepWidth : x >= rule.KeepLength;
    }

    /// <summary>Whether an offcut may hold damage and be kept all the same: on a saw it may, on a cutter it is not offered.</summary>
    public static bool KeptWithDamage(Saw saw) => saw.Kind != SawKind.Cutter;

    /// <summary>Whether <see cref="Saw.MostPieces"/> counts: on bars; plates don't know it.</summary>
    public static bool LimitsPieces(Saw saw) => saw.Kind == SawKind.BarSaw;

    /// <summary>Worth × part ÷ whole, rounded down.</summary>
    public static long Share(long worth, Int128 part, Int128 whole) => (long)((Int128)worth * part / whole);

    /// <summary>A line of an order: price breaks, then the line minimum.</summary>
    public static long Line(Stock stock, int count)
    {
        if (count == 0)
        {
            return 0;
        }

        long cost = 0;
        var terms = stock.Terms;
        if (terms.Rule == BreakRule.AllUnits)
        {
            cost = PriceAt(stock, count) * count;
        }
        else
        {
            // Piece by piece: each pays the price of the last break that it has reached.
            for (var piece = 1; piece <= count; piece++)
            {
                cost += PriceAt(stock, piece);
            }
        }

        return Math.Max(cost, terms.LineMinimum.Units);
    }

    /// <summary>Fetching, loading and labelling one piece of stock that is cut; nothing where the supplier cuts.</summary>
    public static long Loading(Saw? saw) => saw is null ? 0 : Nearest(saw.LoadMinutes * saw.HourlyRate / 60m);

    /// <summary>One setting of fence or stop; nothing where the supplier cuts.</summary>
    public static long Setting(Saw? saw) => saw is null ? 0 : Nearest(saw.SettingMinutes * saw.HourlyRate / 60m);

    /// <summary>Work with one line of an order.</summary>
    public static long OrderLine(Job job) => Nearest(job.Fuss.OrderLineMinutes * job.Fuss.HourlyRate / 60m);

    /// <summary>Work with one supplier.</summary>
    public static long Supplier(Job job) => Nearest(job.Fuss.SupplierMinutes * job.Fuss.HourlyRate / 60m);

    /// <summary>The mill set up for each size in which the blanks of a part come, beyond the first.</summary>
    public static long FurtherSize(Job job) => Nearest(job.Fuss.FurtherSizeMinutes * job.Mill.HourlyRate / 60m);

    private static long Nearest(decimal amount) => (long)decimal.Round(amount * Money.UnitsPerCurrency, MidpointRounding.AwayFromZero);

    /// <summary>What an order of these goods costs: up to the smallest order, and delivery below the free threshold.</summary>
    public static long Order(Supplier? supplier, long goods)
    {
        if (supplier is null)
        {
            return goods;
        }

        var paid = Math.Max(goods, supplier.MinimumOrder.Units);
        return supplier.FreeDeliveryFrom is { } from && paid >= from.Units ? paid : paid + supplier.Delivery.Units;
    }

    /// <summary>Floor of a quotient, also below zero.</summary>
    public static long FloorDivide(long number, long by) => (number / by) - (number % by < 0 ? 1 : 0);

    private static long PriceAt(Stock stock, int count)
    {
        var price = stock.PiecePrice.Units;
        foreach (var step in stock.Terms.Breaks)
        {
            price = count >= step.From ? step.PiecePrice.Units : price;
        }

        return price;
    }
}
