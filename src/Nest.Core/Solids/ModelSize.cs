using Nest.Core.Jobs;
using Nest.Core.Quantities;

namespace Nest.Core.Solids;

/// <summary>Finished size of a part as its model gives it.</summary>
/// <param name="Lies">The box that the size is of: the third axis is the thickness, the first the length (of a round part its axis).</param>
public sealed record ModelSize(bool Round, Length Length, Length Width, Length Thickness, SolidBox Lies)
{
    /// <summary>Sizes are rounded up to this, so that lengths keep a common divisor: 0.01 mm, or 0.001 in.</summary>
    public static Length Step(LengthUnit unit) => Length.FromNanometres(unit == LengthUnit.Inch ? 25_400 : 10_000);

    /// <summary>Millimetres as a length, rounded up to the step. What the file's own digits leave open is not rounded up: a cube of 20 mm in single precision
    /// stays one of 20 mm.</summary>
    /// <param name="precision">Of the model, mm.</param>
    public static Length Up(double millimetres, double precision, LengthUnit unit)
    {
        var step = Step(unit).Nanometres;
        var least = Math.Max(0, millimetres - (4 * precision) - 1e-6) * 1e6 / step;
        return Length.FromNanometres(checked((long)Math.Ceiling(least) * step));
    }

    /// <summary>The size for a way of lying; null: the part has no flat to lie on.</summary>
    /// <param name="lie">Flat: on a flat of the part; as given: along the model's axes; else the smallest box, and of round parts diameter and
    /// length.</param>
    /// <param name="plate">The model is a flat outline: its thickness is up.</param>
    public static ModelSize? Of(Body body, BodyBoxes boxes, Lie? lie, bool plate, LengthUnit unit)
    {
        if (plate && lie != Lie.AsGiven)
        {
            return Of(body, BoxSearch.Standing(body, new(0, 0, 1)) ?? boxes.AsGiven, unit);
        }

        if (lie is null or Lie.Any && boxes.Round is { } round)
        {
            var x = round.Axis;
            var y = x.AnyAcross();
            var (diameter, length) = (Up(round.Diameter, body.Precision, unit), Up(round.Length, body.Precision, unit));
            return new(true, length, diameter, diameter, body.BoxAlong(x, y, Vec3.Cross(x, y)));
        }

        return lie switch
        {
            Lie.Flat => boxes.OnFlat is { } flat ? Of(body, flat, unit) : null,
            Lie.AsGiven => Of(body, boxes.AsGiven, unit),
            _ => Of(body, boxes.Smallest, unit),
        };
    }

    private static ModelSize Of(Body body, SolidBox box, LengthUnit unit) => new(
        false, Up(box.Size.X, body.Precision, unit), Up(box.Size.Y, body.Precision, unit), Up(box.Size.Z, body.Precision, unit), box);
}
