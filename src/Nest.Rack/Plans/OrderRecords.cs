namespace Nest.Rack.Plans;

/// <summary>That the order of a plan to one supplier was given.</summary>
public sealed record OrderEntry
{
    public required long PlanId { get; init; }

    /// <summary>The supplier, or how its name begins; empty: the plan's only one.</summary>
    public string Supplier { get; init; } = "";

    /// <summary>Null: today.</summary>
    public DateOnly? Day { get; init; }

    /// <summary>The supplier's reference; it may be told later, by entering the order once more.</summary>
    public string Confirmation { get; init; } = "";
}

/// <summary>An order that was given.</summary>
/// <param name="Confirmation">The supplier's reference; empty: none was told yet.</param>
public sealed record OrderGiven(string Supplier, DateOnly Day, string Confirmation);
