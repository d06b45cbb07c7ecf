using System.Collections.Immutable;
using System.Globalization;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Core.Racks;
using Nest.Rack.Pieces;
using Nest.Rack.Plans;
using Nest.Rack.Values;

namespace Nest.Rack;

/// <summary>The part of the store by which plans take leftovers and live.</summary>
public sealed partial class RackStore
{
    internal const string RulesName = "value-rules";

    /// <summary>What pieces count for.</summary>
    public ValueRules Rules => database.Read(db => ValueRules.FromJson((string?)db.Value("SELECT value FROM setting WHERE name = $1", RulesName)));

    public void SetRules(ValueRules rules) => database.Write("rules", change =>
    {
        rules.Check();
        var ids = change.Db.Query("SELECT id FROM setting WHERE name = $1", row => row.GetInt64(0), RulesName);
        if (ids.Count == 0)
        {
            change.Insert("setting", ("name", RulesName), ("value", rules.ToJson()));
        }
        else
        {
            change.Update("setting", ids[0], ("value", rules.ToJson()));
        }

        change.Summary = $"value rules: {rules.ToJson()}";
        return 0;
    });

    /// <summary>Whether a part asks for this section; of plate and solid bar the boxes decide.</summary>
    private static bool IsAsked(Job? job, RackPiece piece)
    {
        if (piece.Detail is null || job is null)
        {
            return true;
        }

        var stock = piece.ToStock(Money.Zero);
        return job.Parts.Any(part => part.Detail is null ? part.Forms.Has(piece.Form) : stock.IsSectionOf(part));
    }

    /// <summary>The free pieces that a plan may use, valued as of a day.</summary>
    /// <param name="day">Null: today.</param>
    public StockAnswer AvailableStock(StockRequest request, DateOnly? day = null)
    {
        var today = day ?? database.Today;
        var (found, rules, onRack, paid) = database.Read(db =>
        {
            var pieces = new Dictionary<long, RackPiece>();
            foreach (var box in request.Boxes)
            {
                var place = string.IsNullOrEmpty(request.Place) ? "" : " AND substr(piece.place, 1, length($6)) = $6 COLLATE NOCASE";
                object?[] values = [box.MaterialId, box.Side3, box.Side2, box.Side1, request.AlsoReservedFor ?? -1L, request.Place];
                foreach (var stored in db.Query(
                    PieceRows.Select + string.Create(CultureInfo.InvariantCulture, $"""
                     WHERE piece.state IN ({(int)PieceState.OnRack}, {(int)PieceState.Reserved})
                        AND piece.material_id = (SELECT id FROM material WHERE name = $1)
                        AND min(piece.length, piece.width, piece.thickness) >= $2
                        AND piece.length + piece.width + piece.thickness - min(piece.length, piece.width, piece.thickness)
                            - max(piece.length, piece.width, piece.thickness) >= $3
                        AND max(piece.length, piece.width, piece.thickness) >= $4
                        AND (piece.state = {(int)PieceState.OnRack} OR piece.plan_id = $5){place}
                    """),
                    PieceRows.Read, values.AsSpan(0, place.Length == 0 ? 5 : 6)))
                {
                    pieces.TryAdd(stored.Id, stored.Piece);
                }
            }

            var rules = ValueRules.FromJson((string?)db.Value("SELECT value FROM setting WHERE name = $1", RulesName));
            var all = db.Number(string.Create(CultureInfo.InvariantCulture, $"SELECT count(*) FROM piece WHERE state IN ({(int)PieceState.OnRack}, {(int)PieceState.Reserved})"));
            var paid = request.AlsoReservedFor is { } plan ? PaidStock.Worths(db, plan) : [];
            return (pieces, rules, (int)all, paid);
        });
        var known = request.KnownRolling.ToHashSet(StringComparer.OrdinalIgnoreCase);
        var fitting = found
            .Where(pair => IsAsked(request.Job, pair.Value))
            .Where(pair => pair.Value.Rolling == RollingDirection.AlongLength || !known.Contains(pair.Value.MaterialId))
            .Select(pair => (Id: pair.Key, Piece: pair.Value, Stock: Valued(pair.Key, pair.Value.ToStock(rules.ValueOf(pair.Value, today)))))
            .ToList();
        var chosen = fitting
            .GroupBy(item => item.Stock.MaterialId, StringComparer.OrdinalIgnoreCase)
            .SelectMany(group => group
                .OrderBy(item => item.Stock.PiecePrice)
                .ThenBy(item => item.Piece.Entered)
                .ThenBy(item => item.Id)
                .Take(request.MostPieces ?? int.MaxValue))
            .OrderBy(item => item.Id)
            .Select(item => item.Stock);
        return new([.. chosen], fitting.Count, onRack);

        // What came for the plan is paid for, used or not.
        Stock Valued(long id, Stock stock)
        {
            if (request.Job is not { } job || !paid.TryGetValue(id, out var worth))
            {
                return stock;
            }

            var charge = PaidStock.Charge(Money.Min(stock.PiecePrice, worth), job, stock);
            return stock with { PiecePrice = charge, UnitPrice = charge.Amount, PriceBasis = PriceBasis.Piece };
        }
    }

    /// <summary>Whole pieces that are paid for by this plan, or by those whose rest it does, and are still there for it.</summary>
    public ImmutableArray<PaidPiece> PaidFor(long planId) => database.Read(db => PaidStock.Of(db, planId));

    /// <summary>Enters what came of what a plan buys; each piece gets its mark, and as many as its layouts still cut are kept for it.
    /// What a supplier cut to size for it counts as made.</summary>
    public ReceiveResult Receive(ReceiveEntry entry) => database.Write("receive", change =>
    {
        var received = Purchases.Receive(change, entry);
        change.Summary = $"received for {PlanNumber.Format(entry.PlanId)}: {Marks([
            .. received.Pieces.Select(one => one.Piece.Mark), .. received.Ready.Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Count} × {part.PartId} cut to size")),
        ])}";
        return received;
    });

    /// <summary>All pieces of these materials that hold a box of these sides at least, whichever way it lies.</summary>
    public ImmutableArray<Stock> AvailableStock(IEnumerable<string> materials, PieceFilter filter)
    {
        var names = materials.ToHashSet(StringComparer.OrdinalIgnoreCase);
        var rules = Rules;
        var today = database.Today;
        return [.. List(filter with { States = [PieceState.OnRack] })
            .Where(piece => names.Contains(piece.MaterialId))
            .Select(piece => piece.ToStock(rules.ValueOf(piece, today)))];
    }

    /// <summary>Enters a plan without reserving: others may still take its leftovers.</summary>
    /// <param name="again">The same plan once more, for another batch.</param>
    /// <returns>The plan's number.</returns>
    public long Enter(Plan plan, bool again = false) => database.Write("plan", change =>
    {
        var id = Reserving.Enter(change, plan, null, again);
        change.Summary = $"entered {PlanNumber.Format(id)} ({plan.Job.Name})";
        return id;
    });

    /// <summary>Enters a plan and reserves its leftovers, all or none.</summary>
    public long Reserve(Plan plan, bool again = false) => database.Write("reserve", change =>
    {
        if (!again)
        {
            Reserving.RefuseRest(change.Db, plan);
        }

        var id = Reserving.Enter(change, plan, null, again);
        var taken = Reserving.Reserve(change, id);
        change.Summary = $"reserved {taken} pieces of the rack for {PlanNumber.Format(id)} ({plan.Job.Name})";
        return id;
    });

    /// <summary>Reserves the leftovers of a plan that was entered before.</summary>
    public void Reserve(long planId) => database.Write("reserve", change =>
    {
        var taken = Reserving.Reserve(change, planId);
        change.Summary = $"reserved {taken} pieces of the rack for {PlanNumber.Format(planId)}";
        return 0;
    });

    /// <summary>Books that so many pieces of a layout were cut as planned.</summary>
    public CutResult ConfirmCut(long planId, int layoutNumber, int count = 1) =>
        ConfirmCut(new CutEntry { PlanId = planId, Layout = layoutNumber, Count = count });

    public CutResult ConfirmCut(CutEntry entry) => database.Write("cut", change => Cutting.Confirm(change, entry));

    /// <summary>Books a cut that was told under a name, once however often it is told: a device that lost the network tells again.</summary>
    /// <param name="name">Names the telling; undoing the booking takes the name back too.</param>
    /// <returns>Null: it was booked before, and nothing was changed.</returns>
    public CutResult? ConfirmCut(CutEntry entry, string name)
    {
        var told = "tick " + name;
        return database.Read(db => RackSettings.Read(db, told)) is not null ? null : database.Write("cut", change =>
        {
            // Told twice at the same moment: the second one looked before the first was done.
            if (RackSettings.Read(change.Db, told) is not null)
            {
                throw RackException.Refused("this was booked just now", "nothing is to be done");
            }

            RackSettings.Set(change, told, PlanNumber.Format(entry.PlanId));
            return Cutting.Confirm(change, entry);
        });
    }

    /// <summary>The newest plan on the rack that cuts just as this one and was not given up; null: there is none.</summary>
    public PlanRecord? Find(Plan plan)
    {
        var fingerprint = Fingerprint.OfCutting(plan);
        return database.Read(db => Reserving.Twin(db, fingerprint) is { } id ? PlanRows.Plan(db, id) : null);
    }

    /// <summary>Books a stock piece that went wrong.</summary>
    public CutResult Miscut(MiscutEntry entry) => database.Write("miscut", change => Cutting.Miscut(change, entry));

    /// <summary>Gives the plan up: what it reserved and did not cut is free again.</summary>
    /// <returns>Number of freed pieces.</returns>
    public int Cancel(long planId) => database.Write("cancel", change =>
    {
        Reserving.RefuseEnded(change.Db, planId);
        var freed = Reserving.Release(change, planId, PlanState.Cancelled);
        change.Summary = $"cancelled {PlanNumber.Format(planId)}, freed {freed} pieces";
        return freed;
    });

    /// <summary>Puts a new plan in the place of what is not cut of an old one, in one step.</summary>
    /// <param name="changed">The job was changed: the old plan may be all cut.</param>
    /// <returns>The new plan's number.</returns>
    public long Replan(long planId, Plan rest, bool changed = false) => database.Write("replan", change =>
    {
        Reserving.RefuseWithoutRest(change.Db, planId, changed);
        Reserving.Release(change, planId, PlanState.Replaced);
        var id = Reserving.Enter(change, rest, planId, again: true);
        var taken = Reserving.Reserve(change, id);
        change.Summary = $"{PlanNumber.Format(id)} does the rest of {PlanNumber.Format(planId)} and reserves {taken} pieces of the rack";
        return id;
    });

    /// <summary>Of a piece that a plan has reserved: why the plan can no longer be cut from it; null when it can, or when nothing reserved it.</summary>
    public string? MisfitOf(string mark) => database.Read(db =>
    {
        var stored = PieceRows.Find(db, mark);
        if (stored.Piece.ReservedFor is not { } plan)
        {
            return null;
        }

        // Its own layout; of a piece that came for the plan every layout of such stock.
        var open = PlanRows.Layouts(db, plan).Where(layout => layout.Open > 0).ToList();
        var own = open.Where(layout => layout.PieceId == stored.Id).ToList();
        var bought = Purchases.Of(db, plan).Find(purchase => Purchases.InHand(db, plan, purchase).Exists(piece => piece.Id == stored.Id))?.Stock.Id;
        return (own.Count > 0 ? own : open.Where(layout => layout.PieceId is null && layout.Blueprint.Stock.Id == bought))
            .Select(layout => Cutting.Misfit(stored.Piece, layout)).FirstOrDefault(misfit => misfit is not null);
    });

    /// <summary>Enters that a plan's order to one supplier was given; entered once more, day and confirmation are changed.</summary>
    /// <exception cref="RackException">The plan buys nothing from such a supplier, or the name fits more than one.</exception>
    public OrderGiven Order(OrderEntry entry) => database.Write("order", change =>
    {
        var order = OrdersGiven.Book(change, entry, database.Today);
        change.Summary = $"ordered from {(order.Supplier.Length == 0 ? "a supplier without a name" : order.Supplier)} for {PlanNumber.Format(entry.PlanId)}{(order.Confirmation.Length == 0 ? "" : $", confirmed as {order.Confirmation}")}";
        return order;
    });

    /// <summary>What is still to make of a plan.</summary>
    public ImmutableArray<PartProgress> Remaining(long planId) => database.Read(db =>
    {
        PlanRows.StateOf(db, planId);
        return PlanRows.Parts(db, planId).Where(part => part.Missing > 0).ToImmutableArray();
    });

    /// <summary>What a job, changed or not, still needs of what a plan was to make.</summary>
    public ImmutableArray<PartAgainst> Against(long planId, Job job) => database.Read(db =>
    {
        PlanRows.StateOf(db, planId);
        return ChangeOrder.Of(db, planId, job);
    });

    /// <summary>A plan with its layouts and parts.</summary>
    public PlanRecord Plan(long planId) => database.Read(db => PlanRows.Plan(db, planId));

    /// <summary>All plans, oldest first, without layouts and parts.</summary>
    public ImmutableArray<PlanRecord> Plans() => database.Read(db => PlanRows.All(db).ToImmutableArray());

    /// <summary>The job that makes only what a change order still needs.</summary>
    public static Job RestOf(Job job, IReadOnlyCollection<PartAgainst> against) =>
        RestOf(job, [.. against.Select(part => new PartProgress(part.PartId, part.Now, part.Serving))]);

    /// <summary>The job that makes only what is missing: same rules and saws, demand as it remains, batch of one, no spares; pieces that
    /// a supplier cuts for parts already made are left out.</summary>
    public static Job RestOf(Job job, IReadOnlyCollection<PartProgress> remaining)
    {
        var parts = job.Parts
            .Select(part => part with
            {
                Quantity = remaining.FirstOrDefault(progress => string.Equals(progress.PartId, part.Id, StringComparison.OrdinalIgnoreCase))?.Missing ?? 0,
                Extra = 0,
                ExtraPercent = 0,
            })
            .Where(part => part.Quantity > 0)
            .ToImmutableArray();
        return job with
        {
            Batch = 1,
            Parts = parts,
            Stocks = [.. job.Stocks.Where(stock => stock.CutFor is not { } id || parts.Any(part => string.Equals(part.Id, id, StringComparison.Ordinal)))],
        };
    }
}
