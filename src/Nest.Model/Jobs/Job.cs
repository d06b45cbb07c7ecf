using System.Collections.Immutable;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>All that a plan depends on: parts, a snapshot of stock and rack, saws and the shop's rules. Immutable.</summary>
public sealed record Job
{
    public required string Name { get; init; }

    /// <summary>ISO 4217 code of the one currency all amounts are in.</summary>
    public string Currency { get; init; } = "EUR";

    /// <summary>Unit the shop reads; output uses it.</summary>
    public LengthUnit Unit { get; init; }

    /// <summary>Finest fraction of an inch that output shows (16, 32, 64), or 0 for decimals.</summary>
    public int InchFraction { get; init; }

    /// <summary>Sets of the parts made at once.</summary>
    public int Batch { get; init; } = 1;

    /// <summary>The jobs that are planned here as one; empty: it is one by itself. Then <see cref="Batch"/> is 1.</summary>
    public ImmutableArray<SharedJob> Together { get; init; } = [];

    public required ImmutableArray<Material> Materials { get; init; }

    public required ImmutableArray<Part> Parts { get; init; }

    /// <summary>Catalogue sizes and leftovers.</summary>
    public required ImmutableArray<Stock> Stocks { get; init; }

    /// <summary>The first saw that takes a stock cuts it.</summary>
    public required ImmutableArray<Saw> Saws { get; init; }

    /// <summary>Terms of the suppliers; one that is not named here has none beside its prices.</summary>
    public ImmutableArray<Supplier> Suppliers { get; init; } = [];

    /// <summary>From how many suppliers the batch may be bought at most; null: any number.</summary>
    public int? MostSuppliers { get; init; }

    /// <summary>Days from the order until the stock is wanted; stock that takes longer is not in the job. Null: no date.</summary>
    public int? WantedInDays { get; init; }

    /// <summary>What parts must not come from.</summary>
    public ImmutableArray<StockRule> StockRules { get; init; } = [];

    /// <summary>Leftovers to use up first; null: none.</summary>
    public UseFirst? UseFirst { get; init; }

    /// <summary>Layouts of an earlier plan that stay as they are while the rest is planned; a finished plan marks them among its own layouts
    /// (<see cref="Layout.Kept"/>) instead.</summary>
    public ImmutableArray<Layout> Kept { get; init; } = [];

    public ImmutableArray<AllowanceRule> AllowanceRules { get; init; } = [];

    public ImmutableArray<OffcutRule> OffcutRules { get; init; } = [];

    /// <summary>What the time of a free spare may cost at saw and mill, on average over all that are cut; null: any time, zero: nothing.</summary>
    public Money? FreeSparesUpTo { get; init; }

    public MillRates Mill { get; init; } = new();

    /// <summary>What ordering and further sizes of blanks cost the shop.</summary>
    public Fuss Fuss { get; init; } = Fuss.None;

    /// <summary>Tax that quotes and orders show as a line of its own; null: none. It is no part of any cost.</summary>
    public SalesTax? Tax { get; init; }

    /// <summary>Above this mass the sheets ask for help or a lift.</summary>
    public Mass LiftLimit { get; init; } = new(25m);

    /// <summary>Bars longer than this need two people or a stand.</summary>
    public Length LongBar { get; init; } = Length.FromMillimetres(3000);

    /// <summary>Blanks of a part that must be cut: sets × quantity + extra, of gang blanks as many as there are.</summary>
    public int DemandOf(Part part) => part.Gang?.Blanks ?? checked(part.Quantity * Batch + part.Extra);

    /// <summary>The job for another number of sets: spares given as a percentage follow it, counts stay.</summary>
    public Job ForBatch(int sets) => this with
    {
        Batch = sets,
        Parts = [.. Parts.Select(part => part.ExtraPercent is { } percent ? part with { Extra = Part.Spares(part.Quantity, sets, percent) } : part)],
    };

    /// <summary>Material of this name; parts and stocks were checked to have one.</summary>
    public Material MaterialOf(string id) =>
        Materials.First(material => string.Equals(material.Id, id, StringComparison.OrdinalIgnoreCase));

    /// <summary>The terms of this supplier; null when it has none.</summary>
    public Supplier? SupplierOf(string name) =>
        Suppliers.FirstOrDefault(supplier => string.Equals(supplier.Name, name, StringComparison.OrdinalIgnoreCase));

    /// <summary>The saw that cuts this stock; null when the shop has none that takes it.</summary>
    public Saw? SawFor(Stock stock) =>
        stock.CutFor is null ? Saws.FirstOrDefault(saw => saw.Takes(stock)) : Saw.AtSupplier(stock);

    /// <summary>Whether no rule excludes this stock for this part.</summary>
    public bool Allows(Part part, Stock stock) =>
        (!part.Certificate || HasCertificate(stock)) && StockRules.All(rule => rule.Allows(part, stock));

    /// <summary>Whether the metal's papers are there, or come with it: a leftover of known heat, or stock of a supplier that gives certificates.</summary>
    public bool HasCertificate(Stock stock) => stock.IsLeftover
        ? !string.IsNullOrEmpty(stock.Heat)
        : stock.Supplier is { } name && SupplierOf(name) is { GivesCertificates: true };

    /// <summary>The rule for offcuts of this stock; null: nothing is kept.</summary>
    public OffcutRule? OffcutRuleFor(Stock stock) => OffcutRules.FirstOrDefault(rule => rule.Matches(stock));
}
