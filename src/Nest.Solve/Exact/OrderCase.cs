using System.Collections.Immutable;
using Nest.Core.Costing;
using Nest.Core.Quantities;

namespace Nest.Solve.Exact;

/// <summary>Some ways to order: who may be ordered from, and who of them delivers free because the goods reach the threshold.</summary>
/// <remarks>Every plan is of some case. Beside the case's fixed cost, a supplier's smallest order m, and the threshold t of a free delivery, tie the
/// components: the order costs at least max(goods, m) ≥ (1 − λ) · goods + λ · m, and with free delivery goods ≥ (1 − μ) · goods + μ · t. With these
/// multipliers in [0, 1] the components are problems of their own. As long as it is open whether the delivery d is free it costs at least
/// d · (1 − goods / t), which is below both.</remarks>
internal sealed class OrderCase
{
    private OrderCase(ImmutableArray<Terms> suppliers, ImmutableArray<int> states)
    {
        Suppliers = suppliers;
        States = states;
        for (var k = 0; k < states.Length; k++)
        {
            Fixed += states[k] == Closed ? 0 : suppliers[k].Fuss + (states[k] is Pays or Either ? suppliers[k].Delivery : 0);
        }

        Shares = [.. states.Select((state, k) => state switch
        {
            Closed => double.NaN,
            Free or Either => 1 - Math.Min(1, suppliers[k].Delivery / suppliers[k].Threshold!.Value),
            _ => 1.0,
        })];
    }

    /// <summary>Nothing is ordered.</summary>
    public const int Closed = 0;

    /// <summary>Ordered, the delivery paid where it costs anything.</summary>
    public const int Pays = 1;

    /// <summary>Ordered, the goods at least the threshold.</summary>
    public const int Free = 2;

    /// <summary>Ordered; whether the delivery is free is open.</summary>
    public const int Either = 3;

    private const int MostCases = 100;

    /// <param name="Name">In the spelling of the stock list, compared without regard to case.</param>
    /// <param name="Smallest">Smallest order, in currency units.</param>
    /// <param name="Threshold">Goods from which the delivery costs nothing; null: never, or always.</param>
    internal sealed record Terms(string Name, double Fuss, double Delivery, double Smallest, double? Threshold);

    public ImmutableArray<Terms> Suppliers { get; }

    /// <summary>By supplier.</summary>
    public ImmutableArray<int> States { get; }

    /// <summary>Cost of the orders beside goods, in currency units.</summary>
    public double Fixed { get; }

    /// <summary>With which share the goods of a supplier count, 1 − λ or 1 − μ; not a number where nothing is ordered.</summary>
    public double[] Shares { get; set; }

    /// <summary>No plan of this case costs less, in currency units.</summary>
    public double Bound { get; set; } = double.NegativeInfinity;

    /// <summary>Counts for each part, with which its bound was last worked out; the best choices of each part that were met.</summary>
    public List<Choice>[] Choices { get; set; } = [];

    /// <summary>State of the parts at which other multipliers were found to be no better.</summary>
    public int TunedAt { get; set; } = -1;

    /// <param name="Counts">By source of the part.</param>
    /// <param name="Lines">Cost of the lines beside goods, and of settings, in currency units.</param>
    /// <param name="Goods">By supplier, in currency units.</param>
    internal sealed record Choice(int[] Counts, double Lines, double[] Goods);

    /// <summary>The two cases that this one consists of, paid and free delivery of one supplier; none where nothing is open.</summary>
    public IEnumerable<OrderCase> Halves()
    {
        var open = Enumerable.Range(0, States.Length).Where(k => States[k] == Either).ToList();
        if (open.Count == 0)
        {
            yield break;
        }

        var k = open.MaxBy(some => Suppliers[some].Delivery);
        yield return new(Suppliers, States.SetItem(k, Pays)) { Bound = Bound };
        yield return new(Suppliers, States.SetItem(k, Free)) { Bound = Bound };
    }

    /// <summary>Part of the bound that is no part's: fixed cost + Σ λ · m + Σ μ · t, in currency units.</summary>
    public double ConstantAt(double[] shares) =>
        Fixed + Enumerable.Range(0, States.Length).Sum(k => States[k] is Closed or Either ? 0 : (1 - shares[k]) * Needed(k));

    /// <summary>Goods that a supplier asks for in this case, in currency units.</summary>
    public double Needed(int supplier) => States[supplier] switch
    {
        Pays => Suppliers[supplier].Smallest,
        Free => Suppliers[supplier].Threshold ?? 0,
        _ => 0,
    };

    /// <summary>Whether multipliers other than zero can be of use.</summary>
    public bool CanTune => Enumerable.Range(0, States.Length).Any(k => Needed(k) > 0);

    public override string ToString() =>
        string.Join(' ', Suppliers.Select((supplier, k) => States[k] == Closed ? "–" : $"{supplier.Name}{(States[k] switch { Free => " free", Either => " ?", _ => "" })}"));

    /// <summary>The cases of a job by who is ordered from; where these are too many, one in which every supplier is open and costs nothing.</summary>
    public static ImmutableArray<OrderCase> Of(ExactJob job)
    {
        var suppliers = job.Sources.Where(source => !source.Frame.Stock.IsLeftover).Select(source => source.Frame.Stock.Supplier ?? "")
            .Distinct(StringComparer.OrdinalIgnoreCase).Select(name => TermsOf(job, name)).ToImmutableArray();
        var most = Math.Min(suppliers.Length, job.Job.MostSuppliers ?? int.MaxValue);
        if (suppliers.Length > 10 || 1 << suppliers.Length > MostCases)
        {
            return [new([.. suppliers.Select(supplier => new Terms(supplier.Name, 0, 0, 0, null))], [.. suppliers.Select(_ => Pays)])];
        }

        IEnumerable<ImmutableArray<int>> states = [[]];
        foreach (var supplier in suppliers)
        {
            // Who asks for nothing beside the goods may always be open.
            int[] own = supplier is { Fuss: 0, Delivery: 0, Smallest: 0 } && most == suppliers.Length ? [Pays] : [Closed, supplier.Threshold is null ? Pays : Either];
            states = states.SelectMany(some => own.Select(state => some.Add(state)));
        }

        return [.. states.Where(some => some.Count(state => state != Closed) <= most).Select(some => new OrderCase(suppliers, some))];
    }

    private static Terms TermsOf(ExactJob job, string name)
    {
        var supplier = job.Job.SupplierOf(name);
        var fuss = Grain.Amount(FussCosts.OfSupplier(job.Job));
        if (supplier is null)
        {
            return new(name, fuss, 0, 0, null);
        }

        // Where every order reaches the threshold the delivery costs nothing.
        var always = supplier.FreeDeliveryFrom <= supplier.MinimumOrder;
        var delivery = always ? 0 : Grain.Amount(supplier.Delivery);
        return new(name, fuss, delivery, Grain.Amount(supplier.MinimumOrder), delivery > 0 && supplier.FreeDeliveryFrom is { } from ? Grain.Amount(from) : null);
    }
}
