using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Data.Jobs;

/// <summary>The top of a job file.</summary>
internal sealed record JobHead
{
    public required string Name { get; init; }

    public string Currency { get; init; } = "EUR";

    public LengthUnit Unit { get; init; }

    public int InchFraction { get; init; }

    /// <summary>Of the job's own CSV files; job, saw and starter files always use a full stop.</summary>
    public char DecimalMark { get; init; } = '.';

    public int Batch { get; init; } = 1;

    public int? MostSuppliers { get; init; }

    public int? WantedInDays { get; init; }

    public SalesTax? Tax { get; init; }

    public double? Seconds { get; init; }

    public int? Seed { get; init; }
}
