using Nest.Core.Costing;
using Nest.Core.Geometry;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve.Choose;

/// <summary>A stock as the solver sees it: the saw that cuts it, what its trims leave, and its worth.</summary>
internal sealed class StockFrame
{
    public StockFrame(Job job, Stock stock, Saw saw)
    {
        Stock = stock;
        Saw = saw;
        Trims = saw.TrimsOn(stock);
        Sheet = new(Length.Zero, Length.Zero, stock.MinLength, stock.MinWidth);
        Usable = new(
            Trims.Left, Trims.Bottom,
            Sheet.SizeX - Trims.Left - Trims.Right,
            stock.Form.IsBar() ? Sheet.SizeY : Sheet.SizeY - Trims.Bottom - Trims.Top);
        Worth = StockWorth.Of(job, stock);
        Rule = job.OffcutRuleFor(stock);
        Loading = CostModel.Loading(saw);
        BarCut = IsBar ? CostModel.BarCut(job, stock, saw) : Money.Zero;
        SawRate = SawPerLength(job, stock, saw);
    }

    public Stock Stock { get; }

    public Saw Saw { get; }

    public EdgeTrims Trims { get; }

    /// <summary>Smallest usable size with trims.</summary>
    public Rect Sheet { get; }

    /// <summary>What the trims leave.</summary>
    public Rect Usable { get; }

    public StockWorth Worth { get; }

    public OffcutRule? Rule { get; }

    /// <summary>Fetching, loading and labelling one piece.</summary>
    public Money Loading { get; }

    /// <summary>Cost of one cut through a bar.</summary>
    public Money BarCut { get; }

    /// <summary>Cost units per nanometre of cut on a plate, and per cut.</summary>
    public (decimal PerNanometre, decimal PerCut) SawRate { get; }

    public bool IsBar => Stock.Form.IsBar();

    /// <summary>Whether an offcut that is worth keeping can come out of it at all.</summary>
    public bool MayKeep => Rule is { } rule && (IsBar
        ? Usable.SizeX >= rule.KeepLength
        : Length.Max(Usable.SizeX, Usable.SizeY) >= rule.KeepLength && Length.Min(Usable.SizeX, Usable.SizeY) >= rule.KeepWidth);

    public bool IsFree => Saw.Kind == SawKind.Cutter;

    /// <summary>Credit for the solid part of the trims, in cost units (0 on a cutter, whose border is part of the skeleton).</summary>
    public long TrimCredit()
    {
        if (IsFree)
        {
            return 0;
        }

        var bare = new Layout
        {
            Number = 1, StockId = Stock.Id, SawId = Saw.Id, Count = 1, Sheet = Sheet, Trims = Trims, Pieces = [], Offcuts = [],
            Cost = default,
        };
        return CostModel.ScrapCredit(Worth, Saw, bare).Units;
    }

    private static (decimal PerNanometre, decimal PerCut) SawPerLength(Job job, Stock stock, Saw saw)
    {
        // Money units for one nanometre of cut: thickness (nm) × 1e-14 cm² per nm² ÷ rate = minutes.
        var perMinute = saw.HourlyRate / 60m * Money.UnitsPerCurrency;
        var family = job.MaterialOf(stock.MaterialId).Family;
        var minutes = stock.Thickness.Nanometres * 1e-14m / saw.RateFor(family);
        return (minutes * perMinute, (saw.HandlingMinutes * perMinute) + (saw.ChargePerCut * Money.UnitsPerCurrency));
    }
}
