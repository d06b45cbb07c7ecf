using System.CommandLine;
using System.Globalization;
using Nest.Core.Quantities;
using Nest.Rack.Plans;

namespace Nest.Cli.Commands.Rack;

/// <summary><c>nest receive</c>: what came of what a plan buys.</summary>
internal static class ReceiveCommand
{
    public static void Fill(Command command, RackAccess access)
    {
        var plan = new Argument<string>("plan") { Description = "The plan's number: P7." };
        var layouts = new Argument<string[]>("what") { Description = "Only the stock of these layouts (numbers), or these items by the number on the delivery note; none: all that is still to come.", Arity = ArgumentArity.ZeroOrMore };
        var supplier = new Option<string>("--supplier") { Description = "Only from this supplier, or how its name begins.", DefaultValueFactory = _ => "", HelpName = "NAME" };
        var material = new Option<string>("--material") { Description = "Only of this material.", DefaultValueFactory = _ => "", HelpName = "NAME" };
        var count = new Option<int?>("--count", "-n") { Description = "So many pieces of one stock. Default: all that are still to come.", HelpName = "N" };
        var heat = new Option<string>("--heat") { Description = "Heat number. It can be told later with 'nest rack adjust'.", DefaultValueFactory = _ => "", HelpName = "NUMBER" };
        var certificate = new Option<string>("--certificate") { Description = "Reference of the certificate.", DefaultValueFactory = _ => "", HelpName = "REF" };
        var place = new Option<string>("--place") { Description = "Where they stand; 'on its way' serves too.", DefaultValueFactory = _ => "", HelpName = "PLACE" };
        command.With(plan, layouts, supplier, material, count, heat, certificate, place);
        command.SetAction(parsed => access.Run(parsed, false, store =>
        {
            // An item may be called by a number too: it is one where the plan buys such an item, else a layout.
            var id = FilterOptions.PlanId(parsed.GetRequiredValue(plan));
            var bought = store.Plan(id).Purchases.Select(purchase => purchase.StockId).ToHashSet(StringComparer.OrdinalIgnoreCase);
            var (numbers, items) = (new List<int>(), new List<string>());
            foreach (var what in parsed.GetValue(layouts) ?? [])
            {
                if (!bought.Contains(what) && int.TryParse(what, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
                {
                    numbers.Add(number);
                }
                else
                {
                    items.Add(what.Trim());
                }
            }

            var received = store.Receive(new ReceiveEntry
            {
                PlanId = id,
                Layouts = [.. numbers],
                Items = [.. items],
                Material = parsed.GetValue(material)!.Trim(),
                Supplier = parsed.GetValue(supplier)!.Trim(),
                Count = parsed.GetValue(count),
                Heat = parsed.GetValue(heat)!.Trim(),
                Certificate = parsed.GetValue(certificate)!.Trim(),
                Place = parsed.GetValue(place)!.Trim(),
            });
            if (store.Plan(FilterOptions.PlanId(parsed.GetRequiredValue(plan))) is { State: PlanState.Replaced or PlanState.Cancelled } over)
            {
                var next = store.Plans().LastOrDefault(one => one.Continues == over.Id) is { } last ? store.Plan(last.Id) : null;
                var twice = next?.Purchases.Where(purchase => purchase.ToCome > 0 && received.Pieces.Any(one => one.StockId == purchase.StockId)).ToList() ?? [];
                access.World.Error.WriteLine($"note: {over.Number} is {RackText.Plan(over.State)}, so what came is free"
                    + (twice.Count == 0 ? "" : $"; {next!.Number} is to buy {string.Join(", ", twice.Select(purchase => $"{purchase.ToCome} × {purchase.StockId}"))} too: if that is the same delivery, undo this and enter it with 'nest receive {next.Number}{RackAccess.Named(store)}'"));
            }

            var format = access.Format(parsed);
            foreach (var part in received.Ready)
            {
                access.Say(string.Create(CultureInfo.InvariantCulture, $"{part.Count} × {part.PartId}: came cut to size, so made"));
            }

            if (received.Pieces.IsEmpty)
            {
                access.Changed(store, store.History(1)[0].Summary);
                return ExitCode.Done;
            }

            RackText.Table(
                access.World.Out,
                ["paint", "on", "material", "for layout"],
                [.. received.Pieces.Select(one => new[]
                {
                    one.Piece.Mark, $"{RackText.FormName(one.Piece)} {RackText.Size(one.Piece, format)}", one.Piece.MaterialId,
                    one.Kept ? string.Join(" or ", one.Layouts.Select(number => number.ToString(CultureInfo.InvariantCulture))) : "free: the plan does not cut it",
                })]);
            access.World.Error.WriteLine($"labels: nest rack labels labels.pdf {string.Join(' ', received.Pieces.Select(one => one.Piece.Mark))}{RackAccess.Named(store)}");
            access.Changed(store, $"received {RackText.Count(received.Pieces.Length, "piece")}, {MassText.Format(received.Pieces.Aggregate(Mass.Zero, (sum, one) => sum + one.Piece.Mass), format.Unit)}");
            return ExitCode.Done;
        }));
    }
}
