using Nest.Core.Quantities;

namespace Nest.Output.Files;

/// <summary>Units of the lists: the job's, named in the heads of the columns (<c>length_mm</c> or <c>length_in</c>, <c>mass_each_kg</c> or
/// <c>mass_each_lb</c>).</summary>
/// <remarks>Millimetres are exact, inches to the millionth (2.54e-8 m, finer than any saw); masses to four decimals. Both half away from zero.</remarks>
internal sealed class TableUnits(LengthUnit unit)
{
    private readonly bool _metric = unit == LengthUnit.Millimetre;

    /// <summary>Heads with the units in place of <c>{L}</c> and <c>{M}</c>.</summary>
    public string[] Heads(params string[] heads) =>
        [.. heads.Select(head => head.Replace("{L}", _metric ? "mm" : "in", StringComparison.Ordinal).Replace("{M}", _metric ? "kg" : "lb", StringComparison.Ordinal))];

    public decimal Size(Length length) => _metric ? length.ToMillimetres() : decimal.Round(length.ToInches(), 6, MidpointRounding.AwayFromZero);

    public decimal Weight(Mass mass) => decimal.Round(_metric ? mass.Kilograms : mass.ToPounds(), 4, MidpointRounding.AwayFromZero);
}
