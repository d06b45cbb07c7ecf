namespace Nest.Core.Quantities;

/// <summary>A value read from text, or what is wrong with the text and what to write instead.</summary>
/// <param name="Value">The value; null when refused.</param>
/// <param name="Error">What is wrong; empty when read.</param>
/// <param name="Hint">What to write instead; empty when read.</param>
public readonly record struct Reading<T>(T? Value, string Error, string Hint)
    where T : struct;

/// <summary>Makes readings.</summary>
public static class Reading
{
    public static Reading<T> Of<T>(T value)
        where T : struct => new(value, "", "");

    public static Reading<T> Refused<T>(string error, string hint)
        where T : struct => new(null, error, hint);
}
