using Nest.Core.Plans;
using Nest.Output;

namespace Nest.Planning;

/// <summary>Draws a plan, or one of its layouts, into a stream. Draw only plans that were checked.</summary>
public static class PlanDrawing
{
    /// <summary>One layout as the picture that the sheets show.</summary>
    /// <param name="layout">Its number in the plan, from 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">The plan has no layout of this number.</exception>
    public static void Layout(Plan plan, int layout, PictureFormat format, Stream output, OutputOptions? options = null) =>
        output.Write(LayoutDrawing.Bytes(plan, layout, format, options ?? new()));

    /// <summary>The cut sheet as PDF.</summary>
    public static void CutSheet(Plan plan, Paper paper, Stream output, OutputOptions? options = null) =>
        output.Write(LayoutDrawing.CutSheet(plan, paper, options ?? new()));
}
