namespace Nest.Solve.Exact;

/// <summary>What a list of loads may take.</summary>
/// <param name="Joins">Pairs of partial loads that may be looked at.</param>
/// <param name="Threads">Threads that may work on it; the list does not depend on it.</param>
/// <param name="Ends">Asked now and then whether to stop.</param>
internal sealed record ListLimits(long Joins, int Threads, Func<bool> Ends);
