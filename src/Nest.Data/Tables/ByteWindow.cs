namespace Nest.Data.Tables;

/// <summary>Bytes of a stream from a place on, as many as are wanted at once.</summary>
/// <remarks>Places are good until more is read.</remarks>
internal sealed class ByteWindow(Stream stream)
{
    private byte[] buffer = new byte[64 * 1024];
    private int at;
    private int filled;

    /// <summary>The place at hand.</summary>
    public int Place => at;

    /// <summary>What is there from the place on.</summary>
    public ReadOnlySpan<byte> Rest => buffer.AsSpan(at, filled - at);

    /// <summary>What stands between two places.</summary>
    public ReadOnlySpan<byte> Between(int from, int to) => buffer.AsSpan(from, to - from);

    /// <summary>Moves the place on.</summary>
    public void Skip(int bytes) => at += bytes;

    /// <summary>Reads until so many bytes are there, or all.</summary>
    public void Want(int bytes)
    {
        while (filled - at < bytes && Fill())
        {
        }
    }

    /// <summary>Reads more behind what is there, from the place at hand on.</summary>
    /// <returns>False at the end.</returns>
    public bool Fill()
    {
        if (at > 0)
        {
            buffer.AsSpan(at, filled - at).CopyTo(buffer);
            (filled, at) = (filled - at, 0);
        }

        if (filled == buffer.Length)
        {
            Array.Resize(ref buffer, 2 * buffer.Length);
        }

        var count = stream.Read(buffer, filled, buffer.Length - filled);
        filled += count;
        return count > 0;
    }

    /// <summary>What stands between here, so many bytes on, and an ending; the place is behind it afterwards.</summary>
    /// <exception cref="InvalidDataException">The ending does not come.</exception>
    public ReadOnlySpan<byte> Until(ReadOnlySpan<byte> ending, int skip)
    {
        for (var from = skip; ;)
        {
            var rest = from > filled - at ? [] : buffer.AsSpan(at + from, filled - at - from);
            var found = rest.IndexOf(ending);
            if (found >= 0)
            {
                var inside = buffer.AsSpan(at + skip, from + found - skip);
                at += from + found + ending.Length;
                return inside;
            }

            from = Math.Max(skip, filled - at - ending.Length + 1);
            if (!Fill())
            {
                throw XmlScanner.Damaged("it ends too early");
            }
        }
    }
}
