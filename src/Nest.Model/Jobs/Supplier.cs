using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>Who sells stock, and on what terms an order is delivered.</summary>
public sealed record Supplier
{
    /// <summary>Name as in <see cref="Stock.Supplier"/>; compared without regard to case.</summary>
    public required string Name { get; init; }

    /// <summary>Goods are charged at least this much per order: a smaller order pays up to it.</summary>
    public Money MinimumOrder { get; init; }

    /// <summary>Delivery per order.</summary>
    public Money Delivery { get; init; }

    /// <summary>Goods of at least this much are delivered free; null: never.</summary>
    public Money? FreeDeliveryFrom { get; init; }

    /// <summary>Days from order to delivery.</summary>
    public int LeadDays { get; init; }

    /// <summary>Charge for each piece that is supplied cut to size.</summary>
    public Money CutPieceCharge { get; init; }

    /// <summary>Pieces cut to size may come this much larger than ordered, and never smaller; null: the supplier says nothing.</summary>
    public Length? CutPlus { get; init; }

    /// <summary>What it sells comes with a certificate of the material.</summary>
    public bool GivesCertificates { get; init; }

    /// <summary>The currency of its own price lists and invoices; null: the job's.</summary>
    public string? Currency { get; init; }

    /// <summary>What one unit of its currency is in the job's, as stated in the job; null with <see cref="Currency"/>.</summary>
    public decimal? Rate { get; init; }

    /// <summary>A supplier with no terms beside its prices.</summary>
    public bool IsPlain => MinimumOrder == Money.Zero && Delivery == Money.Zero;
}
