using Nest.Core.Jobs;
using Nest.Judge.Enumeration;

namespace Nest.Tests.Bounds;

/// <summary>The judge's optimum of a whole job, for bounds that are tested by themselves.</summary>
internal static class EnumeratedCost
{
    /// <summary>What all pieces cost at least, settings and other terms of the whole job in it, in money units; null: not enumerated, or not all can be cut.</summary>
    public static long? Of(Job job)
    {
        try
        {
            var optimum = Optimum.Of(job);
            return optimum.Of([.. job.Parts.Select(part => (part.Quantity * job.Batch) + part.Extra)])?.Units + Optimum.Rounding;
        }
        catch (TooLargeException)
        {
            return null;
        }
    }
}
