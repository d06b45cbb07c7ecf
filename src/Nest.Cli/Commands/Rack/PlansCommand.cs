using System.CommandLine;
using System.Globalization;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest plans</c>: all plans of the rack, or how far one of them is.</summary>
internal static class PlansCommand
{
    public static Command Create(RackAccess access)
    {
        var plan = new Argument<string?>("plan") { Description = "A plan's number; none: all plans.", Arity = ArgumentArity.ZeroOrOne };
        var command = new Command("plans", "Show plans: planned, reserved, cut, what is missing.") { plan };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            if (parsed.GetValue(plan) is not { } number)
            {
                RackText.Table(
                    access.World.Out,
                    ["plan", "job", "state", "since", "does the rest of"],
                    [.. store.Plans().Select(one => new[]
                    {
                        one.Number, one.Name, RackText.Plan(one.State), RackText.Day(one.Created), one.Continues is { } first ? PlanNumber.Format(first) : "",
                    })]);
                return ExitCode.Done;
            }

            var record = store.Plan(FilterOptions.PlanId(number));
            access.Say($"{record.Number} {record.Name}: {RackText.Plan(record.State)}");
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

            access.Say("");
            RackText.Table(
                access.World.Out,
                ["part", "wanted", "made", "missing"],
                [.. record.Parts.Select(part => new[] { part.PartId, Text(part.Wanted), Text(part.Made), Text(part.Missing) })]);
            return ExitCode.Done;
        }));
        return command;

        static string Text(int value) => value.ToString(CultureInfo.InvariantCulture);
    }
}
