using Nest.Core.Quantities;

namespace Nest.Core.Plans;

/// <summary>For what a bound holds.</summary>
public enum BoundScope
{
    /// <summary>Every plan of the job at its stock, prices and rules that cuts just what is asked.</summary>
    Job,

    /// <summary>As <see cref="Job"/>, and every plan that cuts more than is asked too.</summary>
    JobOrMore,

    /// <summary>That part of a plan which cuts the blanks of one component (blanks and stocks that touch each other).</summary>
    Component,
}

/// <summary>A value that no plan can cost less than, or none; with the name of the method that found it and what it holds for.</summary>
/// <remarks>The value may be below zero: a plan that leaves dear offcuts of free stock can earn money. <see cref="None"/> says that nothing
/// is known, which zero does not. A bound is never changed to fit a plan: one above a plan's cost is wrong, and everybody must see it
/// (<see cref="Contradicts"/>).</remarks>
public readonly record struct Bound
{
    private readonly string? source;
    private readonly Money value;

    private Bound(Money value, string source, BoundScope scope)
    {
        this.value = value;
        this.source = source;
        Scope = scope;
    }

    /// <summary>Nothing is known.</summary>
    public static Bound None => default;

    /// <summary>By so much a bound may be above the cost of a plan: a tenth of a cent, for the roundings of linear programs that report
    /// whole numbers as floating ones. Costs themselves are exact.</summary>
    public static Money Rounding { get; } = Money.FromUnits(Money.UnitsPerCurrency / 1000);

    public bool IsKnown => source is not null;

    /// <summary>No plan of the scope costs less; null: nothing is known.</summary>
    public Money? Value => IsKnown ? value : null;

    /// <summary>Name of the method that found it; empty where there is none.</summary>
    public string Source => source ?? "";

    public BoundScope Scope { get; }

    /// <param name="source">Name of the method, not empty.</param>
    public static Bound Of(Money value, string source, BoundScope scope = BoundScope.Job)
    {
        ArgumentException.ThrowIfNullOrEmpty(source);
        return new(value, source, scope);
    }

    /// <summary>The higher one, of two bounds for the same; the first where they are equal.</summary>
    /// <exception cref="ArgumentException">One is of a part of the job, the other of the whole.</exception>
    public static Bound Higher(Bound a, Bound b)
    {
        if (!a.IsKnown || !b.IsKnown)
        {
            return a.IsKnown ? a : b;
        }

        if ((a.Scope == BoundScope.Component) != (b.Scope == BoundScope.Component))
        {
            throw new ArgumentException("A bound of a component is none of the whole job.");
        }

        var higher = b.value > a.value ? b : a;
        return new(higher.value, higher.Source, a.Scope == b.Scope ? a.Scope : BoundScope.Job);
    }

    /// <summary>The bound of the whole from those of all components: none where one is missing. The sources stand in the order of how
    /// often they occur.</summary>
    public static Bound Sum(IEnumerable<Bound> components)
    {
        var sum = Money.Zero;
        var sources = new List<string>();
        foreach (var bound in components)
        {
            if (!bound.IsKnown)
            {
                return None;
            }

            sum += bound.value;
            sources.Add(bound.Source);
        }

        var names = sources.GroupBy(name => name, StringComparer.Ordinal).OrderByDescending(group => group.Count())
            .ThenBy(group => group.Key, StringComparer.Ordinal).Select(group => group.Key);
        return new(sum, sources.Count == 0 ? "nothing to cut" : string.Join(" + ", names), BoundScope.Job);
    }

    /// <summary>Less an amount; none stays none.</summary>
    public Bound Less(Money amount) => IsKnown ? new(value - amount, Source, Scope) : None;

    /// <summary>With an amount on top that no plan of the scope avoids beside what this bound counts; none stays none.</summary>
    /// <param name="source">Name of what the amount is for; added to the source where the amount is not zero.</param>
    public Bound Plus(Money unavoidable, string source) =>
        !IsKnown || unavoidable == Money.Zero ? this : new(value + unavoidable, $"{Source} + {source}", Scope);

    /// <summary>As it holds for exactly what is asked.</summary>
    public Bound ForJob() => IsKnown ? new(value, Source, BoundScope.Job) : None;

    /// <summary>Whether a plan of this cost shows that the bound is wrong: it is above the cost by more than <see cref="Rounding"/>.</summary>
    public bool Contradicts(Money cost) => IsKnown && value > cost + Rounding;

    /// <summary>Whether a plan of this cost is proven: less than a cent above the bound, and not contradicting it.</summary>
    public bool Proves(Money cost) => IsKnown && !Contradicts(cost) && (cost - value).Units < Money.UnitsPerCurrency / 100;

    public override string ToString() => IsKnown ? $"{value} ({Source})" : "none";
}
