using System.Globalization;
using System.Text;

namespace Nest.Data.Models.Step;

/// <summary>The words of an exchange structure of ISO 10303-21, one after the other: names, numbers, texts, marks; blanks and comments are skipped.</summary>
/// <remarks>Text: \X2\, \X4\, \X\, \S\ and plain UTF-8 are understood. Cost: linear.</remarks>
internal sealed class ExchangeScanner(byte[] bytes)
{
    private const int LongestText = 100_000;

    private int at;
    private int line = 1;

    /// <summary>The line that is being read, from 1.</summary>
    public int Line => line;

    /// <summary>Whether nothing is left.</summary>
    public bool AtEnd => at >= bytes.Length;

    /// <summary>Whether a word between two points stands here (<c>.T.</c>) and not a number that begins with its point.</summary>
    public bool AtWord => at + 1 < bytes.Length && bytes[at] == '.' && !char.IsAsciiDigit((char)bytes[at + 1]);

    /// <summary>Passes over one character.</summary>
    public void Skip() => at++;

    /// <summary>A number.</summary>
    public double Number()
    {
        var start = at;
        while (at < bytes.Length && (char.IsAsciiDigit((char)bytes[at]) || bytes[at] is (byte)'+' or (byte)'-' or (byte)'.' or (byte)'E' or (byte)'e'))
        {
            at++;
        }

        return ByteScanner.ToNumber(bytes.AsSpan(start, at - start), line);
    }

    /// <summary>A whole number, as behind <c>#</c>.</summary>
    public int Whole()
    {
        long value = 0;
        var start = at;
        while (at < bytes.Length && char.IsAsciiDigit((char)bytes[at]) && value < int.MaxValue)
        {
            value = (value * 10) + (bytes[at++] - '0');
        }

        return at > start && value <= int.MaxValue ? (int)value : throw ModelFault.Damaged("a number of an entity is missing or too large", line);
    }

    /// <summary>A name in capital letters, after blanks.</summary>
    public string Name()
    {
        SkipBlank();
        var start = at;
        while (at < bytes.Length && (char.IsAsciiLetterOrDigit((char)bytes[at]) || bytes[at] is (byte)'_' or (byte)'-' or (byte)'!') && at - start < 200)
        {
            at++;
        }

        return at > start ? Encoding.ASCII.GetString(bytes, start, at - start).ToUpperInvariant() : throw ModelFault.Damaged($"{Here()} where a name must stand", line);
    }

    /// <summary>Whether the word stands here; then it is read.</summary>
    public bool TryWord(string word)
    {
        if (at + word.Length > bytes.Length || !Encoding.ASCII.GetString(bytes, at, word.Length).Equals(word, StringComparison.OrdinalIgnoreCase))
        {
            return false;
        }

        at += word.Length;
        return true;
    }

    /// <summary>Skips a binary value: nothing of a shape is in it.</summary>
    public string Binary()
    {
        var end = Array.IndexOf(bytes, (byte)'"', at + 1);
        if (end < 0)
        {
            throw ModelFault.Damaged("a quote is never closed", line);
        }

        at = end + 1;
        return "";
    }

    /// <summary>A text in quotes. Two quotes are one; <c>\X2\00E4\X0\</c> and its like are letters.</summary>
    public string Text()
    {
        var (first, raw) = (line, new List<byte>());
        for (at++; at < bytes.Length; at++)
        {
            var c = bytes[at];
            if (c == '\'')
            {
                if (at + 1 < bytes.Length && bytes[at + 1] == '\'')
                {
                    at++;
                }
                else
                {
                    at++;
                    return StepLetters.Decode(Encoding.UTF8.GetString([.. raw]));
                }
            }

            if (c == '\n')
            {
                line++;
            }

            // Long texts are broken over lines.
            if (c is not ((byte)'\n' or (byte)'\r') && raw.Count < LongestText)
            {
                raw.Add(c);
            }
        }

        throw ModelFault.Damaged("a text is never closed", first);
    }

    /// <summary>Reads one character that must stand here, after blanks.</summary>
    public void Want(char wanted)
    {
        SkipBlank();
        if (Peek() != wanted)
        {
            throw ModelFault.Damaged($"{Here()} where '{wanted}' must stand", line);
        }

        at++;
    }

    /// <summary>The next character, which is not read; zero at the end of the file.</summary>
    public char Peek() => at < bytes.Length ? (char)bytes[at] : '\0';

    private string Here() => at >= bytes.Length ? "the file is cut off" : $"'{ModelLimits.CleanName(((char)bytes[at]).ToString(CultureInfo.InvariantCulture))}' stands";

    /// <summary>Skips blanks, ends of lines and comments.</summary>
    public void SkipBlank()
    {
        while (at < bytes.Length)
        {
            var c = bytes[at];
            if (c == '/' && at + 1 < bytes.Length && bytes[at + 1] == '*')
            {
                var end = bytes.AsSpan(at + 2).IndexOf("*/"u8);
                if (end < 0)
                {
                    throw ModelFault.Damaged("a comment is never closed", line);
                }

                line += bytes.AsSpan(at, end + 4).Count((byte)'\n');
                at += end + 4;
            }
            else if (c <= ' ')
            {
                line += c == '\n' ? 1 : 0;
                at++;
            }
            else
            {
                return;
            }
        }
    }
}
