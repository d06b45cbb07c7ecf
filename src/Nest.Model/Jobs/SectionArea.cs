using Nest.Core.Quantities;

namespace Nest.Core.Jobs;

/// <summary>Area of the metal in a bar's section, from nominal sizes with sharp corners, down to a whole square nanometre.</summary>
/// <remarks>Hex: s² · √3 ÷ 2. Round tube: π ÷ 4 · (D² − (D − 2t)²). Rectangular tube: b·h − (b − 2t)(h − 2t). Angle: t · (a + b − t).
/// Channel: 2·b·f + (h − 2f)·t. Tee: b·f + (h − f)·t. The area of a named profile is known only from its mass per metre.</remarks>
public static class SectionArea
{
    // Twenty decimals are far more than the nominal sizes are worth.
    private const decimal Pi = 3.14159265358979323846m;
    private const decimal RootOfThree = 1.73205080756887729353m;

    public static Area Of(Form form, Length width, Length thickness, SectionDetail? detail)
    {
        var wall = detail?.Wall ?? Length.Zero;
        var flange = detail?.Flange ?? wall;
        return form switch
        {
            Form.RoundBar => Circle(width),
            Form.HexBar => Scaled(width * width, RootOfThree / 2m),
            Form.RoundTube => Scaled((width * width) - ((width - (wall * 2)) * (width - (wall * 2))), Pi / 4m),
            Form.RectangularTube => (width * thickness) - ((width - (wall * 2)) * (thickness - (wall * 2))),
            Form.Angle => wall * (width + thickness - wall),
            Form.Channel => (thickness * flange * 2) + ((width - (flange * 2)) * wall),
            Form.Tee => (width * flange) + ((thickness - flange) * wall),
            _ => width * thickness,
        };
    }

    private static Area Circle(Length diameter) => Area.FromSquareNanometres((Int128)((decimal)(diameter * diameter).SquareNanometres * Pi / 4m));

    private static Area Scaled(Area area, decimal factor) => Area.FromSquareNanometres((Int128)((decimal)area.SquareNanometres * factor));
}
