using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>When an offcut is worth keeping, and at what value. The first rule that matches counts.</summary>
/// <remarks>Plate: kept when its longer side is at least <see cref="KeepLength"/> and its shorter at least <see cref="KeepWidth"/>.
/// Bar: kept when at least <see cref="KeepLength"/> long. Value of a kept offcut: its share of
/// price × <see cref="Fraction"/> (bought stock) or × <see cref="LeftoverFraction"/> (stock that was a leftover itself), never below
/// its scrap value. Both fractions are below 1, so that leaving metal is never a gain.</remarks>
public sealed record OffcutRule
{
    /// <summary>Null: every form.</summary>
    public Form? Form { get; init; }

    /// <summary>Null: every material.</summary>
    public string? MaterialId { get; init; }

    public required Length KeepLength { get; init; }

    public Length KeepWidth { get; init; }

    public decimal Fraction { get; init; } = 0.6m;

    public decimal LeftoverFraction { get; init; } = 0.9m;

    public bool Matches(Stock stock) =>
        (Form is null || Form == stock.Form)
        && (MaterialId is null || string.Equals(MaterialId, stock.MaterialId, StringComparison.OrdinalIgnoreCase));
}
