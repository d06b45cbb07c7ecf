using System.Collections.Immutable;

namespace Nest.Rack.History;

/// <summary>A change in the rack's history.</summary>
/// <param name="Kind">What was asked: add, move, reserve, cut …</param>
/// <param name="Summary">What was done, in a sentence.</param>
/// <param name="Undoes">The change that this one took back.</param>
/// <param name="UndoneBy">The change that took this one back.</param>
public sealed record ChangeRecord(long Id, DateTimeOffset At, string Who, string Kind, string Summary, long? Undoes, long? UndoneBy);

/// <summary>A row that a change wrote, as it was before and after (JSON; null: there was none).</summary>
public sealed record ChangedRow(string Table, long RowId, string? Before, string? After);
