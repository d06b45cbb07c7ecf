namespace Nest.Core.Plans;

/// <summary>What is known about a plan. The four answers are different things and are never mixed up.</summary>
public enum SolveStatus
{
    /// <summary>Nothing was found before the limit; nothing is proven either.</summary>
    NotFound = 0,

    /// <summary>A checked plan, dearer than the lower bound by the stated gap.</summary>
    BestFound = 1,

    /// <summary>The plan's cost equals a lower bound that is valid for the whole job.</summary>
    Proven = 2,

    /// <summary>Proven: no plan can cut all that is asked.</summary>
    Impossible = 3,
}
