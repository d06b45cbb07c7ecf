using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Tables;

namespace Nest.Data.Jobs;

/// <summary>The top of a job file.</summary>
internal sealed record JobHead
{
    public required string Name { get; init; }

    public string Currency { get; init; } = "EUR";

    public LengthUnit Unit { get; init; }

    public int InchFraction { get; init; }

    /// <summary>What is said of the job's own tables: decimal mark, sheet, heads. Job, saw and starter files always use a full stop.</summary>
    public TableChoices Tables { get; init; } = TableChoices.None;

    /// <summary>What is said of tables that are no parts list: what is said of sheets is said of that; heads may be of any table.</summary>
    public TableChoices OtherTables => Tables with { Sheet = null, Unit = null };

    /// <summary>Whether the unit is settled before the parts list is looked at.</summary>
    public bool NamesUnit { get; init; }

    public int Batch { get; init; } = 1;

    public int? MostSuppliers { get; init; }

    public int? WantedInDays { get; init; }

    public SalesTax? Tax { get; init; }

    public double? Seconds { get; init; }

    public int? Seed { get; init; }

    /// <summary><c>a4</c> or <c>letter</c>; null: not said.</summary>
    public string? Paper { get; init; }

    /// <summary>Where the shop's desk answers phones and tablets; empty: not said.</summary>
    public string Desk { get; init; } = "";

    public ShopCard Shop { get; init; } = new();
}
