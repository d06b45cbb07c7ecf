using System.Globalization;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Database;
using Nest.Rack.Pieces;

namespace Nest.Rack.Audit;

/// <summary>The books of metal, whole micrograms.</summary>
/// <param name="OnRack">Σ of the pieces on the rack, reserved ones among them.</param>
public sealed record MetalBalance(
    long Bought, long Found, long Corrected, long Parts, long Kerf, long Waste, long Scrapped, long Lost, long OnRack)
{
    /// <summary>In − out − on the rack: zero, or metal was lost or made.</summary>
    public long Difference => Bought + Found + Corrected - Parts - Kerf - Waste - Scrapped - Lost - OnRack;

    /// <summary>A line in kilograms.</summary>
    public static Mass Kilograms(long micrograms) => new(micrograms / 1_000_000_000m);

    internal static MetalBalance Read(Db db)
    {
        var sums = db.Query("SELECT kind, sum(micrograms) FROM ledger GROUP BY kind", row => (row.GetInt32(0), row.GetInt64(1)))
            .ToDictionary(row => (LedgerKind)row.Item1, row => row.Item2);
        var onRack = db.Number(string.Create(
            CultureInfo.InvariantCulture,
            $"SELECT coalesce(sum(micrograms), 0) FROM piece WHERE state IN ({(int)PieceState.OnRack}, {(int)PieceState.Reserved})"));
        return new(
            Sum(LedgerKind.Bought), Sum(LedgerKind.Found), Sum(LedgerKind.Corrected), Sum(LedgerKind.Parts), Sum(LedgerKind.Kerf),
            Sum(LedgerKind.Waste), Sum(LedgerKind.Scrapped), Sum(LedgerKind.Lost), onRack);

        long Sum(LedgerKind kind) => sums.GetValueOrDefault(kind);
    }
}
