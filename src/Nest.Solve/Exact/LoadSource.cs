using Nest.Solve.Choose;

namespace Nest.Solve.Exact;

/// <summary>What can be cut from one kind of stock: the best load at given values, and all loads that are nearly as good.</summary>
internal abstract class LoadSource(BlankKinds kinds, int component, int stock, int number)
{
    public BlankKinds Kinds { get; } = kinds;

    /// <summary>Index of the component in the job, and of the stock in the component.</summary>
    public int ComponentIndex { get; } = component;

    public int StockIndex { get; } = stock;

    /// <summary>Index of the stock among all.</summary>
    public int Number { get; } = number;

    public StockFrame Frame => Kinds.Component.Stocks[StockIndex];

    /// <summary>Price of one piece, with purchase terms the lowest, in grains.</summary>
    public long Price { get; set; }

    public int? Limit => Frame.Stock.Available;

    /// <summary>Cut to size by the supplier: one piece, nothing to choose.</summary>
    public bool IsSingle => Frame.Stock.CutFor is not null;

    /// <summary>Whether loads can be listed by <see cref="Within"/>.</summary>
    public abstract bool CanList { get; }

    /// <summary>Whether single loads can be worked out (<see cref="Raised"/>).</summary>
    public virtual bool CanLookAtOne => false;

    /// <summary>Roughly the steps of one pricing.</summary>
    public abstract double Steps { get; }

    /// <summary>The same with raw edges seen.</summary>
    public virtual double EdgeSteps => Steps;

    /// <summary>Whether pricings see what raw edges of plates cost; else their worth is a little too high.</summary>
    public bool SeesEdges { get; set; }

    /// <summary>Cost of a piece of stock from which nothing is cut, beside its price, in grains.</summary>
    public abstract long EmptyCost { get; }

    /// <summary>Prices at these values, in grains, by kind.</summary>
    /// <param name="load">A load that is worth most; null: none with a piece was found.</param>
    /// <returns>No load is worth more: Σ value · count − cost, in grains, the price of the stock not counted.</returns>
    public abstract long Best(ReadOnlySpan<int> values, out Load? load);

    /// <summary>A bound on <see cref="Best"/> without a table; null: there is none.</summary>
    public virtual long? Quick(ReadOnlySpan<int> values) => null;

    /// <summary>All loads with at least one piece, none beyond the demand, that are worth at least <see cref="Best"/> less the gap.</summary>
    /// <param name="joins">Partial loads that were looked at, whether there is a list or not.</param>
    /// <returns>Null when there are more than the limits allow, or it was stopped.</returns>
    public abstract List<Load>? Within(ReadOnlySpan<int> values, long gap, ListLimits limits, out long joins);

    /// <summary>Every load within the demand at its least cost, where these are few; null: they are not.</summary>
    /// <param name="mostSteps">Table steps that it may take.</param>
    public virtual List<Load>? All(double mostSteps) => null;

    /// <summary>What these pieces cost at least, in grains, without a list of loads; null: nothing is known. <see cref="long.MaxValue"/>: they can't be cut.</summary>
    public virtual long? LeastOf(ReadOnlySpan<int> counts, ExactMeter meter) => null;

    /// <summary>A bare load (<see cref="Load.IsBare"/>) with a layout at its least cost; or a bare one that costs more than was known, as far as some work shows it.</summary>
    /// <param name="most">Work on it ends where it would take more ways to cut than this at once.</param>
    /// <returns>Null: there is none.</returns>
    public virtual Load? Raised(Load load, long most, ExactMeter meter) => load;

    /// <summary>Layouts that came about while loads were worked out, at what they cost; each is told once.</summary>
    public virtual IEnumerable<Load> NewLayouts() => [];

    /// <summary>Layouts that are known beside those that were listed.</summary>
    public FoundLayouts Found => _found ??= new(Kinds, StockIndex);

    private FoundLayouts? _found;

    /// <summary>Whether a load with a tree costs what the list says; false where it obeys the rules, but may cost more.</summary>
    public virtual bool IsTrue(Load load) => load.Real;

    /// <summary>The load at its true least cost, with a layout that obeys every rule, where the lists do not see some (<see cref="StrictLayout"/>).</summary>
    /// <returns>Not known where that takes too long; no load where it can't be cut.</returns>
    public virtual (bool IsKnown, Load? Load) Strict(Load load) => (false, null);

    /// <summary>The load with the tree that it was listed with.</summary>
    public virtual Load WithTree(Load load) => load;
}
