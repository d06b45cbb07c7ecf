namespace Nest.Data.Tables;

/// <summary>Names of the elements of an XML part that are open.</summary>
internal sealed class OpenElements
{
    private const int Deepest = 100;

    private readonly int[] ends = new int[Deepest + 1];
    private byte[] names = new byte[1024];

    public int Depth { get; private set; }

    /// <exception cref="TooLargeException">No further element may begin.</exception>
    public void CheckDepth()
    {
        if (Depth >= Deepest)
        {
            throw new TooLargeException("its elements are nested too deep");
        }
    }

    public void Begin(ReadOnlySpan<byte> name)
    {
        var from = ends[Depth];
        if (from + name.Length > names.Length)
        {
            Array.Resize(ref names, 2 * (from + name.Length));
        }

        name.CopyTo(names.AsSpan(from));
        ends[++Depth] = from + name.Length;
    }

    /// <returns>False: it is not the last one that began.</returns>
    public bool End(ReadOnlySpan<byte> name)
    {
        if (Depth == 0 || !name.SequenceEqual(names.AsSpan(ends[Depth - 1]..ends[Depth])))
        {
            return false;
        }

        Depth--;
        return true;
    }
}
