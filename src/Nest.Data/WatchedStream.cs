namespace Nest.Data;

/// <summary>Looks at bytes that were just read; throws where they are too many.</summary>
internal delegate void BytesSeen(ReadOnlySpan<byte> bytes);

/// <summary>Reads from another stream and shows what comes before it is given on, so that an archive that unpacks to too much is noticed in time.</summary>
internal sealed class WatchedStream(Stream from, BytesSeen seen) : Stream
{
    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override int Read(Span<byte> buffer)
    {
        var count = from.Read(buffer);
        seen(buffer[..count]);
        return count;
    }

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            from.Dispose();
        }

        base.Dispose(disposing);
    }
}
