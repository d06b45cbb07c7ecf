using System.Globalization;
using Nest.Core.Plans;
using Nest.Output.Folders;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Desk.Model;

/// <summary>A line of an order on the rack: what was bought, what came of it.</summary>
/// <param name="Marks">Of the pieces that are on the rack for the plan.</param>
internal sealed record OrderLineView(string Item, string What, int Count, string Cost, int Came, int ToCome, IReadOnlyList<string> Marks);

/// <summary>The life of a plan's orders, as <c>nest reserve</c>, <c>ordered</c> and <c>receive</c> book it: one transaction of the rack for each.</summary>
internal sealed class OrderRoom(Shop shop, SawBook book, RackRoom rack, TimeProvider time)
{
    /// <summary>The signed plan on the rack; null: it is not there. Why it cannot be known is told.</summary>
    public (PlanRecord? Record, string Problem) Find(Plan plan)
    {
        try
        {
            return (book.OnRack(plan), "");
        }
        catch (RackException refused)
        {
            return (null, RackRoom.Words(refused));
        }
    }

    /// <summary>The lines of an order with what came of them.</summary>
    public static IReadOnlyList<OrderLineView> Lines(Plan plan, Order order, PlanRecord? record) => [.. order.Lines.Select(line =>
    {
        var bought = record?.Purchases.FirstOrDefault(purchase => purchase.StockId == line.StockId);
        return new OrderLineView(line.StockId, OrderView.What(plan, line), line.Count, OrderView.Amount(line.Cost), bought?.Came ?? 0, bought?.ToCome ?? 0, bought is null ? [] : bought.InHand);
    })];

    /// <summary>Enters a signed plan on the rack; its leftovers are its own then.</summary>
    /// <returns>What was done, or why not.</returns>
    public string Reserve(JobFolder folder, Plan plan) => Do(store =>
    {
        rack.TellUnit(store, plan.Job.Unit);
        var number = PlanNumber.Format(store.Reserve(plan));
        InUse.Add(folder.Output, string.Create(CultureInfo.InvariantCulture, $"{time.GetLocalNow():yyyy-MM-dd} reserved as {number} on {store.Path}"));
        return "";
    });

    /// <summary>Enters that an order was given; a plan that is not on the rack is entered there first.</summary>
    /// <returns>What was done, or why not.</returns>
    public string Ordered(JobFolder folder, Plan plan, string supplier, string day, string confirmation)
    {
        if (!DateOnly.TryParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var on))
        {
            return "Give the day of the order.";
        }

        var (record, problem) = Find(plan);
        if (problem.Length == 0 && record is null)
        {
            problem = Reserve(folder, plan);
            record = Find(plan).Record;
        }

        return problem.Length > 0 || record is null ? problem : Do(store =>
        {
            store.Order(new() { PlanId = record.Id, Supplier = supplier, Day = on, Confirmation = confirmation });
            return $"{store.History(1)[0].Summary}.";
        });
    }

    /// <summary>Enters what came of one line, as the delivery note has it.</summary>
    /// <returns>What was done and the marks to paint, or why not.</returns>
    public string Came(PlanRecord record, string item, int count, string heat, string certificate, string place) => Do(store =>
    {
        var came = store.Receive(new() { PlanId = record.Id, Items = [item], Count = count, Heat = heat.Trim(), Certificate = certificate.Trim(), Place = place.Trim() });
        var ready = string.Concat(came.Ready.Select(part => string.Create(CultureInfo.InvariantCulture, $"{part.Count} × {part.PartId} came cut to size: nothing is left to saw. ")));
        return ready + (came.Pieces.IsEmpty ? "" : $"{item}: paint {string.Join(", ", came.Pieces.Select(one => one.Piece.Mark + (one.Kept ? "" : " (free: the plan does not cut it)")))}.");
    });

    /// <summary>Whether a plan on the rack may be given up.</summary>
    public static bool MayGiveUp(PlanRecord record) => record.State is PlanState.Planned or PlanState.Reserved or PlanState.Cutting or PlanState.Incomplete;

    /// <summary>Gives a plan up, as <c>nest cancel</c> does: what it reserved and did not cut is free again.</summary>
    /// <returns>What was done and how it is taken back, or why not.</returns>
    public string GiveUp(PlanRecord record) => Do(store =>
    {
        var freed = store.Cancel(record.Id);
        var change = store.History(1)[0].Id;
        var toCome = record.Purchases.Any(purchase => purchase.ToCome > 0) ? $" It was to buy {RackedJob.ToCome(record)} that did not come: call off what is ordered." : "";
        return string.Create(CultureInfo.InvariantCulture, $"{record.Number} is given up; {freed} {(freed == 1 ? "piece of the rack is" : "pieces of the rack are")} free again.{toCome} To take it back: {DeskTexts.Rack}, {DeskTexts.History}, {DeskTexts.Undo} {change}.");
    });

    private string Do(Func<RackStore, string> work)
    {
        try
        {
            using var store = RackStore.Open(shop.RackFile, new() { Clock = time });
            return work(store);
        }
        catch (RackException refused)
        {
            return RackRoom.Words(refused);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return fault.Message;
        }
    }
}
