using Nest.Core.Jobs;

namespace Nest.Core.Costing;

/// <summary>What the work at the mill costs that the parts list tells: it counts in quotes, never in the choice of stock.</summary>
/// <remarks>Minutes = pieces, spares too, × minutes a piece + set-ups × minutes of one. Exact decimals.</remarks>
public static class Machining
{
    /// <summary>Whether the parts list says how long the part takes at the mill.</summary>
    public static bool IsTold(Part part) => part.MillMinutes is not null || part.SetUpMinutes is not null;

    /// <param name="pieces">Cut, spares included.</param>
    public static decimal Minutes(Part part, int pieces) =>
        (pieces * (part.MillMinutes ?? 0m)) + ((part.SetUps ?? 1) * (part.SetUpMinutes ?? 0m));

    /// <summary>In the job's currency.</summary>
    public static decimal Cost(Job job, Part part, int pieces) => Minutes(part, pieces) * job.Mill.HourlyRate / 60m;
}
