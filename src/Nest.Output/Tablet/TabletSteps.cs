using Nest.Core.Costing;
using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Output.Sheets;

namespace Nest.Output.Tablet;

/// <summary>The steps of a plan for the tablet page, in the words of the cut sheet.</summary>
internal sealed class TabletSteps(SheetContext context)
{
    /// <summary>Cautions of one screen: more do not fit a phone.</summary>
    private const int CautionsOnAScreen = 3;

    public IEnumerable<TabletStep> Cautions() => Sheets.Cautions.Of(context).Chunk(CautionsOnAScreen)
        .Select((lines, at) => new TabletStep { Id = $"read-{at}", Lines = lines });

    /// <summary>What to fetch, one line of stock a screen.</summary>
    public IEnumerable<TabletStep> Stock(IReadOnlyList<BuyLine> lines, string id) => lines.Select((line, at) =>
    {
        var stock = line.Stock;
        var name = stock.IsLeftover ? stock.RackMark + (stock.Place is null ? "" : $" ({stock.Place})") : stock.Id + (stock.Supplier is null ? "" : $", {stock.Supplier}");
        var notes = new List<string>();
        if (line.Mass > context.Job.LiftLimit)
        {
            notes.Add("▲ " + context.Texts.Lift);
        }

        if (Sheets.Cautions.IsLong(context.Job, stock))
        {
            notes.Add(context.Texts.LongBar);
        }

        return new TabletStep
        {
            Id = $"{id}-{at}", Count = line.Count, Each = line.Count, Kind = $"{SheetContext.Fill(context.Texts.Times, line.Count)} {context.FormOf(stock)} {stock.MaterialId}",
            Figure = TabletStep.E(context.SizeOf(stock)), Notes = notes, Lines = [name, context.MassOf(line.Mass)],
        };
    });

    /// <summary>The steps of a layout: what to change on the saw, its cuts, its offcuts, and the last look at what came off.</summary>
    public IEnumerable<TabletStep> Of(WorkItem item)
    {
        var layout = context.Plan.Layouts.First(one => one.Number == item.Layout);
        var stock = context.Plan.StockOf(layout);
        if (item.ChangesMaterial)
        {
            yield return new() { Id = $"l{layout.Number}-change", Notes = [SheetContext.Fill(context.Texts.ChangeMaterial, stock.MaterialId)] };
        }

        var words = new StepText(context, layout, item.StillFrom);
        foreach (var row in StepRow.Of(item.Sequence))
        {
            yield return Cut(item, words, row);
        }

        var angled = new AngledText(context);
        foreach (var cut in item.Sequence.AngledCuts)
        {
            yield return new()
            {
                Id = $"l{layout.Number}-{cut.Number}", Count = cut.Pieces * layout.Count, Each = cut.Pieces, Kind = angled.Part(cut), Fresh = cut.NewSetting, Digits = true,
                Figure = TabletStep.DigitsOf(context.Length(cut.Measure, false), context.Lengths.UnitName, ""),
                Beside = [angled.Saw(cut), angled.Setting(cut)], Lines = [angled.End(cut), angled.Against(cut)],
            };
        }

        foreach (var outline in item.Sequence.Outlines)
        {
            var piece = layout.Pieces[outline.Index];
            yield return new()
            {
                Id = $"l{layout.Number}-{outline.Number}", Count = item.Stacks, Cuts = (outline.Number, outline.Number), Figure = TabletStep.E(context.SizeOf(piece, stock)),
                Kind = $"{SheetContext.Fill(context.Texts.PartNumber, context.Number(piece.PartId))} {piece.PartId}{(piece.Spare ? ", " + context.Texts.Spare : "")}",
                Lines = [SheetContext.Fill(context.Texts.PositionOf, context.Length(outline.Area.X - layout.MeasuredFrom.X), context.Length(outline.Area.Y - layout.MeasuredFrom.Y))],
            };
        }

        // Counted first: the rack then knows the mark that is written on the rest.
        yield return Finished(layout, stock);
        foreach (var (mark, offcut, _) in SheetContext.Kept(layout))
        {
            yield return new()
            {
                Id = $"o{mark}", Count = layout.Count, Keep = mark, Kind = $"{context.FormOf(stock)} {stock.MaterialId}, {OffcutSheet.SizeOf(context, stock, offcut.Area)}",
                Figure = TabletStep.E(SheetContext.Fill(context.Texts.Keep, mark)), Lines = [context.Texts.OffcutsHint],
            };
        }
    }

    private TabletStep Finished(Layout layout, Stock stock)
    {
        var texts = context.Texts;
        var bar = stock.Form.IsBar();
        var parts = layout.Pieces.GroupBy(piece => (piece.PartId, piece.Spare, Size: context.SizeOf(piece, stock)))
            .Select(group => SheetContext.Fill(texts.Times, group.Count()) + $" {SheetContext.Fill(texts.PartNumber, context.Number(group.Key.PartId))} {group.Key.PartId}{(group.Key.Spare ? ", " + texts.Spare : "")}  {group.Key.Size}").ToArray();
        var shown = parts.Length <= 8 ? parts : [.. parts.Take(7), SheetContext.Fill(texts.TabletMoreParts, parts.Length - 7)];
        return new()
        {
            Id = TabletServed.FinishedId(layout.Number), Count = layout.Count, Figure = TabletStep.E(SheetContext.Fill(texts.TabletFinished, layout.Number)),
            Kind = bar ? texts.TabletCountBar : texts.TabletCountPlate, Lines = shown,
        };
    }

    private TabletStep Cut(WorkItem item, StepText words, StepRow row)
    {
        var first = row.First;
        var (_, error) = words.SettingParts(first);
        var direction = words.Direction(first);
        var handling = words.Handling(first);
        var fresh = words.IsSet(first) || first.Marked;
        return new()
        {
            Id = $"l{item.Layout}-{first.Number}", Count = row.Steps.Count * item.Stacks, Each = row.Steps.Count, Cuts = (first.Number, row.Last.Number), Fresh = fresh, Digits = true,
            Kind = string.Join(" · ", new[] { direction, words.OnSaw(row) }.Where(text => text.Length > 0)),
            Figure = TabletStep.DigitsOf(context.Length(first.Measure, false), context.Lengths.UnitName, error),
            Beside = [(fresh && !first.Marked ? "► " : "") + words.SettingNote(first), words.Against(first)],
            Notes = [handling, .. words.Cautions(first)], Lines = [.. words.Off(row)],
        };
    }
}
