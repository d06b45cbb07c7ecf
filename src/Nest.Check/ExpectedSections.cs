using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Check;

/// <summary>The checker's own view of sections: which are the same, and how much metal is in them.</summary>
internal static class ExpectedSections
{
    // The same twenty decimals as the definition of a round section.
    private const decimal Pi = 3.14159265358979323846m;
    private const decimal RootOfThree = 1.73205080756887729353m;

    /// <summary>Whether the stock is the very section that the part asks a length of.</summary>
    public static bool Same(Stock stock, Part part, SectionDetail asked)
    {
        if (stock.Detail is not { } own || part.Forms != (Forms)(1 << (int)stock.Form) || stock.Width != part.Width || stock.Thickness != part.Thickness)
        {
            return false;
        }

        return own.Wall == asked.Wall && Flange(own) == Flange(asked) && string.Equals(own.Name, asked.Name, StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>A section has what its form needs, and nothing else; its walls leave room within the outer sizes.</summary>
    public static bool IsSound(Form form, Length width, Length height, SectionDetail? detail)
    {
        if (form <= Form.RoundBar || detail is null)
        {
            return form <= Form.RoundBar && detail is null;
        }

        var flange = Flange(detail);
        return (detail.Name is { Length: > 0 }) == (form == Form.Profile) && detail.Name is not ""
            && (detail.Flange is null || form is Form.Channel or Form.Tee)
            && (form is not (Form.HexBar or Form.RoundTube) || width == height)
            && (form is not (Form.RectangularTube or Form.Angle) || width >= height)
            && (form is Form.HexBar or Form.Profile
                ? detail.Wall is null
                : detail.Wall > Length.Zero && flange > Length.Zero && form switch
                {
                    Form.Angle => detail.Wall < height,
                    Form.Channel => flange * 2 < width && detail.Wall < height,
                    Form.Tee => flange < height && detail.Wall < width,
                    _ => detail.Wall * 2 < height,
                });
    }

    /// <summary>Of a part: it asks for one section, or it is machined; of hex bar only what is turned.</summary>
    public static bool IsSound(Part part)
    {
        var sections = (Forms)((int)part.Forms & ~(int)Forms.Any);
        if (part.Detail is null)
        {
            return sections == Forms.None || (sections == Forms.HexBar && part.Round);
        }

        return !part.Round && part.Forms == sections && Enum.GetValues<Form>().Any(form =>
            sections == (Forms)(1 << (int)form) && IsSound(form, part.Width, part.Thickness, part.Detail));
    }

    /// <summary>Of stock: the listed metal, which a named profile must have, is not more than its outer sizes hold.</summary>
    public static bool IsSound(Stock stock) => IsSound(stock.Form, stock.Width, stock.Thickness, stock.Detail)
        && (stock.ListedSection is null ? stock.Form != Form.Profile
            : stock.Detail is not null && stock.ListedSection > Area.Zero && stock.ListedSection <= stock.Width * stock.Thickness);

    /// <summary>The nominal area: outer area less what is empty within it; as listed where a list gives it.</summary>
    public static Area Metal(Stock stock)
    {
        if (stock.ListedSection is { } listed)
        {
            return listed;
        }

        var (width, height) = ((Int128)stock.Width.Nanometres, (Int128)stock.Thickness.Nanometres);
        var wall = (Int128)(stock.Detail?.Wall?.Nanometres ?? 0);
        var flange = (Int128)(stock.Detail is { } detail ? Flange(detail)?.Nanometres ?? 0 : 0);
        return stock.Form switch
        {
            Form.RoundBar => Circle(stock.Width),
            Form.HexBar => Down(width * width, RootOfThree / 2m),
            Form.RoundTube => Down(4 * wall * (width - wall), Pi / 4m), // D² − (D − 2t)² = 4t(D − t)
            Form.RectangularTube => Area.FromSquareNanometres(2 * wall * (width + height - (2 * wall))),
            Form.Angle => Area.FromSquareNanometres((width * height) - ((width - wall) * (height - wall))),
            Form.Channel => Area.FromSquareNanometres((width * height) - ((width - (2 * flange)) * (height - wall))),
            Form.Tee => Area.FromSquareNanometres((width * height) - ((height - flange) * (width - wall))),
            _ => Area.FromSquareNanometres(width * height),
        };
    }

    public static Area Circle(Length diameter) => Down((Int128)diameter.Nanometres * diameter.Nanometres, Pi / 4m);

    private static Length? Flange(SectionDetail detail) => detail.Flange ?? detail.Wall;

    private static Area Down(Int128 squares, decimal factor) => Area.FromSquareNanometres((Int128)((decimal)squares * factor));
}
