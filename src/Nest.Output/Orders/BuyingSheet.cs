using Nest.Core.Blanks;
using Nest.Core.Plans;
using Nest.Core.Quantities;
using Nest.Output.Fonts;
using Nest.Output.Scenes;
using Nest.Output.Sheets;

namespace Nest.Output.Orders;

/// <summary>What to order from whom, and why: for the one who buys. The sheets that are sent to the suppliers are
/// <see cref="OrderSheet"/>s.</summary>
/// <remarks>First the orders a line each with what is paid, then the owner's rules, then each order's lines, then what comes from the rack and what stays
/// there though it would fit, then cost by part.</remarks>
internal sealed class BuyingSheet
{
    private readonly SheetContext _context;
    private readonly SheetPages _pages;
    private double _y;

    private BuyingSheet(SheetContext context, Paper paper)
    {
        _context = context;
        _pages = new(context, paper);
        _y = _pages.Start(SheetContext.Fill(context.Texts.BuyingTitle, context.Job.Name)) + 1;
    }

    private Texts.SheetTexts Texts => _context.Texts;

    public static List<Scene> Pages(SheetContext context, Paper paper)
    {
        var sheet = new BuyingSheet(context, paper);
        sheet.Summary();
        sheet.Rules();
        sheet.OneFewer();
        foreach (var order in context.Plan.Orders)
        {
            sheet.Lines(order);
        }

        sheet.FromRack();
        sheet.NotUsed();
        sheet.CostByPart();
        return sheet._pages.Build();
    }

    private void Summary()
    {
        var cash = Cash.Of(_context);
        Column[] columns =
        [
            new(Texts.BuySupplier, _pages.Body.Width - 12 - 20 - 20 - 28 - 22 - 20 - 24, Align.Left, Face.Bold), new(Texts.Lines, 12, Align.Right), new(Texts.BuyMass, 20, Align.Right),
            new(Texts.OrderGoods, 20, Align.Right), new(Texts.DeliveryShare, 28, Align.Right), new(Texts.Total, 22, Align.Right, Face.Bold), new(Texts.Arrives, 20), new(Texts.OrderedOn, 24),
        ];
        var mass = Core.Quantities.Mass.Zero;
        var rows = cash.Orders.Select(entry =>
        {
            var (order, own) = entry;
            var heavy = order.Lines.Aggregate(Core.Quantities.Mass.Zero, (sum, line) => sum + (OrderSheet.Mass(_context, _context.StockOf(line)) * line.Count));
            mass += heavy;
            var share = own.Total == 0m || own.Delivery == 0m ? "" : $", {_context.Options.Numbers.Number(100m * own.Delivery / own.Total, 0)} %";
            return new[]
            {
                OrderSheet.Name(_context, order), SheetContext.Text(order.Lines.Length), _context.MassOf(heavy), Number(own.Goods + own.TopUp), Number(own.Delivery) + share, Number(own.Total),
                PlanScreen.Arrival(_context, order), "",
            };
        }).ToList();
        rows.Add([Texts.Total, SheetContext.Text(_context.Plan.Orders.Sum(order => order.Lines.Length)), _context.MassOf(mass), Number(cash.Orders.Sum(entry => entry.Amounts.Goods + entry.Amounts.TopUp)), Number(cash.Orders.Sum(entry => entry.Amounts.Delivery)), Number(cash.Total), "", ""]);
        _y = Table.Draw(_pages, _y, columns, rows, 3.4, air: 1.5) + 3;
        _y = _pages.Scene.Paragraph(Layer.Page, Cash.PayText(_context), _pages.Body, _y, 4.6, Face.Bold) + 1;
        _y = _pages.Scene.Paragraph(Layer.Page, Cash.DifferenceText(_context), _pages.Body, _y, 3.4) + 1;
        _y = _pages.Scene.Paragraph(Layer.Page, PlanSummary.Standing(_context), _pages.Body, _y, 3.4) + 3;
    }

    private void Rules()
    {
        if (OwnersRules.Of(_context).ToArray() is not { Length: > 0 } rules)
        {
            return;
        }

        Title(Texts.RulesTitle);
        foreach (var rule in rules)
        {
            _y = Say("· " + rule);
        }

        _y += 3;
    }

    /// <summary>Whether a delivery is worth its trouble.</summary>
    private void OneFewer()
    {
        var fewer = SupplierFewer.Of(_context).ToArray();
        if (fewer.Length == 0)
        {
            return;
        }

        Title(Texts.FewerTitle);
        var planned = _context.Options.Without.ToDictionary(one => one.Supplier, StringComparer.Ordinal);
        _y = planned.Values.All(one => one.Plan is null) ? _y : Say(SheetContext.Fill(Texts.FewerNotePlanned, _context.Plan.Bound.Value is { } bound ? _context.Amount(bound) : _context.Amount(Money.Zero)));
        foreach (var one in fewer.Where(one => planned.ContainsKey(one.Supplier)))
        {
            _y = Say("· " + Planned(planned[one.Supplier]));
        }

        var compared = fewer.Where(one => !planned.ContainsKey(one.Supplier)).ToArray();
        _y = compared.Length == 0 ? _y : Say(Texts.FewerNote);
        foreach (var one in compared)
        {
            var name = one.Supplier.Length == 0 ? Texts.OrderNobody : one.Supplier;
            var from = string.Join(", ", one.From.Select(other => other.Length == 0 ? Texts.OrderNobody : other));
            _y = Say("· " + (one.More is { } more
                ? SheetContext.Fill(more < Money.Zero ? Texts.FewerLess : Texts.FewerMore, name, _context.Amount(more < Money.Zero ? Money.Zero - more : more), from)
                : SheetContext.Fill(Texts.FewerMissing, name, one.Missing, one.Lines, _context.Amount(_context.Plan.Orders.First(order => order.Supplier == one.Supplier).Delivery).Replace(' ', '\u00A0'))));
        }

        _y += 3;
    }

    private double Say(string line) => _pages.Paragraph(line, _y, 10, 3.4) + 0.6;

    private string Planned(PlannedWithout one)
    {
        const int Named = 3;
        var supplier = one.Supplier;
        if (one.Plan is not { } without)
        {
            return SheetContext.Fill(Texts.FewerOnlyHis, supplier, string.Join(", ", one.OnlyHis.Take(Named)) + (one.OnlyHis.Length > Named ? SheetContext.Fill(Texts.ReasonMore, one.OnlyHis.Length - Named) : ""));
        }

        var (more, pay) = (without.TotalCost - _context.Plan.TotalCost, Paid(without) - Paid(_context.Plan));
        if (more < Money.Zero)
        {
            return SheetContext.Fill(Texts.FewerPlannedLess, supplier, Amount(Money.Zero - more), _context.Amount(without.TotalCost));
        }

        var days = without.Orders.Select(order => _context.Job.SupplierOf(order.Supplier)?.LeadDays ?? 0).DefaultIfEmpty(0).Max();
        var last = days == 0 ? "" : SheetContext.Fill(Texts.FewerLast, days == 1 ? Texts.InOneDay : SheetContext.Fill(Texts.InDays, days));
        return SheetContext.Fill(Texts.FewerPlanned, supplier, Amount(more), _context.Amount(without.TotalCost), Amount(pay < Money.Zero ? Money.Zero - pay : pay), pay < Money.Zero ? Texts.FewerPayLess : Texts.FewerPayMore, last);

        static Money Paid(Plan plan) => plan.Orders.Aggregate(Money.Zero, (sum, order) => sum + order.Total);

        string Amount(Money money) => $"{_context.Job.Currency} {Number(money.Amount)}";
    }

    private void Lines(Core.Plans.Order order)
    {
        Column[] columns =
        [
            new(Texts.Count, 14, Align.Right, Face.Bold), new(Texts.Stock, 62), new(Texts.OrderEach, 20, Align.Right), new(Texts.Total, 22, Align.Right),
            new(Texts.BuyWhy, _pages.Body.Width - 14 - 62 - 20 - 22),
        ];
        Title(OrderReasons.Title(_context, order));
        _y = Table.Draw(_pages, _y, columns, [.. order.Lines.Select(line => Row(order, line))], 3.2) + 1.5;
        _y = _pages.Scene.Paragraph(Layer.Page, OrderReasons.Sums(_context, order), _pages.Body, _y, 3.4, Face.Bold) + 4;
    }

    private string[] Row(Core.Plans.Order order, OrderLine line)
    {
        var stock = _context.StockOf(line);
        return
        [
            SheetContext.Fill(Texts.Times, line.Count), $"{_context.FormOf(stock)} {stock.MaterialId} {_context.SizeOf(stock)}\n{stock.Id}",
            Number(line.Cost.Amount / line.Count), Number(line.Cost.Amount), string.Join("; ", OrderReasons.Of(_context, order, line)),
        ];
    }

    private void FromRack()
    {
        var taken = Cautions.Lines(_context.Plan).Rack;
        if (taken.Count == 0)
        {
            return;
        }

        Title(Texts.UsedRack);
        _y = Table.Draw(_pages, _y, RackColumns(Texts.BuyWhy), [.. taken.Select(line => new[]
        {
            line.Stock.RackMark ?? "", line.Stock.Place ?? "", $"{_context.FormOf(line.Stock)} {line.Stock.MaterialId} {_context.SizeOf(line.Stock)}", Number(line.Total.Amount),
            string.Join("; ", OrderReasons.ForParts(_context, line.Stock)),
        })], 3.2) + 4;
    }

    /// <summary>The first question of the rack's owner: why is something bought although this piece is there?</summary>
    private void NotUsed()
    {
        const int Most = 12;
        var plan = _context.Plan;
        var used = plan.Layouts.Select(layout => layout.StockId).ToHashSet(StringComparer.Ordinal);
        var blanks = BlankSizer.Size(_context.Job);
        var unused = _context.Job.Stocks.Where(stock => stock.IsLeftover && !used.Contains(stock.Id))
            .Select(stock => (Stock: stock, Parts: blanks.Where(blank => blank.Fits.Any(fit => fit.StockId == stock.Id)).Select(blank => blank.Part.Id).ToList()))
            .Where(entry => entry.Parts.Count > 0).ToList();
        if (unused.Count == 0)
        {
            return;
        }

        Title(Texts.NotUsedTitle);
        var why = plan.Status == SolveStatus.Proven ? Texts.NotUsedProven : Texts.NotUsedTried;
        _y = Table.Draw(_pages, _y, RackColumns(Texts.BuyWhy), [.. unused.Take(Most).Select(entry => new[]
        {
            entry.Stock.RackMark ?? "", entry.Stock.Place ?? "", $"{_context.FormOf(entry.Stock)} {entry.Stock.MaterialId} {_context.SizeOf(entry.Stock)}", Number(entry.Stock.PiecePrice.Amount),
            $"{SheetContext.Fill(Texts.NotUsedFits, string.Join(", ", entry.Parts.Take(3)) + (entry.Parts.Count > 3 ? SheetContext.Fill(Texts.ReasonMore, entry.Parts.Count - 3) : ""))}; {why}",
        })], 3.2) + 1;
        if (unused.Count > Most)
        {
            _y = _pages.Scene.Paragraph(Layer.Page, SheetContext.Fill(Texts.AndMore, unused.Count - Most), _pages.Body, _y, 3.2);
        }

        _y += 3;
    }

    private void CostByPart()
    {
        var plan = _context.Plan;
        if (plan.PartCosts.IsEmpty)
        {
            return;
        }

        Column[] columns =
        [
            new(Texts.CostByPart, _pages.Body.Width - 20 - (5 * 25), Align.Left, Face.Bold), new(Texts.Count, 20, Align.Right), new(Texts.Metal, 25, Align.Right), new(Texts.Saw, 25, Align.Right),
            new(Texts.Facing, 25, Align.Right), new(Texts.Total, 25, Align.Right), new(Texts.PerPiece, 25, Align.Right, Face.Bold),
        ];
        _y = _y + 30 > _pages.Body.Bottom ? _pages.Next() : _y;
        _y = Table.Draw(_pages, _y, columns,
        [
            .. plan.PartCosts.Select(part => new[]
            {
                part.PartId, SheetContext.Text(part.Pieces), Number(part.Metal.Amount), Number(part.Saw.Amount), Number(part.Facing.Amount), Number(part.Total.Amount),
                Number(part.Total.Amount / part.Pieces),
            }),
            .. plan.Job.Together.Select(job => (Job: job, Own: plan.PartCosts.Where(part => job.Owns(part.PartId)).ToList())).Select(one => new[]
            {
                SheetContext.Fill(Texts.JobSets, one.Job.Name, one.Job.Sets), SheetContext.Text(one.Own.Sum(part => part.Pieces)), Number(one.Own.Sum(part => part.Metal.Amount)),
                Number(one.Own.Sum(part => part.Saw.Amount)), Number(one.Own.Sum(part => part.Facing.Amount)), Number(one.Own.Sum(part => part.Total.Amount)), "",
            }),
            [
                Texts.CostPerBatch, SheetContext.Text(plan.PartCosts.Sum(part => part.Pieces)), Sum(part => part.Metal), Sum(part => part.Saw), Sum(part => part.Facing),
                Number(plan.TotalCost.Amount), "",
            ],
        ], 3.2);
        if (SparesText.Of(_context) is { } spares)
        {
            _y = _y + 12 > _pages.Body.Bottom ? _pages.Next() : _y;
            _y = _pages.Scene.Paragraph(Layer.Page, spares, _pages.Body, _y + 2, 3.4) + 1;
        }

        string Sum(Func<PartCost, Money> of) => Number(plan.PartCosts.Sum(part => of(part).Amount));
    }

    private Column[] RackColumns(string last) =>
    [
        new(Texts.Mark, 22, Align.Left, Face.Bold), new(Texts.Place, 26), new(Texts.Stock, 62), new(Texts.RackValue, 20, Align.Right),
        new(last, _pages.Body.Width - 22 - 26 - 62 - 20),
    ];

    private void Title(string title)
    {
        _y = _y + 28 > _pages.Body.Bottom ? _pages.Next() : _y;
        _y = _pages.Scene.Paragraph(Layer.Page, title, _pages.Body, _y + 1, 4.2, Face.Bold) + 1;
    }

    private string Number(decimal amount) => _context.Options.Numbers.Number(amount, 2);
}
