using Nest.Output.Sheets;

namespace Nest.Output.Pictures;

/// <summary>A scale as on a drawing: <c>1 : 5.3</c>, <c>2 : 1</c>.</summary>
internal static class ScaleText
{
    /// <param name="scale">Millimetres on paper for one of metal.</param>
    public static string Of(SheetContext context, double scale)
    {
        var (larger, factor) = scale > 1 ? (true, scale) : (false, 1 / scale);
        var text = context.Options.Numbers.Number((decimal)factor, factor < 10 && Math.Abs(factor - Math.Round(factor)) > 0.049 ? 1 : 0);
        return larger ? $"{text} : 1" : $"1 : {text}";
    }
}
