using System.Text;

namespace Nest.Data.Tables;

/// <summary>Reads the elements of an XML part one after the other: the few things that cells need, on bytes, O(n).</summary>
/// <remarks>A sheet of 100 000 rows has more than a million elements, and the framework's reader makes half of the time of reading it. Kept of the
/// standard (XML 1.0, fifth edition): tags must match, the five named entities and numbers of characters, CDATA, comments, ends of lines. Document
/// types are refused. The stream must be UTF-8; what is open is at most 100 deep; one tag is held in memory, and the stream limits its length.</remarks>
internal sealed class XmlScanner(Stream stream) : IDisposable
{
    internal static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private readonly XmlText texts = new();
    private readonly OpenElements open = new();
    private readonly ByteWindow bytes = new(stream);
    private bool seen;
    private (int From, int To) name;
    private (int From, int To) attributes;

    /// <summary>Whether the tag that was read last begins an element; else it ends one.</summary>
    public bool IsStart { get; private set; }

    /// <summary>Whether the element that begins is empty: then no tag ends it.</summary>
    public bool IsEmpty { get; private set; }

    /// <summary>Elements that are open, with the one that begins unless it is empty.</summary>
    public int Depth => open.Depth;

    /// <summary>Name of the element without its prefix.</summary>
    public ReadOnlySpan<byte> Name => Local(bytes.Between(name.From, name.To));

    public void Dispose() => stream.Dispose();

    /// <summary>Goes to the next tag; texts on the way are passed.</summary>
    /// <returns>False at the end.</returns>
    /// <exception cref="InvalidDataException">It is not such XML.</exception>
    public bool Next()
    {
        while (true)
        {
            var text = bytes.Rest;
            var found = text.IndexOf((byte)'<');
            text = found < 0 ? text : text[..found];
            if (Depth == 0 && text.ContainsAnyExcept(" \t\r\n\uFEFF"u8))
            {
                throw Damaged("text outside of all elements");
            }

            bytes.Skip(text.Length);
            if (found < 0)
            {
                if (!bytes.Fill())
                {
                    return Depth == 0 && seen ? false : throw Damaged("it ends too early");
                }

                continue;
            }

            if (Tag())
            {
                return true;
            }
        }
    }

    /// <summary>Goes to the end of the current element.</summary>
    public void Pass()
    {
        var outside = Depth - 1;
        while (!IsEmpty && Depth > outside && Next())
        {
        }
    }

    /// <summary>The next attribute of the element that begins.</summary>
    /// <param name="key">Its name, with its prefix.</param>
    /// <param name="value">Its value as it is written, but for entities.</param>
    public bool Attribute(out ReadOnlySpan<byte> key, out ReadOnlySpan<byte> value)
    {
        key = value = [];
        var rest = bytes.Between(attributes.From, attributes.To);
        var from = rest.IndexOfAnyExcept(" \t\r\n"u8);
        if (from < 0)
        {
            return false;
        }

        var sign = rest.IndexOf((byte)'=');
        var quote = sign < 0 ? -1 : sign + 1 + rest[(sign + 1)..].IndexOfAnyExcept(" \t\r\n"u8);
        if (sign <= from || quote <= sign || rest[quote] is not ((byte)'"' or (byte)'\''))
        {
            throw Damaged("an attribute without a value");
        }

        var length = rest[(quote + 1)..].IndexOf(rest[quote]);
        if (length < 0)
        {
            throw Damaged("an attribute without an end");
        }

        key = rest[from..sign].TrimEnd(" \t\r\n"u8);
        value = rest.Slice(quote + 1, length);
        attributes.From += quote + length + 2;
        if (value.Contains((byte)'&'))
        {
            value = Strict.GetBytes(texts.Plain(value));
        }

        return true;
    }

    /// <summary>All text in the current element, which is read to its end; not much more than <see cref="TableLimits.CellText"/> of it.</summary>
    /// <param name="skip">Elements whose text does not count: null or false for those that do.</param>
    public string Text(Func<XmlScanner, bool>? skip = null)
    {
        if (IsEmpty)
        {
            return "";
        }

        var outside = Depth - 1;
        var first = "";
        StringBuilder? more = null;
        while (true)
        {
            // Whole texts only, so that no sign is cut in two; the stream says when one is too long.
            var (length, found) = (0, -1);
            while ((found = bytes.Rest[length..].IndexOf((byte)'<')) < 0)
            {
                length = bytes.Rest.Length;
                if (!bytes.Fill())
                {
                    throw Damaged("it ends too early");
                }
            }

            length += found;
            Add(length == 0 ? "" : texts.Plain(bytes.Rest[..length]));
            bytes.Skip(length);
            bytes.Want(CData.Length);
            if (bytes.Rest.StartsWith(CData))
            {
                Add(Strict.GetString(bytes.Until("]]>"u8, CData.Length)));
            }
            else if (Tag())
            {
                if (Depth <= outside)
                {
                    return more?.ToString() ?? first;
                }

                if (IsStart && skip?.Invoke(this) == true)
                {
                    Pass();
                }
            }
        }

        void Add(string text)
        {
            if (first.Length == 0)
            {
                first = text;
            }
            else if (text.Length > 0 && (more ??= new(first)).Length <= TableLimits.CellText)
            {
                more.Append(text);
            }
        }
    }

    private static ReadOnlySpan<byte> CData => "<![CDATA["u8;

    /// <summary>Reads what begins with the sign at hand.</summary>
    /// <returns>Whether it is a tag; else a comment, an instruction or CDATA that nobody asked for.</returns>
    private bool Tag()
    {
        bytes.Want(2);
        switch (bytes.Rest.Length < 2 ? (byte)0 : bytes.Rest[1])
        {
            case (byte)'?':
                bytes.Until("?>"u8, 2);
                return false;
            case (byte)'!':
                bytes.Want(CData.Length);
                var start = bytes.Rest;
                if (start.StartsWith("<!--"u8))
                {
                    bytes.Until("-->"u8, 4);
                }
                else if (Depth > 0 && start.StartsWith(CData))
                {
                    bytes.Until("]]>"u8, CData.Length);
                }
                else
                {
                    throw Damaged("a document type");
                }

                return false;
            case (byte)'/':
                End(bytes.Until(">"u8, 2));
                return true;
            default:
                Start();
                return true;
        }
    }

    private void Start()
    {
        // A sign > within quotes does not end the tag.
        var (length, quote) = (1, (byte)0);
        while (true)
        {
            var rest = bytes.Rest[length..];
            var found = quote == 0 ? rest.IndexOfAny((byte)'>', (byte)'"', (byte)'\'') : rest.IndexOf(quote);
            if (found < 0)
            {
                length += rest.Length;
                if (!bytes.Fill())
                {
                    throw Damaged("it ends within a tag");
                }

                continue;
            }

            length += found + 1;
            if (rest[found] == (byte)'>' && quote == 0)
            {
                break;
            }

            quote = quote == 0 ? rest[found] : (byte)0;
        }

        var tag = bytes.Rest[..length];
        IsEmpty = tag[^2] == (byte)'/';
        var inside = tag[1..(IsEmpty ? ^2 : ^1)];
        var end = inside.IndexOfAny(" \t\r\n"u8);
        var from = bytes.Place + 1;
        name = (from, from + (end < 0 ? inside.Length : end));
        attributes = (name.To, from + inside.Length);
        bytes.Skip(length);
        if (name.From == name.To || inside.Contains((byte)'<') || (Depth == 0 && seen))
        {
            throw Damaged("a tag that is none");
        }

        (IsStart, seen) = (true, true);
        open.CheckDepth();
        if (!IsEmpty)
        {
            open.Begin(bytes.Between(name.From, name.To));
        }
    }

    private void End(ReadOnlySpan<byte> tag)
    {
        if (!open.End(tag.TrimEnd(" \t\r\n"u8)))
        {
            throw Damaged("the end of an element that did not begin");
        }

        (IsStart, IsEmpty) = (false, false);
        name = default;
    }

    private static ReadOnlySpan<byte> Local(ReadOnlySpan<byte> name) => name[(name.IndexOf((byte)':') + 1)..];

    internal static InvalidDataException Damaged(string what) => new(what);
}
