namespace Nest.Core.Quantities;

/// <summary>Unit in which a shop reads and writes lengths.</summary>
public enum LengthUnit
{
    Millimetre,
    Inch,
}
