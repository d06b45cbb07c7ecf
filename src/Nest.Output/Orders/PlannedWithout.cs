using System.Collections.Immutable;
using Nest.Core.Plans;

namespace Nest.Output.Orders;

/// <summary>A plan of the same job that buys nothing from one of its suppliers.</summary>
/// <param name="Supplier">Who is left out.</param>
/// <param name="Plan">What was found in a short search: what it costs is the most that doing without him costs. Null: there is no plan.</param>
/// <param name="OnlyHis">Parts that nothing else in the job serves.</param>
public sealed record PlannedWithout(string Supplier, Plan? Plan, ImmutableArray<string> OnlyHis);
