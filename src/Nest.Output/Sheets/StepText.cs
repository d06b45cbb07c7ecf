using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;

namespace Nest.Output.Sheets;

/// <summary>Steps in words: the same on paper, on the tablet page and in the files.</summary>
internal sealed class StepText(SheetContext context, Layout layout)
{
    private readonly Stock _stock = context.Plan.StockOf(layout);
    private readonly Saw _saw = context.Plan.SawOf(layout);

    public string OnSaw(CutStep step)
    {
        var piece = step.OnSaw;
        var name = Name(piece);
        return _stock.Form.IsBar() ? $"{name}, {context.Length(piece.Area.SizeX)}" : $"{name}, {context.Size(piece.Area.SizeX, piece.Area.SizeY)}";
    }

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
        ? context.Texts.MarkIt
        : step.NewSetting
            ? SheetContext.Fill(context.Texts.NewSetting, step.Setting)
            : context.Texts.SameSetting;

    /// <summary>What is narrower than the clamp must not be caught between stop and blade; empty when it is not.</summary>
    public string Narrow(CutStep step) => step.Marked || step.Measure >= _saw.ShortestHeld
        ? ""
        : _stock.Form.IsBar() ? context.Texts.NarrowBar : context.Texts.NarrowPlate;

    /// <summary>What comes off, one line each.</summary>
    public IEnumerable<string> Off(StepRow row)
    {
        var times = row.Steps.Count > 1 ? SheetContext.Fill(context.Texts.Times, row.Steps.Count) + " " : "";
        foreach (var piece in row.Last.Yields)
        {
            yield return piece.To == Destination.Saw ? One(piece) : times + One(piece);
        }
    }

    private string One(Workpiece piece) => piece.Kind switch
    {
        WorkKind.Piece => $"{SheetContext.Fill(context.Texts.PartNumber, context.Number(piece.PartId))} {piece.PartId}  {context.SizeOf(layout.Pieces[piece.Index], _stock)} → {context.Texts.ToBlanks}",
        WorkKind.Remnant => $"{context.SizeOf(piece.Area, _stock)} → {SheetContext.Fill(context.Texts.ToRack, SheetContext.KeepMark(layout, piece.Index))}",
        WorkKind.Scrap => (piece.Index < 0 ? context.Texts.TrimOff : context.SizeOf(piece.Area, _stock)) + " → " + context.Texts.ToBin,
        _ => Name(piece) + $" {context.SizeOf(piece.Area, _stock)} → "
            + (piece.To == Destination.Saw ? context.Texts.ToSaw : context.Texts.ToPile),
    };

    // The sequencer names strips in English, "strip A.2": the word is the table's, what tells them apart stays.
    private string Name(Workpiece piece) => piece.Kind == WorkKind.Stock
        ? context.FormOf(_stock)
        : piece.Kind == WorkKind.Strip ? $"{context.Texts.Strip} {piece.Name[(piece.Name.IndexOf(' ', StringComparison.Ordinal) + 1)..]}" : piece.Name;

    private string Word(CutStep step) =>
        step.Direction == CutDirection.Rip ? context.Texts.Rip : context.Texts.Crosscut;
}
