using System.CommandLine;
using System.Globalization;
using Nest.Rack;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest plans</c>: all plans of the rack, or how far one of them is.</summary>
internal static class PlansCommand
{
    public static void Fill(Command command, RackAccess access)
    {
        var plan = new Argument<string?>("plan") { Description = "A plan's number; none: all plans.", Arity = ArgumentArity.ZeroOrOne };
        command.With(plan);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            if (parsed.GetValue(plan) is not { } number)
            {
                RackText.Table(
                    access.World.Out,
                    ["plan", "job", "state", "made", "of", "to come", "since", "does the rest of"],
                    [.. store.Plans().Select(one => store.Plan(one.Id)).Select(one => new[]
                    {
                        one.Number, one.Name, RackText.Plan(one.State), Text(one.Parts.Sum(part => Math.Min(part.Made, part.Wanted))), Text(one.Parts.Sum(part => part.Wanted)),
                        one.State is PlanState.Reserved or PlanState.Cutting ? Text(one.Purchases.Sum(purchase => purchase.ToCome)) : "",
                        RackText.Day(one.Created), one.Continues is { } first ? PlanNumber.Format(first) : "",
                    })]);
                return ExitCode.Done;
            }

            var record = store.Plan(FilterOptions.PlanId(number));
            var rests = Rests(store, record.Id);
            access.Say($"{record.Number} {record.Name}: {RackText.Plan(record.State)}"
                + (record.Continues is { } before ? $", does the rest of {PlanNumber.Format(before)}" : "")
                + (rests.Count == 0 ? "" : $", its rest is done by {string.Join(", then ", rests.Select(rest => rest.Number))}"));
            RackText.Table(
                access.World.Out,
                ["layout", "stock", "mark", "count", "cut", "lost", "open"],
                [.. record.Layouts.Select(layout => new[]
                {
                    Text(layout.Number), layout.StockId, layout.Mark ?? "-", Text(layout.Count), Text(layout.Cut), Text(layout.Lost), Text(layout.Open),
                })]);
            if (!record.Purchases.IsEmpty)
            {
                access.Say("");
                RackText.Table(
                    access.World.Out,
                    ["to buy", "count", "came", "to come", "kept on the rack", "supplier"],
                    [.. record.Purchases.Select(purchase => new[]
                    {
                        purchase.StockId, Text(purchase.Wanted), Text(purchase.Came), Text(purchase.ToCome), string.Join(' ', purchase.InHand), purchase.Supplier,
                    })]);
            }

            foreach (var order in record.Orders)
            {
                access.Say(string.Create(CultureInfo.InvariantCulture, $"ordered from {order.Supplier} on {order.Day:yyyy-MM-dd}{(order.Confirmation.Length == 0 ? ", not confirmed yet" : ", confirmed as " + order.Confirmation)}"));
            }

            access.Say("");
            if (rests.Count == 0)
            {
                RackText.Table(
                    access.World.Out,
                    ["part", "wanted", "made", "missing"],
                    [.. record.Parts.Select(part => new[] { part.PartId, Text(part.Wanted), Text(part.Made), Text(part.Missing) })]);
                return ExitCode.Done;
            }

            RackText.Table(
                access.World.Out,
                ["part", "wanted", "made", "made since", "missing"],
                [.. record.Parts.Select(part => (Part: part, Since: rests.SelectMany(rest => rest.Parts)
                        .Where(other => string.Equals(other.PartId, part.PartId, StringComparison.OrdinalIgnoreCase)).Sum(other => other.Made)))
                    .Select(row => new[]
                    {
                        row.Part.PartId, Text(row.Part.Wanted), Text(row.Part.Made), Text(row.Since), Text(rests[^1].Parts.FirstOrDefault(other => string.Equals(other.PartId, row.Part.PartId, StringComparison.OrdinalIgnoreCase))?.Missing ?? 0),
                    })]);
            return ExitCode.Done;
        }));

        // The plans that went on with it, one after the other.
        static List<PlanRecord> Rests(RackStore store, long id)
        {
            var plans = store.Plans();
            var rests = new List<PlanRecord>();
            while (plans.LastOrDefault(plan => plan.Continues == id) is { } next)
            {
                rests.Add(store.Plan(next.Id));
                id = next.Id;
            }

            return rests;
        }

        static string Text(int value) => value.ToString(CultureInfo.InvariantCulture);
    }
}
