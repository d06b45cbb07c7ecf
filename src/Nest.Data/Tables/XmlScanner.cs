using System.Text;

namespace Nest.Data.Tables;

/// <summary>Reads the elements of an XML part one after the other: the few things that cells need, on bytes, O(n).</summary>
/// <remarks>A sheet of 100 000 rows has more than a million elements, and the framework's reader makes half of the time of reading it. Kept of the
/// standard (XML 1.0, fifth edition): tags must match, the five named entities and numbers of characters, CDATA, comments, ends of lines. Document
/// types are refused. The stream must be UTF-8; what is open is at most 100 deep; one tag is held in memory, and the stream limits its length.</remarks>
internal sealed class XmlScanner(Stream stream) : IDisposable
{
    private const int Deepest = 100;
    private const int LongestEntity = 12;
    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    private readonly TextKeeper keeper = new();
    private readonly int[] ends = new int[Deepest + 1];
    private byte[] names = new byte[1024];
    private byte[] buffer = new byte[64 * 1024];
    private int at;
    private int filled;
    private bool seen;
    private (int From, int To) name;
    private (int From, int To) attributes;

    /// <summary>Whether the tag that was read last begins an element; else it ends one.</summary>
    public bool IsStart { get; private set; }

    /// <summary>Whether the element that begins is empty: then no tag ends it.</summary>
    public bool IsEmpty { get; private set; }

    /// <summary>Elements that are open, with the one that begins unless it is empty.</summary>
    public int Depth { get; private set; }

    /// <summary>Name of the element without its prefix.</summary>
    public ReadOnlySpan<byte> Name => Local(buffer.AsSpan(name.From, name.To - name.From));

    public void Dispose() => stream.Dispose();

    /// <summary>Goes to the next tag; texts on the way are passed.</summary>
    /// <returns>False at the end.</returns>
    /// <exception cref="InvalidDataException">It is not such XML.</exception>
    public bool Next()
    {
        while (true)
        {
            var found = buffer.AsSpan(at, filled - at).IndexOf((byte)'<');
            var text = buffer.AsSpan(at, found < 0 ? filled - at : found);
            if (Depth == 0 && text.ContainsAnyExcept(" \t\r\n\uFEFF"u8))
            {
                throw Damaged("text outside of all elements");
            }

            at += text.Length;
            if (found < 0)
            {
                if (!Fill())
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
        var rest = buffer.AsSpan(attributes.From, attributes.To - attributes.From);
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
            value = Strict.GetBytes(Plain(value));
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
            while ((found = buffer.AsSpan(at + length, filled - at - length).IndexOf((byte)'<')) < 0)
            {
                length = filled - at;
                if (!Fill())
                {
                    throw Damaged("it ends too early");
                }
            }

            length += found;
            Add(length == 0 ? "" : Plain(buffer.AsSpan(at, length)));
            at += length;
            while (!Have(CData.Length) && Fill())
            {
            }

            if (buffer.AsSpan(at, filled - at).StartsWith(CData))
            {
                Add(Strict.GetString(Until("]]>"u8, CData.Length)));
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
        while (!Have(2) && Fill())
        {
        }

        switch (filled - at < 2 ? (byte)0 : buffer[at + 1])
        {
            case (byte)'?':
                Until("?>"u8, 2);
                return false;
            case (byte)'!':
                while (!Have(CData.Length) && Fill())
                {
                }

                var start = buffer.AsSpan(at, filled - at);
                if (start.StartsWith("<!--"u8))
                {
                    Until("-->"u8, 4);
                }
                else if (Depth > 0 && start.StartsWith(CData))
                {
                    Until("]]>"u8, CData.Length);
                }
                else
                {
                    throw Damaged("a document type");
                }

                return false;
            case (byte)'/':
                End(Until(">"u8, 2));
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
            var rest = buffer.AsSpan(at + length, filled - at - length);
            var found = quote == 0 ? rest.IndexOfAny((byte)'>', (byte)'"', (byte)'\'') : rest.IndexOf(quote);
            if (found < 0)
            {
                length += rest.Length;
                if (!Fill())
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

        IsEmpty = buffer[at + length - 2] == (byte)'/';
        var inside = buffer.AsSpan(at + 1, length - (IsEmpty ? 3 : 2));
        var end = inside.IndexOfAny(" \t\r\n"u8);
        name = (at + 1, at + 1 + (end < 0 ? inside.Length : end));
        attributes = (name.To, at + 1 + inside.Length);
        at += length;
        if (name.From == name.To || inside.Contains((byte)'<') || (Depth == 0 && seen))
        {
            throw Damaged("a tag that is none");
        }

        (IsStart, seen) = (true, true);
        if (Depth >= Deepest)
        {
            throw new TooLargeException("its elements are nested too deep");
        }

        if (!IsEmpty)
        {
            var (from, size) = (ends[Depth], name.To - name.From);
            if (from + size > names.Length)
            {
                Array.Resize(ref names, 2 * (from + size));
            }

            buffer.AsSpan(name.From, size).CopyTo(names.AsSpan(from));
            ends[++Depth] = from + size;
        }
    }

    private void End(ReadOnlySpan<byte> tag)
    {
        if (Depth == 0 || !tag.TrimEnd(" \t\r\n"u8).SequenceEqual(names.AsSpan(ends[Depth - 1]..ends[Depth])))
        {
            throw Damaged("the end of an element that did not begin");
        }

        Depth--;
        (IsStart, IsEmpty) = (false, false);
        name = default;
    }

    /// <summary>What stands between here, so many bytes on, and an ending; the place is behind it afterwards.</summary>
    private ReadOnlySpan<byte> Until(ReadOnlySpan<byte> ending, int skip)
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
                throw Damaged("it ends too early");
            }
        }
    }

    private bool Have(int bytes) => filled - at >= bytes;

    /// <summary>Reads more behind what is there, from the place at hand on.</summary>
    private bool Fill()
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

    /// <summary>Text with its entities and ends of lines as they are meant.</summary>
    private string Plain(ReadOnlySpan<byte> text)
    {
        if (text.Length <= TextKeeper.Longest && !text.ContainsAny((byte)'&', (byte)'\r') && Ascii.IsValid(text))
        {
            Span<char> kept = stackalloc char[text.Length];
            Encoding.ASCII.GetChars(text, kept);
            return keeper.Of(kept);
        }

        var plain = Strict.GetString(text);
        plain = plain.Contains('\r') ? plain.Replace("\r\n", "\n", StringComparison.Ordinal).Replace('\r', '\n') : plain;
        return plain.Contains('&') ? Meant(plain) : plain;
    }

    private static string Meant(ReadOnlySpan<char> text)
    {
        var meant = new StringBuilder(text.Length);
        for (var from = text.IndexOf('&'); from >= 0; from = text.IndexOf('&'))
        {
            meant.Append(text[..from]);
            text = text[(from + 1)..];
            var length = text[..Math.Min(text.Length, LongestEntity)].IndexOf(';');
            meant.Append(length < 1 ? throw Damaged("a sign & without a meaning") : Entity(text[..length]));
            text = text[(length + 1)..];
        }

        return meant.Append(text).ToString();
    }

    private static string Entity(ReadOnlySpan<char> entity) => entity switch
    {
        "amp" => "&",
        "lt" => "<",
        "gt" => ">",
        "quot" => "\"",
        "apos" => "'",
        ['#', 'x', .. var digits] when uint.TryParse(digits, System.Globalization.NumberStyles.AllowHexSpecifier, null, out var code) => Sign(code),
        ['#', .. var digits] when uint.TryParse(digits, System.Globalization.NumberStyles.None, null, out var code) => Sign(code),
        _ => throw Damaged("an entity that is not known"),
    };

    private static string Sign(uint code) => Rune.IsValid(code) ? new Rune(code).ToString() : throw Damaged("a sign that is none");

    private static ReadOnlySpan<byte> Local(ReadOnlySpan<byte> name) => name[(name.IndexOf((byte)':') + 1)..];

    private static InvalidDataException Damaged(string what) => new(what);
}
