using System.CommandLine;
using System.Globalization;
using Nest.Core.Quantities;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest receive</c>: what came of what a plan buys.</summary>
internal static class ReceiveCommand
{
    public static Command Create(RackAccess access)
    {
        var plan = new Argument<string>("plan") { Description = "The plan's number: P7." };
        var layouts = new Argument<int[]>("layouts") { Description = "Only the stock of these layouts; none: all that is still to come.", Arity = ArgumentArity.ZeroOrMore };
        var supplier = new Option<string>("--supplier") { Description = "Only from this supplier, or how its name begins.", DefaultValueFactory = _ => "", HelpName = "NAME" };
        var count = new Option<int?>("--count", "-n") { Description = "So many pieces of one stock. Default: all that are still to come.", HelpName = "N" };
        var heat = new Option<string>("--heat") { Description = "Heat number. It can be told later with 'nest rack adjust'.", DefaultValueFactory = _ => "", HelpName = "NUMBER" };
        var certificate = new Option<string>("--certificate") { Description = "Reference of the certificate.", DefaultValueFactory = _ => "", HelpName = "REF" };
        var place = new Option<string>("--place") { Description = "Where they stand; 'on its way' serves too.", DefaultValueFactory = _ => "", HelpName = "PLACE" };
        var command = new Command("receive", "Enter what came of what a plan buys: each piece gets its mark and is kept for the plan.")
        {
            plan, layouts, supplier, count, heat, certificate, place,
        };
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            var received = store.Receive(new ReceiveEntry
            {
                PlanId = FilterOptions.PlanId(parsed.GetRequiredValue(plan)),
                Layouts = [.. parsed.GetValue(layouts) ?? []],
                Supplier = parsed.GetValue(supplier)!.Trim(),
                Count = parsed.GetValue(count),
                Heat = parsed.GetValue(heat)!.Trim(),
                Certificate = parsed.GetValue(certificate)!.Trim(),
                Place = parsed.GetValue(place)!.Trim(),
            });
            var format = access.Format(parsed);
            RackText.Table(
                access.World.Out,
                ["paint", "on", "material", "for layout"],
                [.. received.Select(one => new[]
                {
                    one.Piece.Mark, $"{RackText.FormName(one.Piece)} {RackText.Size(one.Piece, format)}", one.Piece.MaterialId,
                    one.Kept ? string.Join(" or ", one.Layouts.Select(number => number.ToString(CultureInfo.InvariantCulture))) : "free: the plan does not cut it",
                })]);
            access.World.Error.WriteLine($"labels: nest rack labels labels.pdf {string.Join(' ', received.Select(one => one.Piece.Mark))}");
            access.Changed(store, $"received {RackText.Count(received.Length, "piece")}, {access.Kilograms(received.Sum(one => one.Piece.Micrograms))}");
            return ExitCode.Done;
        }));
        return command;
    }

    /// <summary><c>17 pieces (1 × H-plate-6082-8, …)</c>: what is still to come.</summary>
    public static string ToCome(PlanRecord plan)
    {
        var open = plan.Purchases.Where(purchase => purchase.ToCome > 0).ToList();
        return $"{RackText.Count(open.Sum(purchase => purchase.ToCome), "piece")} ({string.Join(", ", open.Select(purchase => $"{purchase.ToCome} × {purchase.StockId}"))})";
    }
}
