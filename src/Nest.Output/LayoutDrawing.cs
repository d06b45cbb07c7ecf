using Nest.Core.Cutting;
using Nest.Core.Plans;
using Nest.Output.Draw;
using Nest.Output.Files;
using Nest.Output.Pictures;
using Nest.Output.Sheets;

namespace Nest.Output;

/// <summary>What a single layout can be drawn as.</summary>
public enum PictureFormat
{
    /// <summary>Picture to scale, 200 dots an inch.</summary>
    Png,

    /// <summary>The same picture, which stays sharp when it is enlarged.</summary>
    Svg,

    /// <summary>Outlines in true millimetres, as a drawing.</summary>
    Dxf,

    /// <summary>Outlines in true millimetres, as a picture.</summary>
    FullSizeSvg,
}

/// <summary>One drawing at a time, without a folder.</summary>
public static class LayoutDrawing
{
    /// <param name="layout">Its number in the plan, from 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The plan has no layout of this number.</exception>
    public static byte[] Bytes(Plan plan, int layout, PictureFormat format, OutputOptions options)
    {
        var context = new SheetContext(plan, options);
        var asked = context.Plan.Layouts.FirstOrDefault(entry => entry.Number == layout)
            ?? throw new ArgumentOutOfRangeException(nameof(layout), layout, "The plan has no layout of this number.");
        return format switch
        {
            PictureFormat.Png => PngFile.Bytes(Picture()),
            PictureFormat.Svg => SvgFile.Bytes(Picture()),
            PictureFormat.Dxf => DxfFile.Bytes(Drawing.Of(context, asked)),
            PictureFormat.FullSizeSvg => FullSizeSvg.Bytes(Drawing.Of(context, asked)),
            _ => throw new ArgumentOutOfRangeException(nameof(format)),
        };

        Scenes.Scene Picture()
        {
            // As in the folder: the cuts are numbered in the order of work.
            var work = options.Work ?? CutSequencer.Order(plan);
            return LayoutPicture.Pages(context, asked, work.Items.FirstOrDefault(item => item.Layout == layout)?.Sequence)[0];
        }
    }

    /// <summary>The cut sheet as PDF.</summary>
    public static byte[] CutSheet(Plan plan, Paper paper, OutputOptions options)
    {
        var work = options.Work ?? CutSequencer.Order(plan);
        return PdfFile.Bytes(Sheets.CutSheet.Pages(new(plan, options), work, paper), plan.Job.Name, options.Date);
    }
}
