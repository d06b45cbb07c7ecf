using System.Globalization;
using System.Text;
using System.Text.Json;
using Nest.Core.Costing;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Database;
using Nest.Rack.History;
using Nest.Rack.Pieces;

namespace Nest.Rack.Plans;

/// <summary>What a plan buys of one stock.</summary>
/// <param name="Price">Paid for one piece.</param>
/// <param name="Worth">What a piece is worth that goes to the rack whole.</param>
internal sealed record Purchase(long Id, Stock Stock, int Count, Money Price, Money Worth);

/// <summary>What plans buy and what of it came, so that a plan of the rest neither buys again what is there nor counts on what never
/// was ordered.</summary>
internal static class Purchases
{
    /// <summary>Enters what the plan buys: the lines of its orders, and at least what its layouts cut.</summary>
    public static void Enter(ChangeSet change, long planId, Plan plan)
    {
        var lines = plan.Orders.SelectMany(order => order.Lines).ToDictionary(line => line.StockId, StringComparer.Ordinal);
        var cut = plan.Layouts.GroupBy(layout => layout.StockId, StringComparer.Ordinal)
            .ToDictionary(group => group.Key, group => group.Sum(layout => layout.Count), StringComparer.Ordinal);
        foreach (var stock in plan.Job.Stocks.Where(stock => !stock.IsLeftover && (lines.ContainsKey(stock.Id) || cut.ContainsKey(stock.Id))))
        {
            var line = lines.GetValueOrDefault(stock.Id);
            var count = Math.Max(line?.Count ?? 0, cut.GetValueOrDefault(stock.Id));

            // Price breaks make a piece cheaper than listed; a line's minimum makes none worth more.
            var price = line is null ? stock.PiecePrice : Money.Min(stock.PiecePrice, Money.FromUnits(line.Cost.Units / line.Count));
            change.Insert(
                "purchase", ("plan_id", planId), ("stock", stock.Id), ("count", (long)count), ("price", price.Units),
                ("worth", StockWorth.Of(plan.Job, stock).Keep.Units), ("body", Body(stock)));
        }
    }

    public static List<Purchase> Of(Db db, long planId) => db.Query(
        "SELECT id, count, price, worth, body FROM purchase WHERE plan_id = $1 ORDER BY id",
        row =>
        {
            using var body = JsonDocument.Parse(row.GetString(4));
            return new Purchase(
                row.GetInt64(0), StockJson.Read(body.RootElement), row.GetInt32(1), Money.FromUnits(row.GetInt64(2)), Money.FromUnits(row.GetInt64(3)));
        },
        planId);

    /// <summary>The plan's purchase of this stock; null where an old rack does not know it.</summary>
    public static Purchase? Of(Db db, long planId, string stockId) =>
        Of(db, planId).Find(purchase => string.Equals(purchase.Stock.Id, stockId, StringComparison.Ordinal));

    /// <summary>How far each purchase of the plan is.</summary>
    public static List<PurchaseProgress> Progress(Db db, long planId) => [.. Of(db, planId).Select(purchase => new PurchaseProgress(
        purchase.Stock.Id, purchase.Stock.Supplier ?? "", purchase.Count, Came(db, purchase), [.. InHand(db, planId, purchase).Select(piece => piece.Piece.Mark)]))];

    /// <summary>Pieces that came for this purchase and are kept for the plan, oldest first.</summary>
    public static List<StoredPiece> InHand(Db db, long planId, Purchase purchase) => db.Query(
        PieceRows.Select + string.Create(CultureInfo.InvariantCulture, $"""
         JOIN delivery ON delivery.piece_id = piece.id
            WHERE delivery.purchase_id = $1 AND piece.plan_id = $2 AND piece.state = {(int)PieceState.Reserved} ORDER BY piece.id
        """),
        PieceRows.Read, purchase.Id, planId);

    /// <summary>Enters pieces that came, as many as are still to come of what is asked for.</summary>
    public static ReceiveResult Receive(ChangeSet change, ReceiveEntry entry)
    {
        var state = PlanRows.StateOf(change.Db, entry.PlanId);
        var layouts = PlanRows.Layouts(change.Db, entry.PlanId);
        var unknown = entry.Layouts.Where(number => layouts.TrueForAll(layout => layout.Number != number)).ToList();
        if (unknown.Count > 0)
        {
            throw RackException.Refused($"{PlanNumber.Format(entry.PlanId)} has no layout {unknown[0]}", $"see 'nest plans {PlanNumber.Format(entry.PlanId)}'");
        }

        var strange = entry.Items.Where(item => !Of(change.Db, entry.PlanId).Exists(purchase => Is(purchase, item))).ToList();
        if (strange.Count > 0)
        {
            throw RackException.Refused(
                $"{PlanNumber.Format(entry.PlanId)} buys no '{strange[0]}'", $"it buys {string.Join(", ", Of(change.Db, entry.PlanId).Select(purchase => purchase.Stock.Id))}");
        }

        var suppliers = Of(change.Db, entry.PlanId).Select(purchase => purchase.Stock.Supplier ?? "").Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        if (entry.Supplier.Length > 0 && !suppliers.Exists(name => name.StartsWith(entry.Supplier, StringComparison.OrdinalIgnoreCase)))
        {
            throw RackException.Refused(
                $"{PlanNumber.Format(entry.PlanId)} buys nothing from '{entry.Supplier}'", $"its suppliers are {string.Join(", ", suppliers)}");
        }

        var wanted = Of(change.Db, entry.PlanId)
            .Where(purchase => (entry.Layouts.IsEmpty && entry.Items.IsEmpty) || entry.Items.Any(item => Is(purchase, item))
                || layouts.Exists(layout => entry.Layouts.Contains(layout.Number) && layout.Blueprint.Stock.Id == purchase.Stock.Id))
            .Where(purchase => entry.Material.Length == 0 || string.Equals(purchase.Stock.MaterialId, entry.Material, StringComparison.OrdinalIgnoreCase))
            .Where(purchase => entry.Supplier.Length == 0 || (purchase.Stock.Supplier ?? "").StartsWith(entry.Supplier, StringComparison.OrdinalIgnoreCase))
            .Select(purchase => (Purchase: purchase, ToCome: purchase.Count - Came(change.Db, purchase)))
            .Where(item => item.ToCome > 0)
            .ToList();
        if (wanted.Count == 0)
        {
            throw RackException.Refused(
                $"nothing of this is still to come for {PlanNumber.Format(entry.PlanId)}", "see 'nest plans'; what came on top is entered with 'nest rack add --whole'");
        }

        if (entry.Count is { } given && (wanted.Count > 1 || given < 1 || given > wanted[0].ToCome))
        {
            throw RackException.Refused(
                wanted.Count > 1 ? "a count belongs to one stock" : $"{given} pieces cannot have come: {wanted[0].ToCome} are still to come",
                wanted.Count > 1 ? "name one layout or item" : "what came on top is entered with 'nest rack add --whole'");
        }

        var materials = wanted.Select(item => item.Purchase.Stock.MaterialId).Distinct(StringComparer.OrdinalIgnoreCase).ToList();
        if (entry.Heat.Length > 0 && materials.Count > 1)
        {
            throw RackException.Refused(
                $"one heat, {entry.Heat}, cannot be that of {string.Join(" and ", materials)}", "receive each by its layout, its item number or with --material, with its own heat");
        }

        var open = state is PlanState.Reserved or PlanState.Cutting;
        var (received, ready) = (new List<ReceivedPiece>(), new List<PartCount>());
        foreach (var (purchase, toCome) in wanted)
        {
            var own = layouts.Where(layout => layout.PieceId is null && layout.Blueprint.Stock.Id == purchase.Stock.Id && layout.Open > 0).ToList();
            var need = open ? own.Sum(layout => layout.Open) - InHand(change.Db, entry.PlanId, purchase).Count : 0;
            var came = entry.Count ?? toCome;
            if (purchase.Stock.CutFor is not null)
            {
                var asReady = Math.Min(need, came);
                ready.AddRange(Ready(change, entry, own, asReady));
                (need, came) = (0, came - asReady);
            }

            for (var i = 0; i < came; i++)
            {
                var kept = i < need;

                // Bought to reach a price break and never to be cut: the plan counted it at what it is worth on the rack.
                var surplus = open && !kept;
                var stored = Bought(change, entry.PlanId, purchase.Stock, surplus ? purchase.Worth : purchase.Price, entry.Heat, entry.Certificate, entry.Place, kept);
                Note(change, purchase, stored.Id);
                received.Add(new(stored.Piece, purchase.Stock.Id, [.. own.Select(layout => layout.Number)], kept));
            }
        }

        return new([.. received], [.. ready.GroupBy(part => part.PartId).Select(group => new PartCount(group.Key, group.Sum(part => part.Count)))],
            PlanRows.StateOf(change.Db, entry.PlanId));
    }

    /// <summary>What comes cut to size for the plan is a blank already: its layouts are booked as cut.</summary>
    private static IEnumerable<PartCount> Ready(ChangeSet change, ReceiveEntry entry, IEnumerable<StoredLayout> layouts, int count)
    {
        foreach (var layout in layouts)
        {
            var cut = Math.Min(count, layout.Open);
            if (cut == 0)
            {
                continue;
            }

            count -= cut;
            var result = Cutting.Confirm(change, new CutEntry
            {
                PlanId = entry.PlanId, Layout = layout.Number, Count = cut, Heat = entry.Heat, Certificate = entry.Certificate, Note = "came cut to size",
            });
            foreach (var part in result.Parts)
            {
                yield return part;
            }
        }
    }

    /// <summary>Says that this piece came for the plan, unless it is said already.</summary>
    public static void Book(ChangeSet change, long planId, string stockId, long pieceId)
    {
        if (Of(change.Db, planId, stockId) is { } purchase
            && change.Db.Number("SELECT count(*) FROM delivery WHERE piece_id = $1", pieceId) == 0)
        {
            Note(change, purchase, pieceId);
        }
    }

    /// <summary>A piece bought for the plan comes into being.</summary>
    /// <param name="kept">Only for this plan.</param>
    public static StoredPiece Bought(
        ChangeSet change, long planId, Stock stock, Money value, string heat, string certificate, string place, bool kept)
    {
        var bought = PieceRows.Insert(change, new RackPiece
        {
            State = kept ? PieceState.Reserved : PieceState.OnRack,
            ReservedFor = kept ? planId : null,
            Form = stock.Form,
            MaterialId = stock.MaterialId,
            Length = stock.Length,
            Width = stock.Width,
            Thickness = stock.Thickness,
            Detail = stock.Detail,
            ListedSection = stock.ListedSection,
            MinLength = stock.MinLength == stock.Length ? null : stock.MinLength,
            MinWidth = stock.MinWidth == stock.Width ? null : stock.MinWidth,
            MinThickness = stock.MinThickness == stock.Thickness ? null : stock.MinThickness,

            // What the supplier cuts to size is sawn all round.
            CleanEdges = stock.CutFor is null ? stock.CleanEdges : new(true, true, true, true),
            GoodFaces = stock.GoodFaces,
            Heat = heat,
            Certificate = certificate,
            Place = place,
            Bought = true,
            Supplier = stock.Supplier ?? "",
            Origin = $"bought for {PlanNumber.Format(planId)} as {stock.Id}",
            Value = value,
        }, null);
        Ledger.Add(change, LedgerKind.Bought, bought.Id, null, bought.Piece.Micrograms);
        return bought;
    }

    /// <summary>Frees the newest pieces of each stock that came for the plan beyond what its layouts still cut: another piece of the rack
    /// was cut in their place.</summary>
    public static void FreeBeyondNeed(ChangeSet change, long planId, IReadOnlyCollection<StoredLayout> layouts)
    {
        foreach (var purchase in Of(change.Db, planId))
        {
            var need = layouts.Where(layout => layout.PieceId is null && layout.Blueprint.Stock.Id == purchase.Stock.Id).Sum(layout => layout.Open);
            foreach (var piece in InHand(change.Db, planId, purchase).Skip(need))
            {
                PieceRows.Update(change, piece with { Piece = piece.Piece with { State = PieceState.OnRack, ReservedFor = null } });
            }
        }
    }

    // What is cut to size has the name of the row and of the part.
    private static bool Is(Purchase purchase, string item) => string.Equals(purchase.Stock.Id, item, StringComparison.OrdinalIgnoreCase)
        || (purchase.Stock.CutFor is { } part && string.Equals(purchase.Stock.Id, $"{item} cut for {part}", StringComparison.OrdinalIgnoreCase));

    private static int Came(Db db, Purchase purchase) => (int)db.Number("SELECT count(*) FROM delivery WHERE purchase_id = $1", purchase.Id);

    private static void Note(ChangeSet change, Purchase purchase, long pieceId) =>
        change.Insert("delivery", ("purchase_id", purchase.Id), ("piece_id", pieceId));

    private static string Body(Stock stock)
    {
        using var stream = new MemoryStream();
        using (var json = new Utf8JsonWriter(stream))
        {
            json.WriteStartObject();
            StockJson.Write(json, stock);
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(stream.ToArray());
    }
}
