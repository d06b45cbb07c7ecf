namespace Nest.Data.Tables;

/// <summary>Keeps short texts that come again and again in a table, as materials and thicknesses do, so that each is made once.</summary>
internal sealed class TextKeeper
{
    /// <summary>Characters of the longest text that is kept.</summary>
    public const int Longest = 16;

    private readonly string?[] often = new string?[1024];

    public string Of(ReadOnlySpan<char> text)
    {
        if (text.Length is 0 or > Longest)
        {
            return text.ToString();
        }

        ref var known = ref often[string.GetHashCode(text) & (often.Length - 1)];
        return known is not null && text.SequenceEqual(known) ? known : known = text.ToString();
    }
}
