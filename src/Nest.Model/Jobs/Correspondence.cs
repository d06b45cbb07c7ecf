using System.Collections.Immutable;

namespace Nest.Core.Jobs;

/// <summary>Who orders, as the shop's settings say; what is empty is left out or is to be filled in by hand.</summary>
public sealed record ShopCard
{
    public string Name { get; init; } = "";

    /// <summary>Lines of the address.</summary>
    public ImmutableArray<string> Address { get; init; } = [];

    /// <summary>Where goods go; empty: to <see cref="Address"/>.</summary>
    public ImmutableArray<string> DeliveryAddress { get; init; } = [];

    /// <summary>Person, telephone, e-mail.</summary>
    public string Contact { get; init; } = "";

    /// <summary>For the supplier's invoice.</summary>
    public string TaxNumber { get; init; } = "";
}

/// <summary>Where orders to a supplier go and what is asked of it beside the goods.</summary>
public sealed record SupplierCard
{
    /// <summary>As in <see cref="Supplier.Name"/>.</summary>
    public required string Supplier { get; init; }

    /// <summary>Lines of the address.</summary>
    public ImmutableArray<string> Address { get; init; } = [];

    public string Email { get; init; } = "";

    /// <summary>The shop's number with this supplier.</summary>
    public string CustomerNumber { get; init; } = "";

    /// <summary>Certificates wanted, such as <c>EN 10204 3.1</c>; empty: none asked for.</summary>
    public string Certificates { get; init; } = "";

    /// <summary>Whether bars must come in full lengths; false: they may be cut for transport where no blank is longer; null: nothing is said.</summary>
    public bool? FullLengths { get; init; }
}

/// <summary>What orders need beside the plan. No part of the job: no cost and no cut depends on it.</summary>
public sealed record Correspondence
{
    public static Correspondence None { get; } = new();

    public ShopCard Shop { get; init; } = new();

    public ImmutableArray<SupplierCard> Suppliers { get; init; } = [];

    /// <summary>What is known of a supplier; never null.</summary>
    public SupplierCard Of(string supplier) =>
        Suppliers.FirstOrDefault(card => string.Equals(card.Supplier, supplier, StringComparison.OrdinalIgnoreCase)) ?? new() { Supplier = supplier };
}
