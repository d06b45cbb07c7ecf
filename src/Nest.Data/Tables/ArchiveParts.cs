using System.IO.Compression;
using System.Text;
using System.Xml;

namespace Nest.Data.Tables;

/// <summary>A workbook is larger than the limits: what is too large, for the message.</summary>
internal sealed class TooLargeException(string message) : Exception(message);

/// <summary>Parts of a packed workbook, read with care: nothing is unpacked to disk, names are only looked up, what is unpacked is counted,
/// and XML has neither document types nor outside references.</summary>
internal sealed class ArchiveParts : IDisposable
{
    private const int LongestRun = 4 * 1024 * 1024;
    private const int Deepest = 100;

    [ThreadStatic]
    private static char[]? chunk;

    private readonly ZipArchive archive;
    private readonly Dictionary<string, ZipArchiveEntry> entries = new(StringComparer.OrdinalIgnoreCase);
    private long left = TableLimits.Unpacked;

    /// <exception cref="InvalidDataException">It is no archive, or it is damaged.</exception>
    public ArchiveParts(byte[] bytes)
    {
        archive = new(new MemoryStream(bytes, writable: false), ZipArchiveMode.Read);
        foreach (var entry in archive.Entries)
        {
            entries.TryAdd(entry.FullName.Replace('\\', '/').TrimStart('/'), entry);
        }
    }

    public bool Has(string name) => entries.ContainsKey(name);

    /// <summary>A reader of an XML part; null where there is none.</summary>
    public XmlReader? Open(string name) => entries.TryGetValue(name, out var entry)
        ? XmlReader.Create(Counted(entry), Settings)
        : null;

    /// <summary>A quicker reader of an XML part, for what has a million cells; null where there is none.</summary>
    public XmlScanner? Scan(string name)
    {
        if (!entries.TryGetValue(name, out var entry))
        {
            return null;
        }

        var (encoding, stream) = (EncodingOf(entry), Counted(entry));
        return new(encoding is UTF8Encoding ? stream : Encoding.CreateTranscodingStream(stream, encoding, Encoding.UTF8));
    }

    /// <summary>By its first bytes (XML 1.0, appendix F) and what it says of itself; nearly all are UTF-8.</summary>
    private static Encoding EncodingOf(ZipArchiveEntry entry)
    {
        using var reader = new StreamReader(entry.Open(), Encoding.UTF8);
        var start = new char[200];
        var text = start.AsSpan(0, reader.ReadBlock(start));
        var (end, said) = (text.IndexOf("?>"), text.IndexOf("encoding"));
        if (reader.CurrentEncoding is not UTF8Encoding || said < 0 || end < said)
        {
            return reader.CurrentEncoding;
        }

        var named = text[(said + 8)..end].Trim(" =\t\r\n");
        return Encoding.GetEncoding(named[1..Math.Max(1, named[1..].IndexOfAny('"', '\'') + 1)].ToString());
    }

    /// <summary>The first characters of a part; null where there is none.</summary>
    public string? Start(string name, int characters)
    {
        if (!entries.TryGetValue(name, out var entry))
        {
            return null;
        }

        using var reader = new StreamReader(Counted(entry));
        var buffer = new char[characters];
        return new(buffer, 0, reader.ReadBlock(buffer, 0, characters));
    }

    public void Dispose() => archive.Dispose();

    /// <summary>Text inside the current element, at most so much of it; the reader ends on the element's end.</summary>
    /// <param name="skip">Elements whose text does not count.</param>
    public static string TextOf(XmlReader xml, Func<string, bool>? skip = null)
    {
        if (xml.IsEmptyElement)
        {
            return "";
        }

        var depth = xml.Depth;
        var first = "";
        StringBuilder? text = null;
        var buffer = chunk ??= new char[4096];
        var more = Next(xml);
        while (more && xml.Depth > depth)
        {
            switch (xml.NodeType)
            {
                case XmlNodeType.Element when skip?.Invoke(xml.LocalName) == true:
                    Pass(xml);
                    break;
                case XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.SignificantWhitespace or XmlNodeType.Whitespace:
                    int count;
                    while ((text?.Length ?? 0) <= TableLimits.CellText && (count = xml.ReadValueChunk(buffer, 0, buffer.Length)) > 0)
                    {
                        // One piece is all that nearly every cell has.
                        if (first.Length == 0)
                        {
                            first = new(buffer, 0, count);
                        }
                        else
                        {
                            (text ??= new(first)).Append(buffer, 0, count);
                        }
                    }

                    break;
                default:
                    break;
            }

            more = Next(xml);
        }

        return text?.ToString() ?? first;
    }

    /// <summary>Reads on; refuses nesting that no workbook has.</summary>
    public static bool Next(XmlReader xml) => xml.Read() && (xml.Depth <= Deepest ? true : throw new TooLargeException("its elements are nested too deep"));

    /// <summary>Goes to the end of the current element.</summary>
    public static void Pass(XmlReader xml)
    {
        if (xml.IsEmptyElement)
        {
            return;
        }

        var depth = xml.Depth;
        while (Next(xml) && xml.Depth > depth)
        {
        }
    }

    private static XmlReaderSettings Settings => new()
    {
        DtdProcessing = DtdProcessing.Prohibit,
        XmlResolver = null,
        IgnoreComments = true,
        IgnoreProcessingInstructions = true,
        CloseInput = true,
        CheckCharacters = false,
    };

    /// <summary>Counts what is read of a part; throws when it is too much.</summary>
    private WatchedStream Counted(ZipArchiveEntry entry)
    {
        var run = 0L;
        return new(entry.Open(), bytes =>
        {
            left -= bytes.Length;
            if (left < 0)
            {
                throw new TooLargeException($"it unpacks to more than {TableLimits.Unpacked / (1024 * 1024)} MiB");
            }

            // The reader of XML keeps a whole tag in memory: between two signs "<" there is never more than a cell's text.
            var last = bytes.LastIndexOf((byte)'<');
            run = last < 0 ? run + bytes.Length : bytes.Length - last;
            if (run > LongestRun)
            {
                throw new TooLargeException($"a single text in it has more than {LongestRun / (1024 * 1024)} MiB");
            }
        });
    }
}
