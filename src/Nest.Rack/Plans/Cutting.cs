using System.Collections.Immutable;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.History;
using Nest.Rack.Pieces;

namespace Nest.Rack.Plans;

/// <summary>What kind of cut is booked.</summary>
internal enum CutKind
{
    AsPlanned = 0,
    Miscut = 1,
}

/// <summary>Booking cuts: the stock piece is consumed, blanks and leftovers come into being, and the metal adds up.</summary>
internal static class Cutting
{
    public static CutResult Confirm(ChangeSet change, CutEntry entry)
    {
        var layout = OpenLayout(change, entry.PlanId, entry.Layout, entry.Count);
        if (entry.Leftovers is not null && entry.Count != 1)
        {
            throw RackException.Refused("leftovers other than planned belong to one stock piece", "enter the pieces one by one");
        }

        if (!entry.From.IsEmpty && entry.From.Length != entry.Count)
        {
            throw RackException.Refused($"{entry.Count} pieces were cut, but {entry.From.Length} marks are given", "give one mark for each");
        }

        var planned = layout.Blueprint.Pieces.GroupBy(piece => piece.PartId).ToDictionary(group => group.Key, group => group.Count(), StringComparer.OrdinalIgnoreCase);
        var bad = entry.Spoiled.Where(part => part.Count > 0).ToList();
        var spoiled = entry.Spoiled.GroupBy(part => part.PartId, StringComparer.OrdinalIgnoreCase)
            .ToDictionary(group => group.Key, group => group.Sum(part => part.Count), StringComparer.OrdinalIgnoreCase);
        foreach (var (part, count) in spoiled)
        {
            if (count < 0 || count > planned.GetValueOrDefault(part) * entry.Count)
            {
                throw RackException.Refused($"{count} × {part} cannot be spoiled: layout {entry.Layout} cuts {planned.GetValueOrDefault(part) * entry.Count} of it", "count again");
            }
        }

        var consumed = new List<string>();
        var leftovers = new List<RackPiece>();
        var parts = new Dictionary<string, int>(StringComparer.Ordinal);
        for (var i = 0; i < entry.Count; i++)
        {
            var from = entry.From.IsEmpty ? null : entry.From[i];
            var stock = TakeStock(change, layout, from, entry.Heat, entry.Certificate, mustFit: true);
            var good = new List<PartCount>();
            foreach (var (part, count) in planned)
            {
                var lost = Math.Min(count, spoiled.GetValueOrDefault(part));
                spoiled[part] = spoiled.GetValueOrDefault(part) - lost;
                good.Add(new(part, count - lost));
            }

            var cut = new CutBooking(change, layout, stock, entry.Batch, entry.Place, entry.Note);
            leftovers.AddRange(cut.AsPlanned([.. good], entry.Leftovers));
            consumed.Add(stock.Piece.Mark);
            foreach (var part in good)
            {
                parts[part.PartId] = parts.GetValueOrDefault(part.PartId) + part.Count;
            }
        }

        change.Update("layout", layout.Id, ("cut", (long)(layout.Cut + entry.Count)));
        var state = Advance(change, entry.PlanId);
        var made = Parts(parts);
        change.Summary = $"{PlanNumber.Format(entry.PlanId)} layout {entry.Layout}: cut {string.Join(", ", consumed)}; {Words(made)}{(bad.Count == 0 ? "" : $"; spoiled {Words(bad)}")}{Marks(leftovers)}{(entry.Note.Trim().Length == 0 ? "" : $" ({entry.Note.Trim()})")}";
        return new(change.Id, [.. consumed], [.. leftovers], made, state);
    }

    public static CutResult Miscut(ChangeSet change, MiscutEntry entry)
    {
        var layout = OpenLayout(change, entry.PlanId, entry.Layout, 1);
        if (entry.Note.Trim().Length == 0)
        {
            throw RackException.Refused("a miscut needs a word on what happened", "say it in the note");
        }

        var planned = layout.Blueprint.Pieces.GroupBy(piece => piece.PartId).ToDictionary(group => group.Key, group => group.Count(), StringComparer.Ordinal);
        foreach (var part in entry.Made)
        {
            if (part.Count < 0 || part.Count > planned.GetValueOrDefault(part.PartId))
            {
                throw RackException.Refused($"{part.Count} × {part.PartId} cannot be good: layout {entry.Layout} cuts {planned.GetValueOrDefault(part.PartId)} of it", "count again");
            }
        }

        var stock = TakeStock(change, layout, entry.From, entry.Heat, entry.Certificate, mustFit: false);
        var cut = new CutBooking(change, layout, stock, entry.Batch, entry.Place, entry.Note);
        var leftovers = cut.AsMiscut(entry.Made, entry.Leftovers);
        change.Update("layout", layout.Id, ("lost", (long)(layout.Lost + 1)));
        var state = Advance(change, entry.PlanId);
        change.Summary = $"{PlanNumber.Format(entry.PlanId)} layout {entry.Layout}: miscut {stock.Piece.Mark} ({entry.Note.Trim()}); {Words(entry.Made)}{Marks(leftovers)}";
        return new(change.Id, [stock.Piece.Mark], [.. leftovers], entry.Made, state);
    }

    private static StoredLayout OpenLayout(ChangeSet change, long planId, int number, int count)
    {
        var state = PlanRows.StateOf(change.Db, planId);
        if (state is not (PlanState.Reserved or PlanState.Cutting))
        {
            throw RackException.Refused(
                $"{PlanNumber.Format(planId)} is {Reserving.Word(state)}, so nothing of it can be cut", state == PlanState.Planned ? "reserve it first" : "see 'nest plans'");
        }

        var layout = PlanRows.Layout(change.Db, planId, number);
        return count >= 1 && count <= layout.Open
            ? layout
            : throw RackException.Refused(
                $"layout {number} of {PlanNumber.Format(planId)} has {layout.Open} pieces still to cut, not {count}", $"see 'nest plans {PlanNumber.Format(planId)}'");
    }

    /// <summary>The piece that is really cut: the layout's leftover, a named piece, or one bought just now.</summary>
    private static StoredPiece TakeStock(ChangeSet change, StoredLayout layout, string? from, string heat, string certificate, bool mustFit)
    {
        var stock = layout.Blueprint.Stock;
        if (layout.PieceId is { } own)
        {
            var reserved = change.Db.Query(PieceRows.Select + " WHERE piece.id = $1", PieceRows.Read, own)[0];
            if (from is not null && PieceRows.Find(change.Db, from).Id != own)
            {
                throw RackException.Refused($"layout {layout.Number} cuts {reserved.Piece.Mark}, not {from}", "take the right piece, or enter a miscut");
            }

            var known = WithPapers(reserved, heat, certificate);
            return mustFit ? Fitting(known, layout) : known;
        }

        var planId = layout.PlanId;
        var purchase = Purchases.Of(change.Db, planId, stock.Id);
        var inHand = purchase is null ? [] : Purchases.InHand(change.Db, planId, purchase);
        if (from is not null)
        {
            var named = PieceRows.Find(change.Db, from);
            if (named.Piece.State != PieceState.OnRack && inHand.TrueForAll(piece => piece.Id != named.Id))
            {
                throw RackException.Refused($"{named.Piece.Mark} is {named.Piece.State.ToString().ToLowerInvariant()}", "take another piece");
            }

            var fitting = Fitting(WithPapers(named, heat, certificate), layout);
            Purchases.Book(change, planId, stock.Id, fitting.Id);
            return fitting;
        }

        if (inHand.Count > 0)
        {
            return mustFit ? Fitting(Delivered(inHand, heat, certificate), layout) : Delivered(inHand, heat, certificate);
        }

        var bought = Purchases.Bought(change, planId, stock, purchase?.Price ?? stock.PiecePrice, heat, certificate, "", kept: false);
        Purchases.Book(change, planId, stock.Id, bought.Id);
        return bought;
    }

    /// <summary>The oldest piece that came for the plan, of this heat where one is named; a heat that nobody entered yet is entered now.</summary>
    private static StoredPiece Delivered(List<StoredPiece> inHand, string heat, string certificate)
    {
        var same = inHand.Where(one => heat.Length == 0 || string.Equals(one.Piece.Heat, heat, StringComparison.OrdinalIgnoreCase)).ToList();
        if (same.Count == 0)
        {
            same = [.. inHand.Where(one => one.Piece.Heat.Length == 0)];
        }

        if (same.Count == 0)
        {
            throw RackException.Refused(
                $"what came for the plan is of other heats: {string.Join(", ", inHand.Select(one => $"{one.Piece.Mark} of {one.Piece.Heat}"))}",
                "name the piece that was cut with --from, or enter the one that came with 'nest receive' first");
        }

        return WithPapers(same[0], heat, certificate);
    }

    /// <summary>The piece with heat and certificate as told at the saw, where the rack did not know them.</summary>
    private static StoredPiece WithPapers(StoredPiece stored, string heat, string certificate)
    {
        var piece = stored.Piece;
        if (heat.Length > 0 && piece.Heat.Length > 0 && !string.Equals(heat, piece.Heat, StringComparison.OrdinalIgnoreCase))
        {
            throw RackException.Refused(
                $"{piece.Mark} is of heat {piece.Heat}, not {heat}", $"look at the piece; where the rack is wrong, correct it with 'nest rack adjust {piece.Mark} --heat'");
        }

        return stored with
        {
            Piece = piece with
            {
                Heat = piece.Heat.Length == 0 ? heat : piece.Heat,
                Certificate = piece.Certificate.Length == 0 ? certificate : piece.Certificate,
            },
        };
    }

    private static StoredPiece Fitting(StoredPiece stored, StoredLayout layout) => Misfit(stored.Piece, layout) is { } misfit
        ? throw RackException.Refused(misfit, "take a piece that fits, enter it as a miscut, or plan the rest anew")
        : stored;

    /// <summary>Why the layout cannot be cut from the piece; null: it can.</summary>
    public static string? Misfit(RackPiece piece, StoredLayout layout)
    {
        var (stock, sheet) = (layout.Blueprint.Stock, layout.Blueprint.Sheet);
        var fits = piece.Form == stock.Form && piece.Detail?.Key == stock.Detail?.Key
            && string.Equals(piece.MaterialId, stock.MaterialId, StringComparison.OrdinalIgnoreCase)
            && piece.UsableLength >= sheet.SizeX
            && (stock.Form.IsBar() ? (piece.Width, piece.Thickness) == (stock.Width, stock.Thickness) : piece.UsableWidth >= sheet.SizeY && piece.Thickness == stock.Thickness)
            && piece.UsableThickness >= stock.MinThickness;

        // Damage is often seen only when the piece is fetched: the plan may not have known it.
        return !fits
            ? $"{piece.Mark} is not the stock that layout {layout.Number} was made for"
            : layout.Blueprint.PartOn(piece.KeepOuts) is { } part ? $"{piece.Mark} has a keep-out where layout {layout.Number} has {part}" : null;
    }

    /// <summary>Of a plan that can be cut: whether something of it is cut, after a cut was taken back out of turn.</summary>
    public static void Restate(ChangeSet change, long planId)
    {
        if (PlanRows.StateOf(change.Db, planId) is PlanState.Reserved or PlanState.Cutting)
        {
            var begun = PlanRows.Layouts(change.Db, planId).Exists(layout => layout.Cut + layout.Lost > 0);
            change.Update("plan", planId, ("state", (long)(begun ? PlanState.Cutting : PlanState.Reserved)));
        }
    }

    private static PlanState Advance(ChangeSet change, long planId)
    {
        var layouts = PlanRows.Layouts(change.Db, planId);
        var open = layouts.Sum(layout => layout.Open);
        var missing = PlanRows.Parts(change.Db, planId).Sum(part => part.Missing);

        // A piece that was lost could be cut once more; where a spare stands in for what was spoiled nobody needs it.
        var untouched = layouts.Sum(layout => Math.Max(0, layout.Count - layout.Cut - layout.Lost));
        var state = open > 0 && (missing > 0 || untouched > 0) ? PlanState.Cutting : missing > 0 ? PlanState.Incomplete : PlanState.Finished;
        change.Update("plan", planId, ("state", (long)state));
        Purchases.FreeBeyondNeed(change, planId, layouts);

        return state;
    }

    private static ImmutableArray<PartCount> Parts(Dictionary<string, int> parts) =>
        [.. parts.Where(part => part.Value > 0).OrderBy(part => part.Key, StringComparer.Ordinal).Select(part => new PartCount(part.Key, part.Value))];

    private static string Words(IReadOnlyCollection<PartCount> parts) =>
        parts.Count == 0 ? "no good parts" : string.Join(", ", parts.Select(part => $"{part.Count} × {part.PartId}"));

    private static string Marks(List<RackPiece> leftovers) =>
        leftovers.Count == 0 ? "" : $"; left over {string.Join(", ", leftovers.Select(piece => piece.Mark))}";
}
