using System.Collections.Immutable;
using System.Globalization;
using Nest.Rack.Audit;
using Nest.Rack.StockTake;
using Nest.Rack.Tracing;

namespace Nest.Rack;

/// <summary>The part of the store that answers for metal: balance, check, traces, stock-takes.</summary>
public sealed partial class RackStore
{
    /// <summary>Metal in, out and on the rack.</summary>
    public MetalBalance Balance() => database.Read(MetalBalance.Read);

    /// <summary>What is wrong with the rack; empty when all is well. Reads the whole file.</summary>
    public ImmutableArray<string> Check() => database.Read(db => RackAudit.Findings(db).ToImmutableArray());

    /// <summary>From a batch of blanks back to the heats of their metal.</summary>
    /// <param name="batch">As given when they were cut, or the plan's number.</param>
    /// <exception cref="RackException">The rack knows no such batch, or it has no such part.</exception>
    public ImmutableArray<TracedBlanks> TraceBatch(string batch, string? partId = null) =>
        database.Read(db => Traces.OfBatch(db, batch.Trim(), partId).ToImmutableArray());

    /// <summary>From a heat forward to all its pieces and blanks.</summary>
    /// <exception cref="RackException">The rack knows no such heat.</exception>
    public HeatTrace TraceHeat(string heat) => heat.Trim().Length == 0
        ? throw RackException.Refused("an empty heat number names no metal", "give the heat number on the certificate")
        : database.Read(db => Traces.OfHeat(db, heat.Trim()));

    /// <summary>Starts a stock-take of the places that begin so; empty: the whole rack.</summary>
    public long StartCount(string place = "") => database.Write("count", change =>
    {
        var id = StockTakes.Start(change, place.Trim());
        change.Summary = string.Create(CultureInfo.InvariantCulture, $"started stock-take {id}{(place.Trim().Length == 0 ? "" : " of " + place.Trim())}");
        return id;
    });

    /// <summary>Enters marks that were found, all or none.</summary>
    public void EnterFound(long countId, IReadOnlyCollection<(string Mark, string Place)> found) => database.Write("count", change =>
    {
        foreach (var (mark, place) in found)
        {
            StockTakes.Found(change, countId, mark, place.Trim());
        }

        change.Summary = string.Create(CultureInfo.InvariantCulture, $"stock-take {countId}: found {Marks(found.Select(item => item.Mark))}");
        return 0;
    });

    /// <summary>Strikes a mark that was entered by mistake.</summary>
    public void StrikeFound(long countId, string mark) => database.Write("count", change =>
    {
        StockTakes.Strike(change, countId, mark);
        change.Summary = string.Create(CultureInfo.InvariantCulture, $"stock-take {countId}: struck {mark}");
        return 0;
    });

    /// <summary>Closes a stock-take without touching the books.</summary>
    public void DropCount(long countId) => database.Write("count", change =>
    {
        StockTakes.Drop(change, countId);
        change.Summary = string.Create(CultureInfo.InvariantCulture, $"stock-take {countId} dropped");
        return 0;
    });

    /// <summary>All stock-takes, newest first.</summary>
    public ImmutableArray<StockTakeRecord> Counts() => database.Read(db => StockTakes.All(db).ToImmutableArray());

    public StockTakeRecord Count(long countId) => database.Read(db => StockTakes.Read(db, countId));

    /// <summary>Makes the books agree with what was found, in one step that can be undone. Pieces that a plan has reserved and that were not found
    /// stay as they are: what is gone of them is booked with the plan.</summary>
    /// <param name="allMissing">That nothing was entered as found is meant so.</param>
    /// <returns>Number of pieces changed.</returns>
    public int ApplyCount(long countId, bool allMissing = false) => database.Write("count", change =>
    {
        var differences = StockTakes.Read(change.Db, countId).Differences.Where(line => line.Verdict != CountVerdict.MissingReserved).ToList();
        var changed = StockTakes.Apply(change, countId, allMissing);
        var words = differences.GroupBy(line => line.Verdict).Select(group =>
            (group.Key switch { CountVerdict.Missing => "lost ", CountVerdict.Moved => "moved ", _ => "found again " }) + Marks(group.Select(line => line.Mark)));
        change.Summary = string.Create(CultureInfo.InvariantCulture, $"stock-take {countId} applied: {(changed == 0 ? "all agrees" : string.Join("; ", words))}");
        return changed;
    });
}
