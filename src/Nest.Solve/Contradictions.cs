using System.Globalization;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Solve;

/// <summary>A bound that is above the cost of a plan: one of the two is wrong, and that is a fault of this program.</summary>
public sealed class BoundContradictedException(string message) : InvalidOperationException(message);

/// <summary>The one place that every bound passes before it becomes a proof.</summary>
/// <remarks>In a shop the plan is given without a proof. In tests, benches and long runs the switch <see cref="Switch"/> is on (their
/// project files set it) and a contradiction ends the run.</remarks>
internal static class Contradictions
{
    public const string Switch = "Nest.Solve.ThrowOnContradiction";

    private static readonly AsyncLocal<bool> _asInAShop = new();

    /// <summary>Whether a contradiction ends the run.</summary>
    public static bool Throws => AppContext.TryGetSwitch(Switch, out var on) && on && !_asInAShop.Value;

    /// <summary>For tests of what a shop sees: whatever the switch says, nothing is thrown in this flow of control.</summary>
    public static void AsInAShop() => _asInAShop.Value = true;

    /// <summary>Whether a plan of this cost shows that the bound is wrong.</summary>
    /// <exception cref="BoundContradictedException">It does, and the switch is on.</exception>
    public static bool Found(Bound bound, Money cost) => bound.Contradicts(cost) && Told(bound.Source, bound.Value!.Value.Units, cost.Units);

    /// <summary>The same in the whole numbers of a kernel, where nothing is rounded.</summary>
    public static bool Found(long bound, long cost, string source) => bound > cost && Told(source, bound, cost);

    private static bool Told(string source, long bound, long cost) => Throws
        ? throw new BoundContradictedException(string.Create(CultureInfo.InvariantCulture, $"The bound {bound} ({source}) is above the cost {cost} of a plan."))
        : true;
}
