using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Output.Sheets;

/// <summary>Steps in words: the same on paper, on the tablet page and in the files.</summary>
internal sealed class StepText(SheetContext context, Layout layout)
{
    private readonly Stock _stock = context.Plan.StockOf(layout);
    private readonly Saw _saw = context.Plan.SawOf(layout);

    // Of a saw whose clamp is not described: a vise holds from 50 mm on (common practice, no source).
    private static readonly Length CommonHold = Length.FromMillimetres(50);

    public string OnSaw(CutStep step)
    {
        var piece = step.OnSaw;
        return $"{Name(piece)}, {context.SizeOf(piece.Area, _stock)}";
    }

    /// <summary>What is on the saw in a row: one piece of metal, or the letters of several strips.</summary>
    public string OnSaw(StepRow row) => row.InStrips
        ? Strips(row.Steps.Select(step => step.OnSaw), row.First.OnSaw)
        : OnSaw(row.First);

    /// <summary>What has to be done with the metal first; empty when nothing.</summary>
    public string Handling(CutStep step)
    {
        var notes = new List<string>();
        if (!step.StillOnSaw && step.OnSaw.Kind != WorkKind.Stock)
        {
            notes.Add(context.Texts.FetchFromPile);
        }

        if (step.Turn)
        {
            notes.Add(context.Texts.TurnFirst);
        }

        return string.Join(", ", notes);
    }

    public string Direction(CutStep step) => step.Purpose == CutPurpose.Trim
        ? $"{Word(step)} ({context.Texts.TrimCut})"
        : Word(step);

    public string Setting(CutStep step) => context.Setting(step.Measure);

    /// <summary>The setting without and the rounding error alone (empty when exact): large and small print.</summary>
    public (string Shown, string Error) SettingParts(CutStep step)
    {
        var whole = Setting(step);
        var shown = context.Length(step.Measure);
        return whole.StartsWith(shown, StringComparison.Ordinal) ? (shown, whole[shown.Length..].Trim()) : (whole, "");
    }

    public string Against(CutStep step)
    {
        var edge = step.Against switch
        {
            Edge.Left => context.Texts.EdgeLeft,
            Edge.Right => context.Texts.EdgeRight,
            Edge.Bottom => context.Texts.EdgeBottom,
            _ => context.Texts.EdgeTop,
        };
        return SheetContext.Fill(step.Marked ? context.Texts.FromEnd : _stock.Form.IsBar() ? context.Texts.AgainstStop : context.Texts.Against, edge);
    }

    public string SettingNote(CutStep step) => step.Marked
        ? step.BlankClamped ? $"{context.Texts.MarkIt}; {context.Texts.ClampBlank}" : context.Texts.MarkIt
        : step.NewSetting
            ? SheetContext.Fill(context.Texts.NewSetting, step.Setting)
            : context.Texts.SameSetting;

    /// <summary>What is narrower than the clamp must not be caught between stop and blade; empty when it is not.</summary>
    public string Narrow(CutStep step) => step.Marked || step.Measure >= (_saw.ShortestHeld > Length.Zero ? _saw.ShortestHeld : CommonHold)
        ? ""
        : _stock.Form.IsBar() ? context.Texts.NarrowBar : context.Texts.NarrowPlate;

    /// <summary>What comes off, one line each.</summary>
    public IEnumerable<string> Off(StepRow row)
    {
        var times = row.Steps.Count > 1 ? SheetContext.Fill(context.Texts.Times, row.Steps.Count) + " " : "";
        var off = 0;
        foreach (var piece in row.Last.Yields)
        {
            if (piece.To == Destination.Saw)
            {
                yield return One(piece);
                continue;
            }

            var place = off++;
            yield return piece.Kind == WorkKind.Strip && row.Steps.Count > 1
                ? Strips(row.Steps.Select(step => StepRow.Off(step).ElementAt(place)), piece) + " → " + context.Texts.ToPile
                : times + One(piece);
        }
    }

    private string Strips(IEnumerable<Workpiece> strips, Workpiece one) =>
        SheetContext.Fill(context.Texts.StripsEach, string.Join(", ", strips.Select(Letter)), context.SizeOf(one.Area, _stock));

    private string One(Workpiece piece) => piece.Kind switch
    {
        WorkKind.Piece => $"{SheetContext.Fill(context.Texts.PartNumber, context.Number(piece.PartId))} {piece.PartId}  {context.SizeOf(layout.Pieces[piece.Index], _stock)} → {context.Texts.ToBlanks}",
        WorkKind.Remnant => $"{context.SizeOf(piece.Area, _stock)} → {SheetContext.Fill(context.Texts.ToRack, SheetContext.KeepMark(layout, piece.Index))}",
        WorkKind.Scrap => (piece.Index < 0 ? context.Texts.TrimOff : context.SizeOf(piece.Area, _stock)) + " → " + context.Texts.ToBin,
        _ => Name(piece) + $" {context.SizeOf(piece.Area, _stock)} → "
            + (piece.To == Destination.Saw ? context.Texts.ToSaw : context.Texts.ToPile),
    };

    // The sequencer names strips in English, "strip B": the word is the table's, the letter stays.
    private string Name(Workpiece piece) => piece.Kind == WorkKind.Stock
        ? context.FormOf(_stock)
        : piece.Kind == WorkKind.Strip ? $"{context.Texts.Strip} {Letter(piece)}" : piece.Name;

    private static string Letter(Workpiece strip) => strip.Name[(strip.Name.IndexOf(' ', StringComparison.Ordinal) + 1)..];

    private string Word(CutStep step) =>
        step.Direction == CutDirection.Rip ? context.Texts.Rip : context.Texts.Crosscut;
}
