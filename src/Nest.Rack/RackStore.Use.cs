using System.Collections.Immutable;
using Nest.Rack.Plans;

namespace Nest.Rack;

/// <summary>The part of the store that tells what the rack was good for.</summary>
public sealed partial class RackStore
{
    /// <summary>Shapes of all parts that plans of this rack wanted; plans that were entered before racks kept shapes tell none.</summary>
    public ImmutableArray<PartShape> KnownShapes() => database.Read(db =>
        PlanRows.All(db).SelectMany(plan => PlanRows.Wanted(db, plan.Id)).Select(wanted => wanted.Told?.Shape).OfType<PartShape>().Distinct().ToImmutableArray());
}
