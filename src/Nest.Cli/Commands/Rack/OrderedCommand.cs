using System.CommandLine;
using System.Globalization;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest ordered</c>: that an order of a plan was given.</summary>
internal static class OrderedCommand
{
    public static void Fill(Command command, RackAccess access)
    {
        var plan = new Argument<string>("plan") { Description = "The plan's number: P7." };
        var supplier = new Option<string>("--supplier") { Description = "The supplier, or how its name begins. Default: the plan's only one.", DefaultValueFactory = _ => "", HelpName = "NAME" };
        var day = new Option<string>("--day") { Description = "Day of the order as 2026-11-28. Default: today.", DefaultValueFactory = _ => "", HelpName = "DAY" };
        var confirmation = new Option<string>("--confirmation") { Description = "The supplier's reference. It can be told later, by the same command.", DefaultValueFactory = _ => "", HelpName = "REF" };
        command.With(plan, supplier, day, confirmation);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            DateOnly? on = null;
            if (parsed.GetValue(day)!.Trim() is { Length: > 0 } text)
            {
                if (!DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var read))
                {
                    return access.Refuse($"'{text}' is no day", "write it as 2026-11-28");
                }

                on = read;
            }

            store.Order(new OrderEntry { PlanId = FilterOptions.PlanId(parsed.GetRequiredValue(plan)), Supplier = parsed.GetValue(supplier)!, Day = on, Confirmation = parsed.GetValue(confirmation)! });
            access.Changed(store, store.History(1)[0].Summary);
            return ExitCode.Done;
        }));
    }
}
