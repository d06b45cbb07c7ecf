using Nest.Core.Cutting;

namespace Nest.Output.Sheets;

/// <summary>Angled cuts in words: the same on paper, on the tablet page and in the files.</summary>
internal sealed class AngledText(SheetContext context)
{
    /// <summary>What the saw is set to: <c>saw to 22.5°</c>.</summary>
    public string Saw(AngledCut cut) => SheetContext.Fill(context.Texts.AngleSet, Degrees(cut));

    public string Degrees(AngledCut cut) => context.Options.Numbers.Number(cut.Angle.ToDegrees(), cut.Angle.Thousandths switch
    {
        var whole when whole % 1000 == 0 => 0,
        var tenth when tenth % 100 == 0 => 1,
        _ => 3,
    });

    public string Part(AngledCut cut) => $"{SheetContext.Fill(context.Texts.PartNumber, context.Number(cut.PartId))} {cut.PartId}";

    /// <summary>Which end, and where its long point is.</summary>
    public string End(AngledCut cut)
    {
        var end = cut.End == Edge.Left ? context.Texts.EdgeLeft : context.Texts.EdgeRight;
        var near = cut.LongPoint == Edge.Bottom;
        // A section lies on the side that its mitre is cut across: the long point is on an edge of it then.
        var side = cut.AcrossThickness && context.Part(cut.PartId).Detail is null
            ? near ? context.Texts.LongPointBelow : context.Texts.LongPointAbove
            : near ? context.Texts.LongPointNear : context.Texts.LongPointFar;
        return SheetContext.Fill(context.Texts.AngledEnd, end) + ", " + side;
    }

    /// <summary>What the stop is set to.</summary>
    public string Measure(AngledCut cut) => context.Setting(cut.Measure);

    public string Against(AngledCut cut) =>
        SheetContext.Fill(context.Texts.AngledMeasure, cut.End == Edge.Left ? context.Texts.EdgeRight : context.Texts.EdgeLeft);

    public string Setting(AngledCut cut) => cut.NewSetting ? SheetContext.Fill(context.Texts.NewSetting, cut.Setting) : context.Texts.SameSetting;
}
