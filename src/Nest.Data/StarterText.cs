using Nest.Core.Quantities;

namespace Nest.Data;

/// <summary>Files of the starter as text, to begin a shop's own from.</summary>
public static class StarterText
{
    /// <summary>The demo saws of a unit, with comments.</summary>
    public static string Saws(LengthUnit unit) => Starter.Text(Starter.Saws(unit)).ReplaceLineEndings("\n");
}
