using Nest.Core.Blanks;
using Nest.Core.Jobs;
using Nest.Core.Quantities;
using Nest.Data.Parts;

namespace Nest.Planning.Design;

/// <summary>A measure of a part, or an allowance of its blank, that can be made smaller or larger step by step.</summary>
/// <param name="Name">As it is shown.</param>
/// <param name="Value">As it is.</param>
/// <param name="Shrink">Most that may be taken off.</param>
/// <param name="Grow">Most that may be added.</param>
/// <param name="With">The part with another value.</param>
internal sealed record Measure(string Name, Length Value, Length Shrink, Length Grow, Func<Length, Part> With);

/// <summary>The measures of a part that a designer may change, with the limits of the parts list.</summary>
internal static class Dimensions
{
    /// <summary>Steps in which dimensions are tried: a hundredth of a millimetre, a thousandth of an inch.</summary>
    public static Length Step(LengthUnit unit) => Length.FromNanometres(unit == LengthUnit.Inch ? 25_400 : 10_000);

    /// <summary>Of a length of a section only the length; of a round part length and diameter.</summary>
    /// <param name="share">Of a dimension, where the list does not say how much it may change.</param>
    public static IEnumerable<Measure> Of(Part part, DesignLimits? limits, decimal share)
    {
        yield return Make("length", part.Length, limit => limit.Length, value => part with { Length = value });
        if (part.Detail is not null)
        {
            yield break;
        }

        if (part.Round)
        {
            yield return Make("diameter", part.Width, limit => limit.Width, value => part with { Width = value, Thickness = value });
            yield break;
        }

        yield return Make("width", part.Width, limit => limit.Width, value => part with { Width = value });
        yield return Make("thickness", part.Thickness, limit => limit.Thickness, value => part with { Thickness = value });

        Measure Make(string name, Length value, Func<DimensionLimits, Length> of, Func<Length, Part> with)
        {
            var usual = Length.FromNanometres((long)(value.Nanometres * share));
            var shrink = Length.Min(limits?.Shrink is { } less ? of(less) : usual, value - Length.FromNanometres(1_000));
            return new(name, value, shrink, limits?.Grow is { } more ? of(more) : usual, with);
        }
    }

    /// <summary>The allowances that the part's blank has, each to be made smaller by at most half a millimetre (0.02 in).</summary>
    public static IEnumerable<Measure> Allowances(Job job, Part part)
    {
        var given = BlankSizer.AllowancesFor(job, part, job.MaterialOf(part.MaterialId));
        var most = Length.FromNanometres(job.Unit == LengthUnit.Inch ? 508_000 : 500_000);
        var own = part.Allowances ?? new();
        (string Name, Length Value, Func<Length, AllowanceOverrides> With)[] all =
        [
            ("side clean-up", given.SideCleanUp, value => own with { SideCleanUp = value }), ("end clean-up", given.EndCleanUp, value => own with { EndCleanUp = value }),
            ("facing of the top", given.FaceTop, value => own with { FaceTop = value }), ("facing of the bottom", given.FaceBottom, value => own with { FaceBottom = value }),
            ("grip", given.Grip, value => own with { Grip = value }),
        ];
        return all.Where(one => one.Value > Length.Zero).Select(one =>
            new Measure(one.Name, one.Value, Length.Min(most, one.Value), Length.Zero, value => part with { Allowances = one.With(value) }));
    }
}
