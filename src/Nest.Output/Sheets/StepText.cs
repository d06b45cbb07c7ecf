using Nest.Core.Cutting;
using Nest.Core.Jobs;
using Nest.Core.Plans;
using Nest.Core.Quantities;

namespace Nest.Output.Sheets;

/// <summary>Steps in words: the same on paper, on the tablet page and in the files.</summary>
/// <param name="stillFrom">Number of the layout from which the stop still stands as the first cut with a stop needs it; null: it is set.</param>
internal sealed class StepText(SheetContext context, Layout layout, int? stillFrom = null)
{
    private readonly Stock _stock = context.Plan.StockOf(layout);
    private readonly Saw _saw = context.Plan.SawOf(layout);

    // Of a saw whose clamp is not described: a vise holds from 50 mm on (common practice, no source).
    private static readonly Length CommonHold = Length.FromMillimetres(50);

    // What is narrower falls beside the blade and may be caught by it (common practice, no source).
    private static readonly Length ThinStrip = Length.FromMillimetres(20);

    public string OnSaw(CutStep step)
    {
        var piece = step.OnSaw;
        return $"{Name(piece)}, {context.SizeOf(piece.Area, _stock)}";
    }

    /// <summary>What is on the saw in a row: one piece of metal, or the letters of several strips and the cuts in each.</summary>
    public string OnSaw(StepRow row)
    {
        if (!row.InStrips)
        {
            return OnSaw(row.First);
        }

        var metals = row.Metals;
        var strips = Strips(metals, row.First.OnSaw);
        var each = row.Steps.Count / metals.Count;
        return each > 1 ? $"{strips}: {SheetContext.Fill(context.Texts.CutsInEach, each)}" : strips;
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
            notes.Add(Turning(step));
        }

        return string.Join(", ", notes);
    }

    // Seen from above. The edges follow each other to the left: right, top, left, bottom.
    private string Turning(CutStep step) => step.TurnedFrom is { } before
        ? SheetContext.Fill(
            Quarters(before, step.Against) switch { 1 => context.Texts.TurnLeft, 3 => context.Texts.TurnRight, _ => context.Texts.TurnHalf }, EdgeOf(step))
        : context.Texts.TurnFirst;

    /// <summary>Quarter turns to the left, seen from above, that bring one edge to where another was.</summary>
    public static int Quarters(Edge before, Edge now)
    {
        return (Angle(before) - Angle(now) + 4) % 4;

        static int Angle(Edge edge) => edge switch { Edge.Right => 0, Edge.Top => 1, Edge.Left => 2, _ => 3 };
    }

    /// <summary>Along or across; a bar is never cut but across, so there only a trim is named.</summary>
    public string Direction(CutStep step) => (step.Purpose == CutPurpose.Trim, _stock.Form.IsBar()) switch
    {
        (true, true) => context.Texts.TrimBar,
        (true, false) => $"{Word(step)} ({context.Texts.TrimCut})",
        (false, true) => "",
        _ => Word(step),
    };

    /// <summary>Whether fence or stop has to be set for this step: not where it still stands from the layout before.</summary>
    public bool IsSet(CutStep step) => step.NewSetting && !(stillFrom is not null && step.Setting == 1);

    public string Setting(CutStep step) => context.Setting(step.Measure);

    /// <summary>The setting without and the rounding error alone (empty when exact): large and small print.</summary>
    public (string Shown, string Error) SettingParts(CutStep step)
    {
        var whole = Setting(step);
        var shown = context.Length(step.Measure);
        return whole.StartsWith(shown, StringComparison.Ordinal) ? (shown, whole[shown.Length..].Trim()) : (whole, "");
    }

    public string Against(CutStep step) =>
        step.Marked ? "" : SheetContext.Fill(_stock.Form.IsBar() ? context.Texts.AgainstStop : context.Texts.Against, EdgeOf(step));

    public string SettingNote(CutStep step) => step.Marked
        ? SheetContext.Fill(step.BlankClamped ? context.Texts.ClampBlank : context.Texts.MarkIt, context.Length(step.Measure), EdgeOf(step))
        : IsSet(step)
            ? SheetContext.Fill(context.Texts.NewSetting, stillFrom is null ? step.Setting : step.Setting - 1)
            : step.NewSetting ? SheetContext.Fill(context.Texts.StopStill, stillFrom!) : context.Texts.SameSetting;

    /// <summary>What to be careful with at this very cut, one line each.</summary>
    public IEnumerable<string> Cautions(CutStep step)
    {
        var (bar, texts) = (_stock.Form.IsBar(), context.Texts);

        // What is narrower than the clamp must not be caught between stop and blade.
        if (!step.Marked && step.Measure < (_saw.ShortestHeld > Length.Zero ? _saw.ShortestHeld : CommonHold))
        {
            yield return bar ? texts.NarrowBar : texts.NarrowPlate;
        }

        if (step.Yields.Length == 1)
        {
            yield return bar ? texts.SkimBar : texts.Skim;
        }

        // The edge on the fence is less than half as long as the metal is deep: it can turn and be thrown (common practice, no source).
        var (edge, deep) = step.Direction == CutDirection.Rip
            ? (step.OnSaw.Area.SizeX, step.OnSaw.Area.SizeY)
            : (step.OnSaw.Area.SizeY, step.OnSaw.Area.SizeX);
        if (!bar && edge * 2 < deep)
        {
            yield return texts.ShortEdge;
        }

        if (!bar && step.Yields.Any(piece => piece.Kind == WorkKind.Scrap && Length.Min(piece.Area.SizeX, piece.Area.SizeY) < ThinStrip))
        {
            yield return texts.ThinStrip;
        }
    }

    /// <summary>What to be careful with in any cut of a row.</summary>
    public IEnumerable<string> Cautions(StepRow row) => row.Steps.SelectMany(Cautions).Distinct();

    /// <summary>What comes off, one line each: like pieces together, what stays on the saw last.</summary>
    public IEnumerable<string> Off(StepRow row)
    {
        var off = new List<List<Workpiece>>();
        foreach (var piece in row.Steps.SelectMany(StepRow.Off))
        {
            if (off.Find(group => StepRow.SameFate(group[0], piece)) is { } like)
            {
                like.Add(piece);
            }
            else
            {
                off.Add([piece]);
            }
        }

        foreach (var like in off)
        {
            yield return like.Count == 1 ? One(like[0])
                : like[0].Kind == WorkKind.Strip ? Strips(like, like[0]) + " → " + context.Texts.ToPile
                : SheetContext.Fill(context.Texts.Times, like.Count) + " " + One(like[0]);
        }

        foreach (var piece in row.Last.Yields.Where(piece => piece.To == Destination.Saw))
        {
            yield return One(piece);
        }
    }

    private string Strips(IEnumerable<Workpiece> strips, Workpiece one) =>
        SheetContext.Fill(context.Texts.StripsEach, string.Join(", ", strips.Select(Letter)), context.SizeOf(one.Area, _stock));

    private string One(Workpiece piece) => piece.Kind switch
    {
        WorkKind.Piece => $"{SheetContext.Fill(context.Texts.PartNumber, context.Number(piece.PartId))} {piece.PartId}  {context.SizeOf(piece.Area, _stock)} → {context.Texts.ToBlanks}{(layout.Pieces[piece.Index].Spare ? ", " + context.Texts.Spare : "")}{Rolling(piece)}",
        WorkKind.Remnant => $"{context.SizeOf(piece.Area, _stock)} → {SheetContext.Fill(context.Texts.ToRack, SheetContext.KeepMark(layout, piece.Index))}",
        WorkKind.Scrap => (piece.Index < 0 ? context.Texts.TrimOff : context.SizeOf(piece.Area, _stock)) + " → " + context.Texts.ToBin,
        _ => Name(piece) + $" {context.SizeOf(piece.Area, _stock)} → "
            + (piece.To == Destination.Saw ? context.Texts.ToSaw : context.Texts.ToPile),
    };

    private string Rolling(Workpiece piece) => _stock.Form == Form.Plate && !context.Part(piece.PartId).MayTurn
        ? ", " + SheetContext.Fill(context.Texts.RollingAlong, context.Length(piece.Area.SizeX))
        : "";

    // The sequencer names strips in English, "strip B": the word is the table's, the letter stays.
    private string Name(Workpiece piece) => piece.Kind == WorkKind.Stock
        ? context.FormOf(_stock)
        : piece.Kind == WorkKind.Strip ? SheetContext.Fill(piece.IsRest ? context.Texts.RestOf : "{0}", $"{context.Texts.Strip} {Letter(piece)}") : piece.Name;

    private string EdgeOf(CutStep step) => step.Against switch
    {
        Edge.Left => context.Texts.EdgeLeft,
        Edge.Right => context.Texts.EdgeRight,
        Edge.Bottom => context.Texts.EdgeBottom,
        _ => context.Texts.EdgeTop,
    };

    /// <summary>The letter that is chalked on a strip.</summary>
    public static string Letter(Workpiece strip) => strip.Name[(strip.Name.IndexOf(' ', StringComparison.Ordinal) + 1)..];

    private string Word(CutStep step) =>
        step.Direction == CutDirection.Rip ? context.Texts.Rip : context.Texts.Crosscut;
}
