namespace Nest.Core.Jobs;

/// <summary>What a plan costs the shop beside metal and machines: time for each line that is ordered, each supplier, and each further size
/// in which a part's blanks come. Fetching and loading a piece of stock is <see cref="Saw.LoadMinutes"/>.</summary>
/// <remarks>All zero: none of it is counted. Nothing of it is paid to a supplier, so it reaches no smallest order and no free delivery.</remarks>
public sealed record Fuss
{
    public static Fuss None { get; } = new();

    /// <summary>Cost of an hour of ordering, in the job's currency.</summary>
    public decimal HourlyRate { get; init; }

    /// <summary>Minutes for each line of an order: ask, compare, check in, put away.</summary>
    public decimal OrderLineMinutes { get; init; }

    /// <summary>Minutes for each supplier that something is ordered from: order, delivery, invoice.</summary>
    public decimal SupplierMinutes { get; init; }

    /// <summary>Minutes at the mill for each further size in which the blanks of one part come: vise and offsets are set up again. At the
    /// mill's rate.</summary>
    public decimal FurtherSizeMinutes { get; init; }

    /// <summary>Whether any of it takes time.</summary>
    public bool IsCounted => OrderLineMinutes != 0m || SupplierMinutes != 0m || FurtherSizeMinutes != 0m;
}
